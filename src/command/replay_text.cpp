// SPDX-License-Identifier: MIT
#include "command/replay_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "report/numbers/scene_words.h"
#include "report/numbers/text_layout.h"

namespace dishwright {

namespace {

/// Angle between two directions [rad], exact for small angles too.
double angle_between(const Vector3& a, const Vector3& b) { return std::atan2(a.cross(b).norm(), a.dot(b)); }

std::string degrees(double radians) { return fmt::format("{:.3f} deg", radians * 180 / std::numbers::pi); }

/// A direction as three numbers: its parts along x, y, z.
std::string direction_words(const Vector3& d) {
  const auto part = [](double x) { return fmt::format("{:.4f}", std::abs(x) < 5e-5 ? 0.0 : x); };
  return fmt::format("x {}, y {}, z {}", part(d.x()), part(d.y()), part(d.z()));
}

std::string detail(const std::string& label, const std::string& text) {
  return wrapped(text, "     " + flush_left(label + ":", 22), std::string(27, ' '));
}

const Pose* pose_of(const Scene& scene, const std::string& name) {
  for (const Reflector& mirror : scene.reflectors) {
    if (mirror.name == name) return &mirror.pose;
  }
  for (const Target& target : scene.targets) {
    if (target.name == name) return &target.pose;
  }
  return nullptr;
}

class Teller {
 public:
  Teller(const Scene& scene, const PathHistory& story, Units units) : scene_(scene), story_(story), units_(units) {}

  std::string text() {
    out_ = wrapped(fmt::format("Path {} of {} (numbered from 0; seed {}): one of the thin bundles of light that are traced.",
                               story_.path, scene_.trace.paths, story_.seed));
    out_ +=
        wrapped(fmt::format("x points right and y up, seen from the {0}; z points from the mirror's vertex toward {1}. A "
                            "direction is given by its parts "
                            "along x, y and z.",
                            scene_.lamp ? "side that the mirror faces" : "sun", scene_.lamp ? "that side" : "the sun side"));
    const Step* before = nullptr;
    for (const Step& step : story_.steps) {
      tell(step, before);
      before = &step;
    }
    return out_ + ending();
  }

 private:
  void head(const std::string& text) { out_ += "\n" + wrapped(text, flush_right(std::to_string(++count_), 3) + ". ", "     "); }

  /// Place in the frame, and in the thing's own axes where these differ.
  void tell_place(const Step& step) {
    out_ += detail("place", place_words(step.point, units_));
    const Pose* pose = pose_of(scene_, step.surface);
    if (pose == nullptr || (pose->at.isZero(1e-12) && pose->turn.isIdentity(1e-12))) return;
    out_ += detail("in its own axes", place_words(step.own_point, units_));
  }

  void tell_power(const Step& step) {
    out_ += detail("power left", fmt::format("{} ({} of the start)",
                                             number_text({story_.power * step.power_share, std::nullopt, story_.unit}, units_),
                                             percent_text({step.power_share, std::nullopt, "1"})));
  }

  void tell(const Step& step, const Step* before) {
    switch (step.kind) {
      case StepKind::from_sun: return tell_sun(step);
      case StepKind::from_lamp: return tell_lamp(step);
      case StepKind::reflected: return tell_mirror(step, before);
      case StepKind::shaded:
        head("Target " + step.surface + " is in the way: it shades the mirror.");
        return tell_landing(step, before);
      case StepKind::target:
        head("It lands on target " + step.surface + (step.face.empty() ? "." : " (" + step.face + ")."));
        return tell_landing(step, before);
      case StepKind::back: head("It meets the back of " + step.surface + "."); return tell_landing(step, before);
      case StepKind::lid: head("It meets the lid of " + step.surface + "."); return tell_landing(step, before);
      case StepKind::missed:
        head(before != nullptr && before->kind == StepKind::from_lamp ? "It meets no mirror and no target."
                                                                      : "It meets nothing more and leaves.");
        if (!step.direction.isZero()) out_ += detail("travels along", direction_words(step.direction));
        return tell_power(step);
      case StepKind::not_counted: return head("The drawn point is not on a mirror as the sun sees it.");
    }
  }

  void tell_sun(const Step& step) {
    head("It comes from the sun" + (step.surface.empty() ? "." : ", on its way to mirror " + step.surface + "."));
    out_ += detail("heads for", place_words(step.point, units_));
    out_ += detail("travels along", direction_words(step.direction));
    if (!step.direction.isZero()) {
      out_ += detail("off the sun's centre",
                     degrees(angle_between(-step.direction, scene_.sun.direction())) + " (the sun is a disc, not a point)");
    }
    tell_power(step);
  }

