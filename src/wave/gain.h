// SPDX-License-Identifier: MIT
// What arrives at a place: gain at a target's centre, maps, gain against frequency, best place.
#pragma once

#include <vector>

#include "wave/setup.h"

namespace dishwright {

/// The field at places, and the incident wave alone.
struct WaveField {
  std::vector<Complex> reflected;  ///< by place, sum over the mirrors
  std::vector<Complex> direct;     ///< by place, the wave that comes straight from the source
  Convergence convergence;
};
/// Field at any places [m], not on a mirror. Checked: K = 2kf ln(1 + d/f) at a paraboloid's focus, exact focal field of deep
/// dishes.
WaveField wave_field(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const std::vector<Vector3>& places);

/// 20 log10 of reflected and of reflected + direct, over the direct wave alone [dB]. −infinity where nothing arrives: print
/// "none".
struct WaveGain {
  double reflected_gain = 0;  ///< [dB]
  double gain = 0;            ///< with the direct wave [dB]
};
WaveGain wave_gain(Complex reflected, Complex direct);

/// Places of a map: a grid in a plane, row by row from −half_height up, in a row from −half_width; cell middles. Frame
/// coordinates.
struct MapPlane {
  Vector3 middle = Vector3::Zero();        ///< [m]
  Vector3 across = Vector3::UnitX();       ///< unit
  Vector3 up = Vector3::UnitY();           ///< unit
  double half_width = 0, half_height = 0;  ///< [m]
  int columns = 200, rows = 200;
  std::vector<Vector3> places() const;  ///< InputError above 4 million
};
/// `count` places from middle − half·along to middle + half·along, ends included.
std::vector<Vector3> line_places(const Vector3& middle, const Vector3& along, double half, int count);

/// Gain at one place for each of `frequencies` [Hz]; setup.frequency is not used.
struct GainCurve {
  std::vector<WaveGain> gains;
  Convergence convergence;  ///< the worst of all
  /// Highest pitch below which the reflected gain stays under 0 dB, between two frequencies, linear in log f [Hz].
  std::optional<double> stops_helping;
};
GainCurve gain_curve(const Scene& scene, WaveSetup setup, const WaveSource& source, const Vector3& place,
                     const std::vector<double>& frequencies);
/// `count` frequencies from..to, equal steps of log f [Hz].
std::vector<double> frequency_steps(double from, double to, int count);

/// A cube in which a place is sought.
struct SearchBox {
  Vector3 middle = Vector3::Zero();    ///< [m]
  Matrix3 axes = Matrix3::Identity();  ///< its own x, y and z as columns, unit
  double half = 0;                     ///< half of its side [m], > 0
  double step = 0, step_along = 0;  ///< of the first grid, across (x and y) and along z [m]; 0: a sixth and a twelfth of a wave
};
/// Place of the largest |reflected| (or |reflected + direct|, over |direct|) in a box: a grid, then ever finer ones about its
/// highest places. Straight and reflected wave run against each other, so they make fringes of λ/2 along z: the grid counts them.
struct BestReceiverPlace {
  Vector3 place = Vector3::Zero();
  WaveGain gain;
  bool at_edge = false;  ///< the best lies on the box's face: a wider box may hold a better one
};
BestReceiverPlace best_receiver_place(const Scene& scene, const WaveSetup& setup, const WaveSource& source, const SearchBox& box,
                                      bool with_direct);

}  // namespace dishwright
