// SPDX-License-Identifier: MIT
// The table of the shop, word for word, of made-up limits. Truth: sums by hand.
#include "report/tolerance/shop_table.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "figures_sample.h"
#include "report/numbers/text_layout.h"
#include "report/tolerance/tolerance_outputs.h"

using namespace dishwright;
using sample::inch;

namespace {

constexpr double degree = std::numbers::pi / 180;

ToleranceLimit limit_of(const std::string& key, double value, double here = 0, const std::string& side = "") {
  ToleranceLimit limit;
  limit.key = key, limit.side = side, limit.here = here;
  limit.at_least = key == "petals";
  limit.limit = Estimate{value, std::nullopt, ""};
  limit.curve = {{0, 1, 0}, {value, 0.9, 0}};
  return limit;
}

ToleranceLimit open_to(const std::string& key, double end, double here = 0, const std::string& side = "") {
  ToleranceLimit limit = limit_of(key, end, here, side);
  limit.limit.reset(), limit.open = true, limit.searched = end;
  return limit;
}

ToleranceLimit missed(const std::string& key, const LimitPoint& best, double here = 0, const std::string& side = "") {
  ToleranceLimit limit = limit_of(key, 1, here, side);
  limit.limit.reset(), limit.best = best, limit.searched = 1;
  return limit;
}

Tolerance kettle(std::vector<ToleranceLimit> limits) {
  Tolerance all;
  all.scene = sample::kettle_scene();
  all.share = {0.9432, 0.0021, "1"};
  all.limits = std::move(limits);
  return all;
}

/// "question | may | here | margin" of the one row.
std::string row(const ToleranceLimit& limit, Units units = Units::us) {
  const ShopRow out = shop_rows(kettle({limit}), units).at(0);
  return out.question + " | " + out.may + " | " + out.here + " | " + out.margin;
}

}  // namespace

TEST_CASE("a row a question: what one may have, where one is, what is left; rounded to the safe side") {
  // 24.26 mrad over 6 in: 0.1456 in = 9.32/64; 4 mrad: 0.024 in = 1.54/64; between them 7.78/64.
  CHECK(row(limit_of("slope_error", 24.26e-3, 4e-3)) == "surface slope over 6 in | 9/64 in | 1/32 in | 7/64 in");
  CHECK(row(limit_of("slope_error", 24.26e-3, 4e-3), Units::si) == "surface slope over 150 mm | 3.6 mm | 0.6 mm | 3.0 mm");
  // 4.361 − 0.5 deg: 15.4 min of sun.
  CHECK(row(limit_of("aim_error", 4.361 * degree, 0.5 * degree)) == "aim error | 4.3 deg | 0.5 deg | 3.8 deg (15 min)");
  CHECK(row(limit_of("aim_along", 21.4 * degree)) == "aim along the trough | 21.4 deg | true | 21.4 deg (85 min)");
  CHECK(row(limit_of("offset_along", 7.3735 * inch, 0, "toward the mirror")) ==
        "target toward the mirror | 7 5/16 in | as drawn | 7 5/16 in");
  CHECK(row(limit_of("offset_across", 0.884 * inch, 0, "+x")) == "target to the right | 7/8 in | as drawn | 7/8 in");
  CHECK(row(limit_of("offset_across", 5.254 * inch, 0, "-y")) == "target down | 5 1/4 in | as drawn | 5 1/4 in");
  // 6 in deep; 10 % longer: 5.4545 in, 8.73/16 less; 10 % shorter: 6.6667 in, 21.3/32 more.
  CHECK(row(limit_of("focal_length_error", 0.1, 0, "longer")) == "rim too shallow | 5 1/2 in or more | 6 in | 17/32 in");
  CHECK(row(limit_of("focal_length_error", 0.1, 0, "shorter")) == "rim too deep | 6 5/8 in or less | 6 in | 21/32 in");
  CHECK(row(limit_of("petals", 18)) == "petals | 18 or more | - | -");
  CHECK(row(limit_of("petals", 18, 24)) == "petals | 18 or more | 24 | 6");
  CHECK(row(limit_of("tile", 5.02 * inch)) == "flat tile | 5 in or less | - | -");
  CHECK(row(limit_of("tile", 5.02 * inch, 4 * inch)) == "flat tile | 5 in or less | 4 in | 1 in");
}