  void tell_lamp(const Step& step) {
    head("It leaves the lamp.");
    out_ += detail("place", place_words(step.point, units_));
    out_ += detail("travels along", direction_words(step.direction));
    tell_power(step);
  }

  void tell_mirror(const Step& step, const Step* before) {
    head("Mirror " + step.surface + " reflects it.");
    tell_place(step);
    const Vector3 z = Vector3::UnitZ();
    const Vector3 normal = step.tilted_normal.isZero() ? step.normal : step.tilted_normal;
    out_ += detail("surface tilt", degrees(angle_between(step.normal, z)) + " from flat (flat is square to the z axis)");
    if (!step.tilted_normal.isZero() && angle_between(step.tilted_normal, step.normal) > 1e-9) {
      out_ += detail("slope error here", degrees(angle_between(step.tilted_normal, step.normal)) +
                                             ": the real surface leans by this much from the perfect one");
    }
    if (before != nullptr && !before->direction.isZero() && !normal.isZero()) {
      const double in = angle_between(-before->direction, normal), out = angle_between(step.direction, normal);
      out_ += detail("angle in", degrees(in) + " from the normal (the line square to the surface)");
      const bool spread = std::abs(in - out) > 1e-5;
      out_ += detail("angle out", degrees(out) + (spread ? ": not quite the same, because the skin spreads light"
                                                         : ": the same, as in any mirror"));
      out_ += detail("turned by", degrees(angle_between(before->direction, step.direction)));
    }
    out_ += detail("travels along", direction_words(step.direction));
    tell_power(step);
  }

  void tell_landing(const Step& step, const Step* before) {
    tell_place(step);
    if (before != nullptr && !before->direction.isZero() && !step.normal.isZero()) {
      out_ += detail("angle in", degrees(angle_between(-before->direction, step.normal)) + " from the normal");
    }
    if (before != nullptr && before->kind == StepKind::reflected) {
      out_ += detail("distance", length_text((step.point - before->point).norm(), units_) + " from the last mirror point");
    }
    if (before != nullptr && before->kind == StepKind::from_lamp)
      out_ += detail("distance", length_text((step.point - before->point).norm(), units_) + " from the lamp");
    tell_power(step);
  }

  std::string ending() const {
    if (story_.steps.empty()) return "\n" + wrapped("The path has no steps.");
    const Step& last = story_.steps.back();
    const std::string power = number_text({story_.power * last.power_share, std::nullopt, story_.unit}, units_);
    const bool straight = story_.steps.size() == 2 && story_.steps.front().kind == StepKind::from_lamp;
    switch (last.kind) {
      case StepKind::target:
        if (straight) {
          return "\n" + wrapped(fmt::format("End: this path brings {} to target {} without a mirror. The summary counts it as "
                                            "\"straight to {}\", apart from the light that comes by a mirror.",
                                            power, last.surface, last.surface));
        }
        return "\n" +
               wrapped(fmt::format(
                   "End: this path brings {} to target {}. A target takes in all the light that lands on its counted faces.",
                   power, last.surface));
      case StepKind::shaded:
        return "\n" + wrapped(fmt::format(
                          "End: target {} stopped it before it reached a mirror. The summary counts it as \"shaded by {}\".",
                          last.surface, last.surface));
      case StepKind::back:
        return "\n" + wrapped(fmt::format(
                          "End: the back of {} soaks it up. Backs do not count. The summary counts it as \"back of {}\".",
                          last.surface, last.surface));
      case StepKind::lid:
        return "\n" +
               wrapped(fmt::format(
                   "End: the lid soaks it up. A pot counts its base and side only. The summary counts it as \"lid of {}\".",
                   last.surface));
      case StepKind::missed:
        if (straight)
          return "\n" +
                 wrapped(fmt::format("End: {} never meet a mirror. The summary counts them as \"missed the mirrors\".", power));
        return "\n" + wrapped(fmt::format("End: {} miss every target. The summary counts them as \"missed\".", power));
      case StepKind::not_counted:
        return "\n" + wrapped(
                          "End: no light. Points are drawn over a simple outline around the mirrors; this one fell beside them, "
                          "in a hole, or behind "
                          "another mirror, so it carries no light and counts for nothing. Try the next path number.");
      case StepKind::from_sun:
      case StepKind::from_lamp:
      case StepKind::reflected: break;
    }
    return "\n" + wrapped(
                      "End: the path met so many mirrors that it was given up, or rounding lost it. The summary counts it as "
                      "\"still bouncing\" or \"lost in rounding\".");
  }

  const Scene& scene_;
  const PathHistory& story_;
  Units units_;
  std::string out_;
  int count_ = 0;
};

}  // namespace

std::string replay_text(const Scene& scene, const PathHistory& story, Units units) { return Teller(scene, story, units).text(); }

}  // namespace dishwright
