// SPDX-License-Identifier: MIT
// What a scene is: plain data in SI units and radians. Nothing here knows about files or rays.
//
// Frame: right-handed; z toward the sun side along the axis of an unplaced reflector, whose vertex is the origin. Seen from
// the sun (looking along -z) x points right and y up.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/error.h"
#include "base/vector.h"
#include "scene/load.h"
#include "scene/outdoors.h"
#include "scene/waves.h"
#include "shape/arc_trough.h"
#include "shape/catenary.h"
#include "shape/cone.h"
#include "shape/ellipsoid.h"
#include "shape/facets.h"
#include "shape/flat.h"
#include "shape/flaws.h"
#include "shape/hyperboloid.h"
#include "shape/measured.h"
#include "shape/mesh.h"
#include "shape/offset_paraboloid.h"
#include "shape/paraboloid.h"
#include "shape/petals.h"
#include "shape/pressed.h"
#include "shape/profile.h"
#include "shape/sphere_bowl.h"
#include "shape/targets.h"
#include "shape/trough.h"
#include "sky/disc.h"

namespace dishwright {

/// Where a thing stands: p_frame = turn · p_own + at.
struct Pose {
  Vector3 at = Vector3::Zero();        ///< its origin (vertex of a reflector, centre of a target, base centre of a pot) [m]
  Matrix3 turn = Matrix3::Identity();  ///< rotation own → frame
};

/// The sun. `beam` falls on a surface that faces the sun's centre.
struct Sun {
  double beam = 1000;                             ///< direct irradiance [W/m²], 0 < beam <= 1500
  DiscProfile disc = DiscProfile::limb_darkened;  ///< radiance across the disc
  double half_angle = 4.65e-3;                    ///< of the disc [rad]; 0 = a point
  double aureole_share = 0.05;  ///< share of the beam that comes from outside the disc [1], profile aureole only
  double aim_error = 0;  ///< angle from the frame's z to the sun's centre [rad]; with Scene::outdoors as settle_sun() found it
  double aim_direction = 0;  ///< the side the sun leans to: 0 = +x, π/2 = +y [rad]
  /// Unit vector toward the sun's centre.
  Vector3 direction() const;
};

// ---- The lamp. Own frame: centre at the origin; a disk faces -z (toward the mirrors). Everywhere on it the radiance is the
// same. ----
/// Every element sends light outward by the cosine law; seen from afar equally bright from all sides.
struct BallLamp {
  static constexpr std::string_view word = "ball";
  double width = 0;  ///< diameter [m]
  double size() const { return width; }
};
/// Flat, z = 0; its front, which faces -z, sends light by the cosine law, its back none.
struct DiskLamp {
  static constexpr std::string_view word = "disk";
  double width = 0;  ///< diameter [m]
  double size() const { return width; }
};
/// Straight thin filament along y, |y| <= length/2; intensity ∝ sin of the angle to the line.
struct LineLamp {
  static constexpr std::string_view word = "line";
  double length = 0;  ///< [m]
  double size() const { return length; }
};
using LampShape = std::variant<BallLamp, DiskLamp, LineLamp>;

/// A lamp without a housing. It sends out light and stands in nobody's way.
struct Lamp {
  LampShape shape;
  Pose pose;
  double power = 0;        ///< all the light it sends out [W, or lm where in_lumens], > 0
  bool in_lumens = false;  ///< light as the eye weighs it: all powers of the scene are luminous fluxes
};

// ---- Reflectors. Own frame: vertex at the origin, axis +z; the mirror side faces +z. One shape a header of shape/: see
// shape/mirror_shape.h. ----
using ReflectorShape = std::variant<Paraboloid, SphereBowl, Trough, ArcTrough, Flat, Cone, OffsetParaboloid, Facets, Petals,
                                    Profile, Catenary, Pressed, Hyperboloid, Ellipsoid, Mesh, Measured>;
static_assert(AllComplete<ReflectorShape>::value);

/// A skin of square wire mesh; radio leaks through it.
struct WireMesh {
  double pitch = 0, wire = 0;  ///< from wire to wire, and their diameter [m], > 0
};

struct Reflector {
  std::string name;
  ReflectorShape shape;
  Pose pose;
  std::string finish;                 ///< row of the materials table, or empty
  double reflectance = 1;             ///< 0 … 1, dirt taken off
  double dirt = 0;                    ///< share of the clean reflectance that is lost to it [1]
  double slope_error = 0;             ///< rms slope of the surface about each tangent axis, Gaussian [rad]
  double specular_spread = 0;         ///< rms of the reflected ray about each axis, Gaussian, not doubled [rad]
  double wave_reflectance = 1;        ///< share of the power of sound or radio that is reflected, 0 … 1
  std::optional<WireMesh> wire_mesh;  ///< radio only
  Flaws flaws;                        ///< of the shape, own frame; the key table says which shapes can have them
};

// ---- Targets: shape/targets.h. ----
using TargetShape = std::variant<DiskTarget, RectangleTarget, TubeTarget, BallTarget, PotTarget, PointTarget>;

struct Target {
  std::string name;
  TargetShape shape;
  Pose pose;
  bool shades = true;  ///< blocks light on its way in
};

/// How the light is computed: many random paths; a sum of smooth images, where that applies; or the second where it applies, else
/// the first.
enum class Method { rays, quadrature, automatic };

/// How to trace.
struct TracePlan {
  Method method = Method::rays;
  std::uint64_t paths = 1'000'000;
  std::optional<double> accuracy;  ///< wanted standard error of the first target's intercept [1]; paths are chosen for it
  std::uint64_t seed = 1;
};

struct Scene {
  std::string title;
  Sun sun;
  std::optional<Outdoors> outdoors;  ///< place and time, from which the sun's direction was found; only with a sun
  std::optional<Lamp> lamp;          ///< shines instead of the sun
  std::optional<Sound> sound;        ///< is asked for instead of light
  std::optional<Radio> radio;        ///< is asked for instead of light
  std::vector<Reflector> reflectors;
  std::vector<Target> targets;
  std::optional<Load> load;  ///< what a target heats; only with a sun
  TracePlan trace;
  std::vector<std::string>
      oddities;  ///< what can be but is surely not meant (scene/check_light.h, check_waves.h), told before anything else
  std::vector<std::string> notes;  ///< defaults that were taken and other remarks, echoed in every output
  std::vector<Problem>
      places;  ///< where keys stand that later work may refuse (`what`: the key with its value); not part of what the scene is
  /// Answered by the wave integral, not by rays.
  bool is_wave() const { return sound.has_value() || radio.has_value(); }
};

/// The error with the places of the keys that it names, as far as the scene knows them.
InputError placed(const Scene& scene, const InputError& error);
/// Does the work; an InputError of it gets its places.
template <class Work>
auto with_places(const Scene& scene, const Work& work) {
  try {
    return work();
  } catch (const InputError& error) {
    throw placed(scene, error);
  }
}

// ---- Small facts of shapes ----
/// Where light along z meets, paraxially, in the reflector's own frame: (0, 0, f); R/2 for sphere and arc trough, a/2 for a
/// catenary; of a measured mirror by the best fit; empty for those that have none (flat, cone, facets on a flat frame, profile,
/// mesh) and those that have two.
std::optional<Vector3> own_focus(const ReflectorShape& shape);
/// The two foci of a hyperboloid or ellipsoid in its own frame: near, far; empty for other shapes.
std::optional<FocusPair> own_two_foci(const ReflectorShape& shape);
/// Rim to rim [m]: diameter of a round mirror, width of a trough or rectangle, the larger side of a mesh's box across z.
double rim_width(const ReflectorShape& shape);
/// Width of the hole [m]; 0 where there is none.
double hole_width(const ReflectorShape& shape);
/// Tiles or triangles: many flat surfaces instead of one that bends.
bool in_flat_pieces(const ReflectorShape& shape);
/// The word a project file uses: "paraboloid", "arc trough", …
std::string shape_word(const ReflectorShape& shape);
/// The same with its article: "a paraboloid", "a dish of petals".
std::string shape_with_article(const ReflectorShape& shape);
std::string shape_word(const TargetShape& shape);
std::string shape_word(const LampShape& shape);
/// Width of a ball or disk, length of a line [m].
double lamp_size(const LampShape& shape);
/// Unit of the scene's powers, "W" or "lm", and of power per area, "W/m2" or "lm/m2" (lux).
std::string power_unit(const Scene& scene);
std::string irradiance_unit(const Scene& scene);
/// The faces of a target.
TargetBody body_of(const TargetShape& shape);
/// Width of a target, along x [m]; 0 of a point.
double target_width(const TargetShape& shape);
/// Area that counts for mean_irradiance [m²]: front of a disk or rectangle, all round a tube or ball, base and side of a pot.
double counted_area(const TargetShape& shape);
/// A disk or rectangle: one flat face with a front.
bool is_plate(const TargetShape& shape);
/// Are spot sizes measured on its plane? A disk, a rectangle; a pot, on the plane of its base.
bool has_spot_plane(const TargetShape& shape);
/// A place without a body.
bool is_point(const TargetShape& shape);
/// Does a trough's light run along it, so that spread across it counts alone? A rectangle or a tube.
bool is_band(const TargetShape& shape);
/// Rotation about the fixed x, then y, then z axes; angles [rad].
Matrix3 rotation(double about_x, double about_y, double about_z);

}  // namespace dishwright
