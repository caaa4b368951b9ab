// SPDX-License-Identifier: MIT
#include "scene/shape_words.h"

#include <utility>

#include "scene/scene.h"

namespace dishwright {

namespace {

/// The words of the shape that has this one, with their article; empty where none has.
template <class... Shapes>
std::string_view phrase_of(std::string_view word, const std::variant<Shapes...>* /*all*/) {
  std::string_view found;
  ((found = Shapes::words.word == word ? Shapes::words.with_article : found), ...);
  return found;
}

}  // namespace

std::string the_shape(std::string_view word) {
  const std::string_view phrase = phrase_of(word, static_cast<const ReflectorShape*>(nullptr));
  const std::string_view name = phrase.empty() ? word : phrase.substr(phrase.find(' ') + 1);
  return "the " + std::string(name);
}

}  // namespace dishwright
