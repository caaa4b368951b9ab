// SPDX-License-Identifier: MIT
// How bright a fan of light is on a plane: tubes laid on a grid of bins, then spread by their blur.
#pragma once

#include <optional>
#include <vector>

#include "scene/scene.h"
#include "study/light_fan.h"

namespace dishwright {

/// A plane with axes of its own: east, and north = normal × east. Light crosses it along its normal, or against it where `both`.
struct FanPlane {
  Vector3 origin, normal, east;  ///< a place on it [m]; unit vectors
  bool both = false;             ///< light against the normal counts too
  /// Power per area square to each tube, so as brightly as it can shine on a face however turned; else per area of the plane.
  bool any_way = false;
};

/// A wall: light that has passed it (wall.normal · p < wall.level) has ended there.
struct FanWall {
  Vector3 inward;    ///< unit vector, toward the free side
  double level = 0;  ///< of inward · p on the wall [m]
};

/// A rectangle on a plane, along its east and north from its origin [m].
struct PlaneBox {
  double low_x = 0, high_x = 0, low_y = 0, high_y = 0;
};

/// The brightest place of a plane.
struct PlaneLight {
  double irradiance = 0;         ///< [W/m²]; 0: no light comes here
  Vector3 at = Vector3::Zero();  ///< [m]
};

/// Light on a grid over a part of a plane.
class FanGrid {
 public:
  /// Over the whole light of the plane, or over `window` of it. `sun`: spread by the true disc of that sun; else by a Gaussian of
  /// the same rms, which is right away from the sharpest focus. A blur is mean over the light here, stretched where it slants.
  FanGrid(const LightFan& fan, const FanPlane& plane, const std::vector<FanWall>& walls = {},
          const std::optional<PlaneBox>& window = std::nullopt, const Sun* sun = nullptr);
  PlaneLight brightest() const;
  /// The box around all bins that are brighter than a level [W/m²]; empty where none is.
  std::optional<PlaneBox> brighter_than(double level) const;
  /// A window about its brightest place that holds the blur there and all of the bins next to it.
  PlaneBox window_about_brightest() const;

 private:
  struct Tube;
  std::vector<Tube> tubes_of(const LightFan& fan) const;
  void find_box(const std::vector<Tube>& tubes);
  void find_blur(const std::vector<Tube>& tubes);
  void lay(const std::vector<Tube>& tubes, const std::vector<FanWall>& walls);
  void lay_box(float column, float row, float per_x, float per_y, float power);
  void spread(const Sun* sun);
  void spread_disc(const Sun& sun);
  void spread_gauss(double bins_x, double bins_y);

  FanPlane plane_;
  Vector3 north_;
  PlaneBox box_;
  double step_x_ = 0, step_y_ = 0;        // of the bins [m]
  double skin_ = 0, blur_ = 0, way_ = 0;  // mean [m]
  double stretch_ = 1;                    // of the blur along east
  std::vector<float> bins_;               // power [W], then [W/m²]
};

/// The brightest place of a plane, looked at twice: whole, then closer.
PlaneLight brightest_on_plane(const LightFan& fan, const FanPlane& plane, const std::vector<FanWall>& walls, const Sun* sun);
/// A plane through a place, square to `normal`, its east where the mean way of the light slants.
FanPlane plane_across(const LightFan& fan, const Vector3& origin, const Vector3& normal);

}  // namespace dishwright
