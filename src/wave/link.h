// SPDX-License-Identifier: MIT
// From one place to another: two facing dishes, free-space loss, a radio link budget.
#pragma once

#include "wave/setup.h"

namespace dishwright {

/// A speaker near the first mirror, a microphone near the second: the wave is reflected once by each. Gain over the speaker heard
/// straight [dB]. The first mirror sums to every place of the second, so the distance may be short.
struct TwoDishLink {
  double gain = 0;        ///< by way of both mirrors, against the straight way [dB]
  double first_gain = 0;  ///< first mirror alone at the microphone's place, straight wave left out [dB]
  Convergence convergence;
};
TwoDishLink two_dish_link(const Scene& scene, const WaveSetup& setup, const Vector3& speaker, int first_reflector,
                          const Vector3& microphone, int second_reflector);

/// Free-space loss (4π d/λ)² [dB] [friis1946, itup525].
double free_space_loss(double distance, double wavelength);
/// Received power [dBm] = transmit power [dBm] + both gains [dBi] − free-space loss − other losses [dB].
struct LinkBudget {
  double transmit_power = 0;                                         ///< [dBm]
  double transmit_gain = 0, receive_gain = 0;                        ///< [dBi]
  double distance = 0, wavelength = 0;                               ///< [m]
  double other_losses = 0;                                           ///< cables, aim, rain [dB]
  double needed_power = 0;                                           ///< receiver's sensitivity [dBm]
  double received_power() const;                                     ///< [dBm]
  double margin() const { return received_power() - needed_power; }  ///< [dB]
};
/// Distance at which the margin is used up [m].
double link_reach(const LinkBudget& budget);

}  // namespace dishwright
