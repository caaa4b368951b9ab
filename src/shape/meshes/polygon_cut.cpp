// SPDX-License-Identifier: MIT
#include "shape/meshes/polygon_cut.h"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace dishwright {

namespace {

using Vector2 = Eigen::Vector2d;

constexpr double flat = 1e-12;                   // twice an area over the square of the face's size: nothing
constexpr std::size_t most_looks = 500'000'000;  // over the whole file; a few seconds

/// Twice the area of a triangle, positive where it runs counter-clockwise.
double turn(const Vector2& a, const Vector2& b, const Vector2& c) {
  return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
}

class FaceCutter {
 public:
  FaceCutter(const std::vector<Vector3>& corners, std::vector<std::array<std::uint32_t, 3>>& out) : places_(corners), out_(out) {}

  /// Cuts one face; `words` names it in messages, `line` is where it stands or 0.
  void cut(const std::uint32_t* first, std::size_t count, int line, const std::string& words) {
    if (count == 3) return add(first[0], first[1], first[2]);
    face_.clear();
    for (std::size_t i = 0; i < count; ++i) {
      if (i == 0 || !same(first[i], face_.back())) face_.push_back(first[i]);
    }
    while (face_.size() > 1 && same(face_.front(), face_.back())) face_.pop_back();
    // What was written twice stays to be counted, as triangles without area.
    for (std::size_t k = std::max<std::size_t>(face_.size(), 2); k < count; ++k) add(face_[0], face_[0], face_.back());
    if (face_.size() < 3) return;
    if (face_.size() == 3) return add(face_[0], face_[1], face_[2]);
    if (!lay_flat()) {
      if (!on_a_line()) crosses(line, words);
      fan();
    } else if (!cut_four() && !cut_convex()) {
      if (crossed()) crosses(line, words);
      cut_ears(line, words);
    }
    check_work(line);
  }

 private:
  [[noreturn]] static void crosses(int line, const std::string& words) {
    throw BrokenFile(line, words + " crosses itself", "its corners run round one area, each side meeting only the two beside it",
                     "mend the face, or export the surface as triangles");
  }
  void check_work(int line) const {
    if (looks_ <= most_looks) return;
    throw BrokenFile(line, "there are too many faces with very many corners up to here", "cutting them would take too long",
                     "export the surface as triangles");
  }
  bool same(std::uint32_t a, std::uint32_t b) const { return a == b || places_[a] == places_[b]; }
  void add(std::uint32_t a, std::uint32_t b, std::uint32_t c) { out_.push_back({a, b, c}); }
  void fan() {
    for (std::size_t k = 2; k < face_.size(); ++k) add(face_[0], face_[k - 1], face_[k]);
  }

  /// The corners seen along the area vector (Newell's sum), scaled to a size of one. False where that vector is nothing.
  bool lay_flat() {
    const Vector3 origin = places_[face_[0]];
    Vector3 normal = Vector3::Zero();
    double size = 0;
    for (std::size_t k = 0; k < face_.size(); ++k) {
      const Vector3 a = places_[face_[k]] - origin, b = places_[face_[(k + 1) % face_.size()]] - origin;
      normal += a.cross(b);
      size = std::max(size, a.cwiseAbs().maxCoeff());
    }
    if (!(normal.norm() > 1e-9 * size * size)) return false;
    normal.normalize();
    const Vector3 across = normal.unitOrthogonal(), up = normal.cross(across);
    flat_.clear();
    for (const std::uint32_t corner : face_) {
      const Vector3 a = (places_[corner] - origin) / size;
      flat_.emplace_back(a.dot(across), a.dot(up));
    }
    return true;
  }

  bool on_a_line() const {
    const Vector3 origin = places_[face_[0]];
    const auto far = std::max_element(face_.begin(), face_.end(), [&](std::uint32_t a, std::uint32_t b) {
      return (places_[a] - origin).squaredNorm() < (places_[b] - origin).squaredNorm();
    });
    const Vector3 along = places_[*far] - origin;
    return std::all_of(face_.begin(), face_.end(), [&](std::uint32_t corner) {
      return (places_[corner] - origin).cross(along).norm() <= 1e-9 * along.squaredNorm();
    });
  }

