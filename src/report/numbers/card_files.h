// SPDX-License-Identifier: MIT
// Work-cards and pictures as files: each is drawn once, whatever it is written as.
#pragma once

#include <string>

#include "base/files.h"
#include "picture/work_card.h"

namespace dishwright {

/// A card for a screen, 1200 pixels wide, as the bytes of a PNG.
std::string card_image(const WorkCard& card);

/// Adds STEM.png, 1200 × 900 pixels. Throws WriteError.
void add_card(WholeFiles& files, const std::string& stem, const WorkCard& card);
/// Adds STEM.png and STEM.svg.
void add_chart_card(WholeFiles& files, const std::string& stem, const WorkCard& card);
/// Adds STEM.pdf on that paper, and STEM.png of its first sheet where `image` is set.
void add_printed_card(WholeFiles& files, const std::string& stem, const WorkCard& card, PageSize paper, bool image = false);
/// Adds STEM.png of a picture without a card, on a sheet of that size with a margin of 5 mm.
void add_picture(WholeFiles& files, const std::string& stem, const CardPicture& picture, PageSize size);

}  // namespace dishwright
