// SPDX-License-Identifier: MIT
// The texts of the starter project files below their title.
#pragma once

#include <string>

namespace dishwright {

/// What a starter is made of.
struct StarterText {
  const char* kind;   ///< word of --like
  const char* first;  ///< its first sentence, a comment
  std::string rest;   ///< everything below the title; "TABLE" stands for the name of its table
};

/// A row a kind; the first is the one that is written if none is asked for.
const std::vector<StarterText>& starter_texts();
/// The table of the starter with a curve of one's own: height = radius² / (4 × 24 in) to 1/32 in, out to 24 in.
std::string starter_profile();

}  // namespace dishwright
