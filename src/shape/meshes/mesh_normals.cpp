// SPDX-License-Identifier: MIT
#include "shape/meshes/mesh_normals.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace dishwright {

namespace {

using Corner = std::uint32_t;
using Triangles = std::vector<std::array<Corner, 3>>;

/// Of the faces round each corner, by their angles there.
std::vector<Vector3> mean_normals(const std::vector<Vector3>& v, const Triangles& triangles) {
  std::vector<Vector3> normals(v.size(), Vector3::Zero());
  for (const auto& t : triangles) {
    const Vector3 normal = (v[t[1]] - v[t[0]]).cross(v[t[2]] - v[t[0]]).normalized();
    for (std::size_t k = 0; k < 3; ++k) {
      const Vector3 one = v[t[(k + 1) % 3]] - v[t[k]], other = v[t[(k + 2) % 3]] - v[t[k]];
      normals[t[k]] += std::atan2(one.cross(other).norm(), one.dot(other)) * normal;
    }
  }
  for (Vector3& normal : normals) {
    const double length = normal.norm();
    normal = length > 1e-9 ? Vector3(normal / length) : Vector3(Vector3::UnitZ());
  }
  return normals;
}

/// The corners at the other ends of each corner's edges, in rising order.
class Ring {
 public:
  Ring(std::size_t corners, const Triangles& triangles) : begin_(corners + 1, 0), open_(corners, false) {
    std::vector<std::pair<Corner, Corner>> ends;
    ends.reserve(6 * triangles.size());
    for (const auto& t : triangles) {
      for (std::size_t k = 0; k < 3; ++k) ends.emplace_back(t[k], t[(k + 1) % 3]), ends.emplace_back(t[(k + 1) % 3], t[k]);
    }
    std::sort(ends.begin(), ends.end());
    // An edge that one triangle only has stands there once.
    for (std::size_t i = 0; i < ends.size();) {
      const bool twice = i + 1 < ends.size() && ends[i + 1] == ends[i];
      if (!twice) open_[ends[i].first] = true;
      ++begin_[ends[i].first + 1];
      corners_.push_back(ends[i].second);
      i += twice ? 2 : 1;
    }
    for (std::size_t k = 1; k < begin_.size(); ++k) begin_[k] += begin_[k - 1];
  }
  const Corner* begin(Corner corner) const { return corners_.data() + begin_[corner]; }
  const Corner* end(Corner corner) const { return corners_.data() + begin_[corner + 1]; }
  /// At an edge of the sheet.
  bool open(Corner corner) const { return open_[corner]; }

 private:
  std::vector<std::size_t> begin_;
  std::vector<Corner> corners_;
  std::vector<bool> open_;
};

/// Has every neighbour one opposite to it, seen along the normal, to 1/50 of its distance? A pattern that is even as seen along
/// another direction leans by as much as the sheet bends, which changes the mean at second order only.
bool is_even(const std::vector<Vector3>& v, const Ring& ring, Corner corner, const Vector3& up) {
  for (const Corner* one = ring.begin(corner); one != ring.end(corner); ++one) {
    const Vector3 across = 2 * v[corner] - v[*one];
    const double near2 = 4e-4 * (v[*one] - v[corner]).squaredNorm();
    const auto opposite = [&](Corner other) {
      const Vector3 off = v[other] - across;
      const double bend2 = std::pow(off.dot(up), 2), lean2 = off.squaredNorm() - bend2;
      return bend2 <= 400 * near2 && lean2 <= std::max(near2, 0.36 * bend2);
    };
    if (std::none_of(ring.begin(corner), ring.end(corner), opposite)) return false;
  }
  return true;
}

/// Neighbours and their neighbours.
void two_rings(const Ring& ring, Corner corner, std::vector<Corner>& out) {
  out.assign(ring.begin(corner), ring.end(corner));
  const std::size_t first = out.size();
  for (std::size_t k = 0; k < first; ++k) out.insert(out.end(), ring.begin(out[k]), ring.end(out[k]));
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  out.erase(std::remove(out.begin(), out.end(), corner), out.end());
}

/// Normal of h = a x + b y + c x² + d xy + e y² over the plane across `up`, fitted to places about a corner, near ones more;
/// empty where it does not fit.
std::optional<Vector3> fitted_normal(const std::vector<Vector3>& v, Corner corner, const Vector3& up,
                                     const std::vector<Corner>& near) {
  using Five = Eigen::Matrix<double, 5, 1>;
  constexpr double most_left = 0.1;  // of the curving
  if (near.size() < 5) return std::nullopt;
  const Vector3 across = up.unitOrthogonal(), along = up.cross(across);
  double size = 0;
  for (const Corner k : near) size = std::max(size, (v[k] - v[corner]).norm());
  const auto terms = [&](Corner k, double& height) {
    const Vector3 p = (v[k] - v[corner]) / size;
    const double x = p.dot(across), y = p.dot(along);
    height = p.dot(up);
    return Five(x, y, x * x, x * y, y * y);
  };
  Eigen::Matrix<double, 5, 5> normal_matrix = Eigen::Matrix<double, 5, 5>::Zero();
  Five right = Five::Zero();
  double height = 0;
  for (const Corner k : near) {
    const Five row = terms(k, height);
    const double weight = 1 / row.head<2>().squaredNorm();
    normal_matrix += weight * row * row.transpose();
    right += weight * height * row;
  }
  // Where the places do not tell a curvature, it is 0: two rows of corners say nothing of how the sheet bends from one to the
  // other.
  const double count = static_cast<double>(near.size());
  normal_matrix.diagonal() += count * Five(1e-12, 1e-12, 1e-10, 1e-10, 1e-10);
  const Five fit = normal_matrix.ldlt().solve(right);
  double left = 0, curving = 0;
  for (const Corner k : near) {
    const Five row = terms(k, height);
    left += std::pow(height - row.dot(fit), 2);
    curving += std::pow(row.tail<3>().dot(fit.tail<3>()), 2);
  }
  if (!(left <= most_left * most_left * curving)) return std::nullopt;
  return Vector3((up - fit[0] * across - fit[1] * along).normalized());
}

}  // namespace

std::vector<Vector3> corner_normals(const std::vector<Vector3>& places, const Triangles& triangles) {
  std::vector<Vector3> normals = mean_normals(places, triangles);
  const std::vector<Vector3> mean = normals;
  const Ring ring(places.size(), triangles);
  constexpr double steepest = 0.7;  // cosine; a fit over a plane needs faces that do not stand on it
  std::vector<Corner> near;
  for (Corner corner = 0; corner < places.size(); ++corner) {
    if (!ring.open(corner) && is_even(places, ring, corner, mean[corner])) continue;
    two_rings(ring, corner, near);
    if (std::any_of(near.begin(), near.end(), [&](Corner k) { return mean[k].dot(mean[corner]) < steepest; })) continue;
    // The mean leans; over the plane across the first fit the second is better.
    const auto first = fitted_normal(places, corner, mean[corner], near);
    if (first) normals[corner] = fitted_normal(places, corner, *first, near).value_or(*first);
  }
  return normals;
}

}  // namespace dishwright
