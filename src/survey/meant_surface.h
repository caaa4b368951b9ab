// SPDX-License-Identifier: MIT
// Surfaces of any shape that readings can be held against: petals, cones, sampled curves, offset dishes, skins on ribs.
#pragma once

#include <memory>
#include <string>

#include "base/vector.h"
#include "shape/height_surface.h"
#include "shape/plan_outline.h"

namespace dishwright {

/// A surface as it was designed (or as the readings show it to be made), in the frame of its mirror: z along the axis.
struct MeantSurface {
  std::string key;           ///< "petals", "ribs", "cone": what JSON calls it
  std::string word;          ///< "a dish of 12 petals"
  Heights heights;           ///< [m]
  PlanOutline plan;          ///< seen along the axis
  double focal_length = 0;   ///< of light along the axis [m]; 0: no one focus, so the surface is held as it is
  double size = 1;           ///< the focal length, or 1/(mean second derivative · 2) where there is none [m]
  int pieces = 0;            ///< petals, or bays between ribs, round the axis; 0: none
  bool ribs = false;         ///< the pieces are bays of a skin on ribs
  double first_piece = 0;    ///< middle line of a petal, or a rib: azimuth from +x [rad]
  bool found = false;        ///< the readings show it; no project file says it
  bool in_rim_plane = true;  ///< false: the rim leans against the axis (an offset dish); rim_at and rim_turn say how
  /// The plane that the straightedge lies in: p = rim_at + rim_turn · (x, y, −depth). Only of an offset dish: elsewhere the plane
  /// is square to the axis, and at what height is found by the fit.
  Vector3 rim_at = Vector3::Zero();
  Matrix3 rim_turn = Matrix3::Identity();

  /// May it be deeper or shallower than it was meant to be (all heights by one factor)? Where it has a focus.
  bool scales() const { return focal_length > 0; }
  /// A place that a reading names (x, y in the plane of the straightedge) is this one of the mirror's own frame, and back [m].
  Vector3 from_rim(const Vector3& read) const { return in_rim_plane ? read : Vector3(rim_at + rim_turn * read); }
  Vector3 to_rim(const Vector3& own) const { return in_rim_plane ? own : Vector3(rim_turn.transpose() * (own - rim_at)); }
  /// Of the outline [m].
  Eigen::Vector2d middle() const { return {(plan.low_x() + plan.high_x()) / 2, (plan.low_y() + plan.high_y()) / 2}; }
  /// Heights [m] and slopes at n places; beyond the outline the surface goes on straight.
  void over(int n, const double* x, const double* y, double* h, double* slope_x, double* slope_y) const;
  HeightAt over(double x, double y) const;
};

using Meant = std::shared_ptr<const MeantSurface>;

/// 1/(2 · mean second derivative) of a surface over its plan: the focal length of the bowl that bends as much [m]; the width of
/// the plan where it bends less than a bowl of 200 widths.
double bowl_like(const Heights& heights, const PlanOutline& plan);

}  // namespace dishwright
