// SPDX-License-Identifier: MIT
// A lamp's rays for the reference tracer only: an even place on its surface, then a direction by rejection.
#pragma once

#include <Eigen/Geometry>
#include <random>

#include "reference_tracer.h"

namespace dishwright::reference {

class LampRays {
 public:
  explicit LampRays(const Lamp& lamp) : lamp_(lamp) {}

  Ray ray(std::mt19937_64& random) const {
    std::uniform_real_distribution<double> unit(0, 1);
    Vector3 place = Vector3::Zero(), normal = -Vector3::UnitZ();
    if (const auto* ball = std::get_if<BallLamp>(&lamp_.shape)) {
      normal = any_direction(random);
      place = ball->width / 2 * normal;
    } else if (const auto* disk = std::get_if<DiskLamp>(&lamp_.shape)) {
      do {
        place = disk->width * Vector3(unit(random) - 0.5, unit(random) - 0.5, 0);
      } while (place.norm() > disk->width / 2);
    } else {
      place.y() = std::get<LineLamp>(lamp_.shape).length * (unit(random) - 0.5);
    }
    const bool line = std::holds_alternative<LineLamp>(lamp_.shape);
    for (;;) {
      const Vector3 along = any_direction(random);
      const double law = line ? std::hypot(along.x(), along.z()) : along.dot(normal);
      if (unit(random) < law) return {lamp_.pose.turn * place + lamp_.pose.at, lamp_.pose.turn * along};
    }
  }

 private:
  static Vector3 any_direction(std::mt19937_64& random) {
    std::normal_distribution<double> gauss(0, 1);
    const double x = gauss(random), y = gauss(random), z = gauss(random);
    return Vector3(x, y, z).normalized();
  }
  const Lamp& lamp_;
};

}  // namespace dishwright::reference
