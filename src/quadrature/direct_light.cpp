// SPDX-License-Identifier: MIT
#include "quadrature/direct_light.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "base/quadrature_rule.h"
#include "quadrature/receiver.h"
#include "quadrature/sun_kernel.h"

namespace dishwright {

namespace {

/// Mean over the sun of the cosine at faces; 0 where the ray comes from behind.
class MeanCosine {
 public:
  explicit MeanCosine(const Sun& sun) : rings_(sun_rings(sun, 16)) {
    for (std::size_t k = 0; k < around_.size(); ++k)
      around_[k] = std::cos(2 * std::numbers::pi * (static_cast<double>(k) + 0.5) / static_cast<double>(around_.size()));
  }
  /// `cosine`: of the face's normal with the sun's centre.
  double operator()(double cosine) const {
    const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine));
    if (cosine > rings_.edge * sine) return cosine;
    if (cosine < -rings_.edge * sine) return 0;
    double mean = 0;
    for (std::size_t j = 0; j < rings_.share.size(); ++j) {
      const double share = rings_.share[j] / static_cast<double>(around_.size());
      for (const double side : around_) mean += share * std::max(0.0, cosine + rings_.tangent[j] * side * sine);
    }
    return mean;
  }

 private:
  SunRings rings_;
  std::array<double, 32> around_{};
};

/// Sunlight on one face, less what mirrors keep off, with n × n places, along a cylinder a quarter.
double face_power(const Scene& scene, const std::vector<Outline>& outlines, const MappedFace& face, const MeanCosine& mean_cosine,
                  int n) {
  const Pose& pose = scene.targets[0].pose;
  const MapFace& map = face.layout;
  const Vector3 sun = scene.sun.direction(), own_sun = pose.turn.transpose() * sun;
  const double flat_mean = face.flat ? mean_cosine(-own_sun.z()) : 0;
  if (face.flat && flat_mean <= 0) return 0;
  const auto free = [&](const Vector3& own) {
    const Vector3 place = pose.turn * own + pose.at;
    for (std::size_t k = 0; k < outlines.size(); ++k) {
      const Pose& mirror = scene.reflectors[k].pose;
      const Matrix3 back = mirror.turn.transpose();
      if (outlines[k].blocks(back * (place - mirror.at), back * sun)) return false;
    }
    return true;
  };
  const int rows = face.flat || face.shape.form == FaceShape::Form::ball ? n : n / 4;
  double sum = 0, cosine = 2, mean = flat_mean;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < rows; ++j) {
      double x = map.x_from + (map.x_to - map.x_from) * (i + 0.5) / n,
             y = map.y_from + (map.y_to - map.y_from) * (j + 0.5) / rows;
      if (map.round) {
        const double radius = map.x_to * std::sqrt((i + 0.5) / n), angle = 2 * std::numbers::pi * (j + 0.5) / n;
        x = radius * std::cos(angle), y = radius * std::sin(angle);
      }
      const Vector3 own = face.flat ? Vector3(x, y, 0) : face.shape.place(x, y);
      const double here = face.flat ? cosine : face.shape.normal(own).dot(own_sun);
      if (here != cosine) cosine = here, mean = mean_cosine(cosine);  // the same all along a cylinder
      if (mean > 0 && free(own)) sum += mean;
    }
  }
  const double area = (map.round ? std::numbers::pi / 4 : 1) * (map.x_to - map.x_from) * (map.y_to - map.y_from);
  return scene.sun.beam * area * sum / (n * rows);
}

}  // namespace

Estimate direct_light(const Scene& scene, const std::vector<Outline>& outlines) {
  const MeanCosine mean_cosine(scene.sun);
  double fine = 0, coarse = 0;
  for (const MappedFace& face : Receiver(scene.targets[0]).faces(0)) {
    fine += face_power(scene, outlines, face, mean_cosine, 64), coarse += face_power(scene, outlines, face, mean_cosine, 45);
  }
  if (fine == 0) return {0, std::nullopt, "W"};
  return {fine, std::abs(fine - coarse), "W"};
}

}  // namespace dishwright
