// SPDX-License-Identifier: MIT
// Places on the mirrors, each standing for a patch of lit mirror.
#pragma once

#include <vector>

#include "quadrature/image.h"
#include "quadrature/shadow.h"

namespace dishwright {

/// Points along u and v of one patch.
struct SampleCounts {
  double along_u = 4, along_v = 16;
  bool strips = false;  ///< along v the light is all alike: one sample to a stretch
  double total() const { return along_u * along_v; }
};

/// Points that a patch needs so that neighbouring images on the target lie no further apart than about their rms width. Mirrors
/// that send all light to one place need 4 × 16.
SampleCounts counts_for(const MirrorPatch& patch, const Blur& blur, const Receiver& receiver, const Vector3& sun);

struct MirrorSample {
  int reflector = 0;
  MirrorPoint place;
  double power = 0;                 ///< of the sun's light that meets the mirror here [W]
  Vector3 strip = Vector3::Zero();  ///< of a strip of mirror about the place: from its one end to the other [m]
};

/// Does each place of a patch throw the same image, moved along the target's y, as its neighbours along v, so that a strip of it
/// can stand for them all? So of a trough that lies along a rectangle, as long as the shadow's edges do so too.
bool falls_in_strips(const MirrorPatch& patch, const Blur& blur, const Receiver& receiver, const Shadow& shadow,
                     const std::vector<double>& changes, const Vector3& sun);

/// Points of one stretch at an order, where order 1 wants `wanted`: order 0 takes 0.7 of that, each further one 1.4 times as many
/// as the one before it, and always at least one more. So no two orders ever ask the same points.
int points_at(double wanted, int order);

/// The image of a sample with so much of the sun's light, drawn out where it is a strip.
std::optional<Image> image_of(const MirrorSample& sample, const Blur& blur, const Receiver& receiver, const Vector3& sun,
                              double power);

/// Gauss-Legendre along u in each lit stretch; along a closed v evenly spaced where the shadow's shape allows, else
/// Gauss-Legendre between the places where it changes. The shadow's edge so is an edge of the rule, never inside it. A short
/// stretch has a larger share of the points than of the length: what it cannot do without. `changes` is what Shadow::changes()
/// says of the patch.
std::vector<MirrorSample> mirror_samples(const MirrorPatch& patch, const Shadow& shadow, const std::vector<double>& changes,
                                         const Vector3& sun, double beam, const SampleCounts& counts, int order);

}  // namespace dishwright