  bool cut_four() {
    if (face_.size() != 4) return false;
    if (turn(flat_[0], flat_[1], flat_[2]) > flat && turn(flat_[0], flat_[2], flat_[3]) > flat) {
      fan();
      return true;
    }
    if (!(turn(flat_[0], flat_[1], flat_[3]) > flat && turn(flat_[1], flat_[2], flat_[3]) > flat)) return false;
    add(face_[0], face_[1], face_[3]);
    add(face_[1], face_[2], face_[3]);
    return true;
  }

  bool cut_convex() {
    const std::size_t n = face_.size();
    for (std::size_t k = 0; k < n; ++k) {
      if (!(turn(flat_[k], flat_[(k + 1) % n], flat_[(k + 2) % n]) > flat)) return false;
      if (k >= 2 && !(turn(flat_[0], flat_[k - 1], flat_[k]) > flat)) return false;
    }
    fan();
    return true;
  }

  /// True where two sides that are no neighbours cross.
  bool crossed() {
    const std::size_t n = face_.size();
    looks_ += n * n / 2;
    for (std::size_t i = 0; i < n; ++i) {
      const Vector2 &a = flat_[i], &b = flat_[(i + 1) % n];
      for (std::size_t j = i + 2; j < n; ++j) {
        if (i == 0 && j == n - 1) continue;
        const Vector2 &c = flat_[j], &d = flat_[(j + 1) % n];
        if (turn(a, b, c) * turn(a, b, d) < -flat * flat && turn(c, d, a) * turn(c, d, b) < -flat * flat) return true;
      }
    }
    return false;
  }

  bool holds_other_corner(std::size_t a, std::size_t b, std::size_t c) {
    looks_ += left_.size();
    const Vector2 &p = flat_[a], &q = flat_[b], &r = flat_[c];
    return std::any_of(left_.begin(), left_.end(), [&](std::size_t other) {
      const Vector2& x = flat_[other];
      if (other == a || other == b || other == c || x == p || x == q || x == r) return false;
      return turn(p, q, x) >= 0 && turn(q, r, x) >= 0 && turn(r, p, x) >= 0;
    });
  }

  /// Cuts off corner after corner that has no other corner in its triangle.
  void cut_ears(int line, const std::string& words) {
    left_.resize(face_.size());
    for (std::size_t k = 0; k < left_.size(); ++k) left_[k] = k;
    std::size_t at = 0, tried = 0;
    while (left_.size() > 3) {
      const std::size_t n = left_.size();
      if (tried > 2 * n) crosses(line, words);
      check_work(line);
      const std::size_t a = left_[(at + n - 1) % n], b = left_[at % n], c = left_[(at + 1) % n];
      const double area = turn(flat_[a], flat_[b], flat_[c]);
      // In a second round a corner on a straight side goes, too: its triangle has no area.
      const bool ear = area > flat ? !holds_other_corner(a, b, c) : tried > n && area >= -flat;
      if (!ear) {
        at = (at + 1) % n, ++tried;
        continue;
      }
      add(face_[a], face_[b], face_[c]);
      left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(at % n));
      at = (at + 1) % left_.size(), tried = 0;
    }
    add(face_[left_[0]], face_[left_[1]], face_[left_[2]]);
  }

  const std::vector<Vector3>& places_;
  std::vector<std::array<std::uint32_t, 3>>& out_;
  std::vector<std::uint32_t> face_;
  std::vector<Vector2> flat_;
  std::vector<std::size_t> left_;  // of face_, not cut off yet
  std::size_t looks_ = 0;
};

}  // namespace

LooseTriangles cut_into_triangles(Polygons polygons) {
  LooseTriangles loose;
  loose.triangles.reserve(polygons.faces.size());
  FaceCutter cutter(polygons.corners, loose.triangles);
  const std::uint32_t* at = polygons.indices.data();
  for (const Polygons::Face& face : polygons.faces) {
    const auto place = static_cast<int>(face.place);
    if (face.corners == 3) {
      loose.triangles.push_back({at[0], at[1], at[2]});
    } else {
      cutter.cut(at, face.corners, polygons.lines ? place : 0, polygons.lines ? "a face" : fmt::format("face {}", place));
    }
    at += face.corners;
  }
  loose.vertices = std::move(polygons.corners);
  return loose;
}

}  // namespace dishwright
