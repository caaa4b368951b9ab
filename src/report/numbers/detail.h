// SPDX-License-Identifier: MIT
#pragma once

namespace dishwright {

/// How much a text tells of the way in which its figures were found.
enum class Detail {
  answer,  ///< what people ask for: the figures, how sure they are
  method   ///< also the method, its replicates and places on the mirror: --verbose, and whatever is kept in a file
};

}  // namespace dishwright