TEST_CASE("the file has too much of it") {
  // 30 − 24.26 mrad over 6 in: 0.0344 in = 2.2/64.
  CHECK(row(limit_of("slope_error", 24.26e-3, 30e-3)) == "surface slope over 6 in | 9/64 in | 3/16 in | over by 3/64 in");
  CHECK(row(limit_of("aim_error", 4.361 * degree, 5 * degree)) == "aim error | 4.3 deg | 5 deg | over by 0.64 deg");
  CHECK(row(limit_of("petals", 18, 12)) == "petals | 18 or more | 12 | 6 too few");
  CHECK(row(limit_of("tile", 4 * inch, 5 * inch)) == "flat tile | 4 in or less | 5 in | over by 1 in");
}

// 0.5 mrad: 0.024 in over 48 in, as wide as the dish. 1e-5 rad: 0.0005 in.
TEST_CASE("limits of nearly nothing and of nothing never read as 0 over a run") {
  CHECK(row(limit_of("slope_error", 2e-3)) == "surface slope over 48 in | 3/32 in | true | 3/32 in");
  CHECK(row(limit_of("slope_error", 0.5e-3)) == "surface slope over 48 in | 1/64 in | true | 1/64 in");
  CHECK(row(limit_of("slope_error", 1e-5)) == "surface slope over 48 in | less than 1/64 in | true | less than 1/64 in");
  CHECK(row(limit_of("slope_error", 0, 1e-3)) == "surface slope over 6 in | none at all | 1/64 in | over by 1/64 in");
  CHECK(row(limit_of("aim_error", 0)) == "aim error | 0 deg | true | 0 deg");
  CHECK(row(limit_of("aim_error", 1e-5)) == "aim error | less than 0.01 deg | true | less than 0.01 deg");
  CHECK(row(limit_of("offset_across", 0, 0, "-x")) == "target to the left | 0 in | as drawn | 0 in");
}

TEST_CASE("no limit within the search, and what alone does not bring the share") {
  CHECK(row(open_to("aim_error", 20 * degree, 0.5 * degree)) == "aim error | any to 20.0 deg | 0.5 deg | 19.5 deg or more");
  CHECK(row(open_to("offset_along", 14.4 * inch, 0, "away from the mirror")) ==
        "target away from the mirror | any to 14 3/8 in | as drawn | 14 3/8 in or more");
  CHECK(row(missed("aim_error", {0, 0.89997, 1e-4}, 0.5 * degree)) == "aim error | 89.9 % at best | 0.5 deg | none");
  CHECK(row(missed("offset_along", {2.02 * inch, 0.99888, 0}, 0, "toward the mirror")) ==
        "target toward the mirror | 99.8 % at 2 in | as drawn | none");
  CHECK(row(missed("petals", {192, 0.56, 0.008})) == "petals | 56 % at best | - | none");
  CHECK(row(missed("slope_error", {0, 0, 0}, 4e-3)) == "surface slope over 24 in | 0 % at best | 7/64 in | none");
  ToleranceLimit untried = missed("offset_along", {}, 0, "toward the mirror");
  untried.curve.clear();
  CHECK(row(untried) == "target toward the mirror | could not be tried | as drawn | none");
  CHECK(
      shop_notes(kettle({missed("aim_error", {0, 0.8, 0})})).back() ==
      "Per cent: as drawn that is too little; this is the best share that the one thing alone brings, and where. Wanted: 90 %.");
}

TEST_CASE("a trough that is aimed across or along has no third row of aim; one that is aimed between has") {
  const auto questions = [](double across, double along) {
    std::string out;
    for (const ShopRow& one : shop_rows(kettle({limit_of("aim_error", 0.1, std::hypot(across, along)),
                                                limit_of("aim_across", 0.1, across), limit_of("aim_along", 0.2, along)}),
                                        Units::us))
      out += one.question + ";";
    return out;
  };
  CHECK(questions(0.01, 0) == "aim across the trough;aim along the trough;");
  CHECK(questions(0, 0) == "aim across the trough;aim along the trough;");
  CHECK(questions(0.01, 0.01) == "aim error;aim across the trough;aim along the trough;");
}

