// SPDX-License-Identifier: MIT
// A work-card on a sheet higher than wide, for print: title block, question and answer, verdicts, pictures two in a row, blocks
// of numbers and words side by side, cautions, settings at the foot.
#include <algorithm>
#include <limits>

#include "picture/card_parts.h"

namespace dishwright {

namespace {

constexpr double margin = 12, column_gap = 6, row_gap = 3;  // [mm]
constexpr double least_shrink = 0.5;                        // of the pictures
constexpr double foot_type = 6.5;                           // [points]

using BlockRow = std::vector<const CardBlock*>;
using PictureRow = std::vector<const CardPicture*>;

/// Blocks two by two, a wide one or one without a partner by itself.
std::vector<BlockRow> block_rows(const std::vector<CardBlock>& blocks) {
  std::vector<BlockRow> rows;
  for (const CardBlock& block : blocks) {
    const bool joins = !rows.empty() && rows.back().size() == 1 && !rows.back().front()->wide && !block.wide;
    if (!joins) rows.emplace_back();
    rows.back().push_back(&block);
  }
  return rows;
}

/// Pictures in rows, as many as their shares of the width allow.
std::vector<PictureRow> picture_rows(const std::vector<CardPicture>& pictures) {
  std::vector<PictureRow> rows;
  double taken = 2;
  for (const CardPicture& picture : pictures) {
    if (taken + picture.share > 1 + 1e-9) rows.emplace_back(), taken = 0;
    rows.back().push_back(&picture), taken += picture.share;
  }
  return rows;
}

double wanted_height(const PictureRow& row) {
  double height = 0;
  for (const CardPicture* picture : row) height = std::max(height, picture->height);
  return height;
}

class TallCard {
 public:
  TallCard(Pages& pages, const WorkCard& card) : pages_(pages), card_(card), width_(pages.size().width - 2 * margin) {
    blocks_ = card.numbers;
    if (!card.why.empty()) blocks_.push_back({"Why", CardList{card.why}});
    if (!card.notes.empty()) blocks_.push_back({"Notes", CardList{card.notes}, true});
    for (const std::string& line : card.settings) foot_ += pages.paragraph_height(width_, line, card_text(foot_type));
    bottom_ = pages.size().height - margin - (foot_ > 0 ? foot_ + 2 : 0);
  }

  void draw() {
    double y = draw_head();
    y = draw_pictures(y, words_height());
    draw_words(pages_, y, bottom_, true);
    double foot = pages_.size().height - margin - foot_;
    for (const std::string& line : card_.settings)
      foot += pages_.paragraph({margin, foot, width_, 0}, line, card_text(foot_type));
  }

 private:
  double draw_head() {
    double y = draw_title_block(pages_, {margin, margin, width_, 0}, card_.title);
    if (!card_.question.empty()) pages_.text({margin, y + 9}, card_.question, card_bold(16)), y += 12;
    if (answer_beside()) {
      TextStyle style = card_text(11);
      style.side = Side::right;
      pages_.text({margin + width_, y - 3}, card_.answer, style);
    } else if (!card_.answer.empty()) {
      y += pages_.paragraph({margin, y, width_, 0}, unbroken(card_.answer), card_text(11)) + 2;
    }
    if (!card_.verdicts.empty()) y = draw_verdicts(pages_, {margin, y + 1, width_, 0}, card_.verdicts) + 2;
    return y + 2;
  }

  /// A short answer stands in the line of its question.
  bool answer_beside() const {
    constexpr double gap = 8;
    if (card_.question.empty() || card_.answer.empty() || card_.answer.find('\n') != std::string::npos) return false;
    return pages_.text_width(card_.question, card_bold(16)) + gap + pages_.text_width(card_.answer, card_text(11)) <= width_;
  }

  /// The pictures get what the words leave, shrunk by half at most. Returns where they end.
  double draw_pictures(double y, double words) {
    std::vector<PictureRow> rows = picture_rows(card_.pictures);
    if (card_.strip) rows.push_back({&*card_.strip});
    const double room = bottom_ - words - y - row_gap * static_cast<double>(rows.size());
    double wanted = 0;
    for (const PictureRow& row : rows) wanted += wanted_height(row);
    const double shrink = wanted > 0 ? std::clamp(room / wanted, least_shrink, 1.0) : 1;
    for (const PictureRow& row : rows) {
      double height = wanted_height(row) * shrink, x = margin;
      if (height <= 0) height = std::max(30.0, room - wanted * shrink);
      const double inside = width_ - column_gap * static_cast<double>(row.size() - 1);
      for (const CardPicture* picture : row) {
        const double wide = row.size() == 1 ? width_ * picture->share : inside * picture->share;
        draw_picture(pages_, {x, y, wide, height}, *picture);
        x += wide + column_gap;
      }
      y += height + row_gap;
    }
    return y;
  }

  double draw_row(Pages& pages, double y, const BlockRow& row) const {
    const double wide = row.size() == 1 ? width_ : (width_ - column_gap) / 2;
    double end = y, x = margin;
    for (const CardBlock* block : row) {
      end = std::max(end, draw_block(pages, {x, y, wide, 0}, *block));
      x += wide + column_gap;
    }
    return end + (row.front()->heading.empty() ? 0 : 1.2);
  }

  /// How much height all words need that cannot be left out.
  double words_height() const {
    Pages scratch(pages_.size(), "");
    return draw_words(scratch, 0, std::numeric_limits<double>::infinity(), false);
  }

  /// What does not fit above `bottom` goes on a next sheet, or is left out where it is spare. Returns where it ends.
  double draw_words(Pages& pages, double y, double bottom, bool spare) const {
    const auto fits = [&](const auto& draw) {
      Pages scratch(pages.size(), "");
      return draw(scratch) <= bottom;
    };
    const auto go_on = [&] { pages.next_page(), y = margin; };
    constexpr double gap = 1;
    double last = card_.cautions.empty() ? 0 : gap;  // what must still come
    for (const std::string& line : card_.cautions) last += pages.paragraph_height(width_, line, card_bold(8)) + 0.8;
    for (const BlockRow& row : block_rows(blocks_)) {
      if (row.front()->spare) {
        if (spare && fits([&](Pages& scratch) { return draw_row(scratch, y, row) + last; })) y = draw_row(pages, y, row);
        continue;
      }
      if (!fits([&](Pages& scratch) { return draw_row(scratch, y, row); })) go_on();
      y = draw_row(pages, y, row);
    }
    if (last > 0 && y + last > bottom) go_on();
    y += card_.cautions.empty() ? 0 : gap;
    for (const std::string& line : card_.cautions) y += pages.paragraph({margin, y, width_, 0}, line, card_bold(8)) + 0.8;
    return y;
  }

  Pages& pages_;
  const WorkCard& card_;
  double width_, bottom_ = 0, foot_ = 0;
  std::vector<CardBlock> blocks_;
};

}  // namespace

void draw_tall_card(Pages& pages, const WorkCard& card) { TallCard(pages, card).draw(); }

}  // namespace dishwright
