// SPDX-License-Identifier: MIT
// The values of a scene as plain text: equal scenes have equal texts, whatever their files look like.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>

#include "scene/scene.h"

namespace dishwright {

/// Text that does not depend on locale, file layout or key order. Meshes and measured surfaces count by their fingerprints.
class SceneText {
 public:
  void word(std::string_view text);
  void number(double value);
  void numbers(std::initializer_list<double> values);
  void whole(std::uint64_t value);
  void pose(const Pose& pose);
  void shape(const ReflectorShape& shape);
  void shape(const TargetShape& shape);
  /// Nothing for a true shape.
  void flaws(const Flaws& f);
  void outdoors(const Outdoors& outdoors);
  void lamp(const Lamp& lamp);
  void load(const Load& load);
  void sound(const Sound& sound);
  void radio(const Radio& radio);
  void target(const Target& target);
  const std::string& text() const { return text_; }

 private:
  void values(const std::vector<ShapeValue>& values);
  template <class... Fields>
  void values(const std::tuple<Fields...>& fields);

  std::string text_;
};

/// What rays can meet: names, shapes, places and flaws of mirrors and targets, and whether a lamp shines. Scenes with equal texts
/// have the same surfaces.
std::string surfaces_text(const Scene& scene);

}  // namespace dishwright
