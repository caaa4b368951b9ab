// SPDX-License-Identifier: MIT
#include "report/tolerance/tolerance_data.h"

#include "report/numbers/json_quantity.h"
#include "report/tolerance/shop_table.h"
#include "report/tolerance/tolerance_words.h"

namespace dishwright {

namespace {

/// The table and the sentences of the screen.
void add_shop_words(Json& out, const Tolerance& all, Units units) {
  if (all.needed) {
    const auto width = [](double metres) { return json_quantity({metres, std::nullopt, "m"}); };
    out["needed_width"] = {{"share", json_quantity({all.needed->share, std::nullopt, "1"})},
                           {"width", all.needed->width ? width(*all.needed->width) : Json(nullptr)},
                           {"searched", width(all.needed->searched)}};
  }
  out["table"] = Json::array();
  for (const ShopRow& row : shop_rows(all, units))
    out["table"].push_back({{"question", row.question}, {"may_have", row.may}, {"here", row.here}, {"margin", row.margin}});
  for (const std::string& words : {budget_sentence(all, units), width_sentence(all, units)}) {
    if (!words.empty()) out["sentences"].push_back(words);
  }
}

}  // namespace

std::string tolerance_json(const Tolerance& all, const std::string& name, Units units) {
  Json out = json_head(all.scene, name);
  out["target"] = all.scene.targets[all.target].name;
  out["wanted"] = json_quantity({all.wanted, std::nullopt, all.waves ? "dB" : "1"});
  if (all.waves) {
    const char* unit = all.scene.radio ? "dBi" : "dB";
    const auto gain = [unit](const std::optional<double>& level) {
      return level ? json_quantity(Estimate{*level, std::nullopt, unit}) : Json(nullptr);
    };
    out["source"] = all.scene.radio ? "radio" : "sound";
    out["frequency"] = json_quantity({all.waves->frequency, std::nullopt, "Hz"});
    out["wavelength"] = json_quantity({all.waves->wavelength(), std::nullopt, "m"});
    out["gain"] = gain(all.waves->gain);
    out["true_gain"] = gain(all.waves->true_gain);
  } else {
    out["share"] = json_quantity(all.share);
  }
  out["limits"] = Json::object();
  out["sides"] = Json::array();
  for (const ToleranceLimit& limit : all.limits) {
    if (!out["limits"].contains(limit.key)) out["limits"][limit.key] = json_quantity(tightest(all, limit.key));
    Json side;
    side["key"] = limit.key;
    side["side"] = limit.side;
    if (!limit.side.empty()) side["way"] = way_words(limit.side);
    if (!all.waves) side["here"] = json_quantity({limit.here, std::nullopt, unit_of(limit.key)});
    side["limit"] = json_quantity(limit.limit);
    side["open"] = limit.open;
    side["best"] = all.waves ? json_quantity({limit.best.figure, std::nullopt, all.scene.radio ? "dBi" : "dB"})
                             : json_quantity({limit.best.figure, limit.best.std_error, "1"});
    out["sides"].push_back(std::move(side));
  }
  out["budget"] = nullptr;
  if (all.budget) {
    out["budget"] = {{"slope_error", json_quantity(all.budget->slope_alone)},
                     {"aim_error", json_quantity(all.budget->aim_alone)},
                     {"offset_along", json_quantity(all.budget->along_alone)},
                     {"fraction", json_quantity(all.budget->fraction)},
                     {"root_sum_square", json_quantity({all.budget->by_root_sum_square, std::nullopt, "1"})}};
    if (const auto& aside = all.budget->aside)
      out["budget"]["aside"] = {{"offset", json_quantity(aside->alone)}, {"fraction", json_quantity(aside->fraction)}};
  }
  if (!all.waves) add_shop_words(out, all, units);
  out["words"] = tolerance_sentences(all, units);
  out["verdict"] = tolerance_verdict(all);
  out["holds"] = all.holds();
  return json_text(out);
}

}  // namespace dishwright