TEST_CASE("all at once: the harder way of the place, each part of its own limit, rounded down") {
  Tolerance all = kettle({});
  CHECK(budget_sentence(all, Units::us).empty());
  all.budget = ToleranceBudget{};
  all.budget->slope_alone = {10e-3, std::nullopt, "rad"};
  all.budget->aim_alone = {2.1 * degree, std::nullopt, "rad"};
  all.budget->along_alone = {2.2 * inch, 0.03 * inch, "m"};
  all.budget->fraction = {0.509, 0.01, "1"};
  // 5.09 mrad: 0.061 in over 12 in is too little to read, 0.122 in over 24 in; 1.07 deg; 1.12 in.
  CHECK(budget_sentence(all, Units::us) ==
        "All three at once: 7/64 in over a 24 in run of surface slope, 1.0 deg of aim, and the kettle 1 1/16 in away from the "
        "mirror. That is 50 % of what each may have while the other two are nil; the three were traced together, at equal parts "
        "of their limits. The textbook rule (root sum square of three equal parts) would say 58 %.");
  all.budget->aside = ToleranceBudget::Aside{{3 * inch, std::nullopt, "m"}, {0.4, std::nullopt, "1"}};
  CHECK(budget_sentence(all, Units::us).find("0.84 deg of aim, and the kettle 1 3/16 in toward the sun's side. That is 40 %") !=
        std::string::npos);
  all.budget->aside->fraction.value = 0.6;
  CHECK(budget_sentence(all, Units::us).find("away from the mirror. That is 50 %") != std::string::npos);
}

TEST_CASE("a wider target: where the share is missed, where the margin is small, where none would do") {
  Tolerance all = kettle({});
  CHECK(width_sentence(all, Units::us).empty());
  all.needed = NeededWidth{0.9, 7.43 * inch, 8 * inch};
  CHECK(width_sentence(all, Units::us) == "Or a disk 7 7/16 in wide: it catches 90 % with all else as the file has it.");
  all.needed->share = 0.95;
  CHECK(width_sentence(all, Units::si) ==
        "For a margin take a disk 189 mm wide: it catches 95 % with all else as the file has it.");
  all.needed->width.reset();
  CHECK(width_sentence(all, Units::us).empty());
  all.needed->share = 0.9;
  CHECK(width_sentence(all, Units::us) == "A wider disk would not do: none up to 8 in wide catches 90 %.");
  all.scene.targets[0].shape = RectangleTarget{0.1, 1};
  all.needed->width = 0.12;
  CHECK(width_sentence(all, Units::si) ==
        "Or a rectangle 120 mm wide, as long as this one: it catches 90 % with all else as the file has it.");
}

TEST_CASE("screen and sheet show the table; no line is wider than 80 characters, nothing is no number") {
  Tolerance all = kettle({limit_of("slope_error", 24.26e-3, 4e-3), limit_of("aim_error", 4.361 * degree, 0.5 * degree),
                          limit_of("offset_along", 0.058, 0, "away from the mirror"), open_to("aim_along", 45 * degree),
                          missed("petals", {256, 0.1, 0.001}), limit_of("focal_length_error", 0.098, 0, "shorter")});
  for (const Units units : {Units::us, Units::si}) {
    const std::string text = tolerance_text(all, "kettle", units) + tolerance_answer(all, units);
    CHECK(text.find("you may have") != std::string::npos);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
    for (std::size_t from = 0; from < text.size();) {
      const std::size_t to = text.find('\n', from);
      CHECK_MESSAGE(characters(text.substr(from, to - from)) <= 80, text.substr(from, to - from));
      from = to + 1;
    }
  }
  const WorkCard sheet = tolerance_sheet(all, "kettle", Units::us);
  const auto& table = std::get<CardTable>(sheet.numbers.at(0).body);
  CHECK(table.rows == shop_cells(all, Units::us));
  CHECK(table.rows.size() == 6);  // the head; no third row of aim
  CHECK(tolerance_json(all, "kettle", Units::us).find("\"may_have\": \"9/64 in\"") != std::string::npos);
}
