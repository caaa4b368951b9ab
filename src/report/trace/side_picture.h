// SPDX-License-Identifier: MIT
// The side view on a light card: mirror, axis, focus, target and rays, to one scale.
#pragma once

#include "picture/work_card.h"
#include "report/numbers/number_text.h"
#include "study/side_view.h"

namespace dishwright {

/// A cut through mirror and target, to scale, with sizes beside it. Rays that land on a target are drawn through, those that do
/// not are dashed; M, N and F mark the rays that the words name.
CardPicture side_picture(const SideView& view, Units units);

}  // namespace dishwright
