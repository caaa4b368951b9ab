// SPDX-License-Identifier: MIT
// Tolerances in the words of the shop.
#pragma once

#include <string>
#include <vector>

#include "report/numbers/number_text.h"
#include "study/tolerance.h"

namespace dishwright {

/// "surface slope error", "random bumps", "aim error", "target too near the mirror", …
std::string limit_name(const ToleranceLimit& limit);
/// The limit as a number: "12.3 ± 0.1 mrad rms", "1.25 ± 0.01 in", "14 petals"; of waves lengths also in wavelengths: "0.2674 in
/// rms (0.038 wavelengths)"; "none up to 20 deg"; "not reachable: best is 71 % at …".
std::string limit_text(const Tolerance& all, const ToleranceLimit& limit, Units units);
/// What it means with a straightedge, a tape or a watch in hand, one sentence; empty where there is no more to say.
std::string limit_in_shop_words(const Tolerance& all, const ToleranceLimit& limit, Units units);
/// A sentence a limit, for the JSON: name, number, shop words.
std::vector<std::string> tolerance_sentences(const Tolerance& all, Units units);
/// Whether the values in the file deliver the wanted share, or the gain of the true dish but for the loss; says so where a share
/// is too close to call.
std::string tolerance_verdict(const Tolerance& all);
/// How far three deviations may go together, and what the textbook rule would have said; empty where there is no budget.
std::string budget_sentence(const Tolerance& all, Units units);
/// "90 %"; of waves "1 dB".
std::string wanted_text(const Tolerance& all);
/// The question that the limits answer, one sentence.
std::string tolerance_question(const Tolerance& all, Units units);

}  // namespace dishwright
