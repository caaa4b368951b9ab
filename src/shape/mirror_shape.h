// SPDX-License-Identifier: MIT
// What a shape of mirror brings along. Each is a plain struct in a header of its own; all else in the program is written once for
// every struct with these members, and a struct that lacks one does not compile.
//
// Own frame: vertex at the origin, axis +z; the bright side faces +z unless the shape says otherwise.
//
// Every shape has
//   static constexpr ShapeWords words        its word in a project file, and with its article
//   width or rim_width()                     rim to rim [m]
//   values()                                 std::tie of all its fields, in the order in which the digest of a scene tells them;
//   or, of what
//                                            comes from a file, a list of ShapeValue
//   PlanOutline plan() const                 its outline seen along z
//   HeightRange height_range() const         between which heights it lies
// and one of
//   Quadric<double> quadric() const          its equation, where it is one surface of second degree
//   Heights heights() const                  its height over the plan, goes on smoothly a little beyond the rim
//   static constexpr bool in_flat_pieces     true: tiles or triangles (known to tracer and interference)
// It may have
//   Vector3 focus() const                    where light along z meets (paraxially); std::optional<Vector3> where that depends
//   FocusPair two_foci() const               near and far focus, where it has two
//   Patches patches() const                  where it knows better ones than a polar grid over its plan
//   Patches flawed_patches(Heights) const    the same once flaws bent it
//   static constexpr bool bright_below       true: its bright side faces −z
//   static constexpr bool may_wave           true: it is finer than its outline tells (quadrature and waves look closer)
//   int rim_corners() const                  kinks of its rim, evenly round from +x
//   RimEdges near_and_far_edge() const       of a rim cut beside the axis: a feed looks between them
//   std::vector<ShapeProblem> problems(const std::string& called) const    what cannot be, though every key by itself is allowed
//   std::string details(const LengthWords&) const                          what its sizes do not say, begins with ", "
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "base/vector.h"
#include "shape/height_surface.h"
#include "shape/mirror_patch.h"
#include "shape/plan_outline.h"
#include "shape/quadric.h"

namespace dishwright {

struct ShapeWords {
  std::string_view word;          ///< "paraboloid"
  std::string_view with_article;  ///< "a paraboloid"
};

using FocusPair = std::pair<Vector3, Vector3>;  ///< near, far [m]
using RimEdges = std::array<Vector3, 2>;        ///< [m]

/// Something about a shape as a whole that cannot be.
struct ShapeProblem {
  std::string key;  ///< the key to point at: "hole_width"
  std::string what, why, fix;
};

/// Sizes that are equal but for rounding pass: a hemisphere of 24 in radius and 48 in width is whole.
inline constexpr double size_rounding = 1 + 1e-9;

/// How a report writes lengths and places.
struct LengthWords {
  std::function<std::string(double)> length;         ///< of metres: "24 in"
  std::function<std::string(double)> rough;          ///< two digits: "about 3.1 in"
  std::function<std::string(const Vector3&)> place;  ///< "x = 0 in, …"
};

/// A number that belongs to what a shape is.
using ShapeValue = std::variant<double, std::uint64_t>;

// ---- The check of a new struct ----

namespace shape_check {

/// Stands for a value of any type, to count the fields of a plain struct.
struct Anything {
  template <class T>
  constexpr operator T() const;  // NOLINT(google-explicit-constructor)
};
template <class Shape, class... Fields>
constexpr std::size_t field_count() {
  if constexpr (requires { Shape{Fields{}..., Anything{}}; }) {
    return field_count<Shape, Fields..., Anything>();
  } else {
    return sizeof...(Fields);
  }
}

template <class Shape>
concept HasWords = requires {
  { Shape::words } -> std::convertible_to<ShapeWords>;
};
template <class Shape>
concept HasPlan = requires(const Shape& s) {
  { s.plan() } -> std::same_as<PlanOutline>;
};
template <class Shape>
concept HasRange = requires(const Shape& s) {
  { s.height_range() } -> std::same_as<HeightRange>;
};
template <class Shape>
concept HasQuadric = requires(const Shape& s) {
  { s.quadric() } -> std::same_as<Quadric<double>>;
};
template <class Shape>
concept HasHeights = requires(const Shape& s) {
  { s.heights() } -> std::same_as<Heights>;
};
template <class Shape>
concept InFlatPieces = requires {
  requires Shape::in_flat_pieces;
};
template <class Shape>
concept HasValues = requires(const Shape& s) {
  s.values();
};

template <class Shape>
constexpr bool values_are_whole() {
  if constexpr (HasValues<Shape>) {
    using Values = std::decay_t<decltype(std::declval<const Shape&>().values())>;
    if constexpr (requires { std::tuple_size<Values>::value; }) return std::tuple_size_v<Values> == field_count<Shape>();
  }
  return true;
}

}  // namespace shape_check

/// Compiles only for a shape that has all it needs; the error names what is missing.
template <class Shape>
struct CompleteShape {
  static_assert(shape_check::HasWords<Shape>, "the shape needs:  static constexpr ShapeWords words{\"word\", \"a word\"};");
  static_assert(shape_check::HasPlan<Shape>, "the shape needs:  PlanOutline plan() const;");
  static_assert(shape_check::HasRange<Shape>, "the shape needs:  HeightRange height_range() const;");
  static_assert(shape_check::HasQuadric<Shape> || shape_check::HasHeights<Shape> || shape_check::InFlatPieces<Shape>,
                "the shape needs its surface:  Quadric<double> quadric() const;  or  Heights heights() const;");
  static_assert(shape_check::HasValues<Shape>, "the shape needs:  auto values() const { return std::tie(all its fields); }");
  static_assert(shape_check::values_are_whole<Shape>(),
                "values() of the shape leaves out a field: two dishes would have one digest");
  static constexpr bool value = true;
};

template <class Variant>
struct AllComplete;
template <class... Shapes>
struct AllComplete<std::variant<Shapes...>> : std::bool_constant<(CompleteShape<Shapes>::value && ...)> {};

}  // namespace dishwright
