// SPDX-License-Identifier: MIT
// What the quadrature works on: patches, blur, receiver and shadow of a scene, and whether it may be used at all.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "quadrature/outline.h"
#include "quadrature/samples.h"

namespace dishwright {

/// Why a scene cannot be done by quadrature, for users: what stands in the way, and what to do.
struct Refusal {
  std::string why, fix;
};

inline constexpr const char* use_rays = "use --method rays (or auto)";

/// A scene made ready. It must outlive the images made from it.
struct Setting {
  Vector3 sun;  ///< toward its centre
  std::vector<MirrorPatch> patches;
  std::vector<Outline> outlines;  ///< by reflector
  std::vector<Blur> blurs;        ///< by reflector
  Receiver receiver;
  Shadow shadow;
  std::vector<SampleCounts> counts;          ///< by patch: what counts_for() asks for
  std::vector<Shadow::Places> places;        ///< by patch, where the target may throw a shadow
  std::vector<std::vector<double>> changes;  ///< by patch: Shadow::changes()
};

/// The setting, where quadrature gives the same figures as tracing; else the reason why not. It needs: one target
/// that no mirror reaches through; a sun or a mirror that blurs; every mirror lit from its bright side only, none in the way of
/// another; and no light worth counting (share 1e-4) that could meet a mirror twice or run along the target's plane.
std::variant<Setting, Refusal> make_setting(const Scene& scene);

}  // namespace dishwright
