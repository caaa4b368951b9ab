// SPDX-License-Identifier: MIT
// The safety page: what a scene's light can do to people and things, and the list to work by.
#pragma once

#include "report/trace/outputs.h"

namespace dishwright {

/// One sheet for print: the brightest light anywhere and on each target, the watts that miss and where they are brightest, what
/// that much light does, and the whole list. Of a lamp: dazzle, heat, wet places.
WorkCard safety_card(const Result& result);

}  // namespace dishwright
