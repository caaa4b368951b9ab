// SPDX-License-Identifier: MIT
// Collects all that is wrong with a project file and its --set options.
#pragma once

#include <string>
#include <vector>

#include "scenefile/source.h"

namespace dishwright {

class Problems {
 public:
  /// `source` and `set` must outlive this.
  Problems(const Source& source, const std::vector<std::string>& set) : source_(source), set_(set) {}

  void add(const Place& place, const std::string& what, const std::string& why, const std::string& fix);
  /// The same, to be told by somebody else.
  Problem at(const Place& place, std::string what, std::string why, std::string fix) const;
  /// A problem inside another file, told where `place` of this one names it by `key`.
  void add_elsewhere(const Place& place, const std::string& key, Problem problem);
  std::size_t count() const { return found_.size(); }
  /// Throws InputError with all problems in the order of the file, then of the --set options, if there are any.
  void raise_if_any();

 private:
  struct Found {
    Place place;
    Problem problem;
  };
  const Source& source_;
  const std::vector<std::string>& set_;
  std::vector<Found> found_;
};

/// How a --set option is shown in messages.
std::string shown_set(const std::string& option);

}  // namespace dishwright
