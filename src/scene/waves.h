// SPDX-License-Identifier: MIT
// What reaches or leaves the mirrors instead of light: sound, or radio waves of a feed.
#pragma once

#include <optional>
#include <vector>

#include "base/vector.h"

namespace dishwright {

/// Speed of light in vacuum [m/s], exact (SI); radio waves.
inline constexpr double light_speed = 299'792'458;

/// Unit vector toward a far source: `angle` from the frame's z, leaning to `side` (0 = +x, π/2 = +y) [rad].
Vector3 far_direction(double angle, double side);

/// The air that sound goes through.
struct Air {
  double temperature = 293.15;  ///< [K]
  double humidity = 0.5;        ///< relative, 0 … 1
  double pressure = 101'325;    ///< [Pa]
};

/// How somebody speaks.
enum class Voice { normal, raised, loud, shout };

/// Sound. Its figures are levels at the targets' centres against the same wave without a mirror.
struct Sound {
  enum class From {
    far,    ///< a plane wave, from the side that aim_error names
    place,  ///< a point that sends to all sides alike
    target  ///< such a point at the first target's centre: the dish sends (a file's "focus", where the target stands there)
  };
  std::vector<double> frequencies;          ///< [Hz], > 0, one or more
  bool listed = false;                      ///< written as a list: figures come as lists, too
  std::optional<double> speed;              ///< [m/s], > 0; empty: follows from the air's temperature
  Air air;                                  ///< of [air], or its standard values
  From from = From::far;                    ///< where it comes from
  Vector3 place = Vector3::Zero();          ///< of the point [m]
  double aim_error = 0, aim_direction = 0;  ///< of the far side, as for the sun [rad]
  std::optional<Voice> voice;               ///< whose level over distance is asked for
  std::optional<double> facing;             ///< from the vertex to that of an equal dish that faces this one [m], > 0
};

/// Another station that a radio dish hears. Powers in decibels over a milliwatt [dBm].
struct Link {
  double transmit_power = 0, transmit_gain = 0;  ///< [dBm], [dBi]
  double distance = 0;                           ///< [m], > 0
  double losses = 0;                             ///< cables, aim, rain [dB], >= 0
  double needed = 0;                             ///< what the receiver needs [dBm]
};

/// Radio waves. The feed sits at each target's centre and looks at the mirror. Receiving is the same as sending.
struct Radio {
  std::vector<double> frequencies;          ///< [Hz], > 0, one or more
  bool listed = false;                      ///< written as a list: figures come as lists, too
  std::optional<double> feed_power;         ///< n of a feed whose power falls off as cosⁿ, >= 0; empty: follows from edge_taper
  double edge_taper = -10;                  ///< the feed's own level at the rim against its axis [dB], <= 0
  double aim_error = 0, aim_direction = 0;  ///< of the far side, as for the sun [rad]
  std::optional<Link> link;                 ///< who sends, and what the receiver needs
};

}  // namespace dishwright
