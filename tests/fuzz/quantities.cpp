// SPDX-License-Identifier: MIT
// Quantities with units: read as a finite number, and read back alike from their own print, or refused with words.
#include <cmath>

#include "base/quantity.h"
#include "driver.h"

namespace dishwright::fuzz {

const char* const name = "quantities";

std::vector<std::filesystem::path> corpus() { return files_below("tests/fuzz/corpus/quantities", ".txt"); }

std::vector<std::string> words() {
  std::vector<std::string> all = {"½", "¾", "'", "\"", " ", "-", "/",    "°", "²", "^",
                                  "e", ".", ",", "%",  "µ", "×", "10^3", "−", "½½"};
  for (const Unit& unit : all_units()) all.emplace_back(unit.symbol);
  return all;
}

void answer(const Input& input) {
  for (int k = 0; k <= static_cast<int>(Dimension::level); ++k) {
    const auto dimension = static_cast<Dimension>(k);
    const auto read = parse_quantity(input.bytes, dimension);
    if (const auto* bad = std::get_if<BadQuantity>(&read)) {
      if (bad->what.empty()) throw Fault("refused without words");
      continue;
    }
    const Quantity quantity = std::get<Quantity>(read);
    if (!std::isfinite(quantity.value)) throw Fault("not a finite number");
    const std::string print = format_quantity(quantity.value, dimension, quantity.unit);
    const auto again = parse_quantity(print, dimension);
    const auto* same = std::get_if<Quantity>(&again);
    if (same == nullptr) throw Fault("its own print is refused: " + print);
    // Four digits are printed; a temperature's are those of its own scale.
    const double room = 1e-3 * std::abs(quantity.value) + (dimension == Dimension::temperature ? 0.5 : 1e-12);
    if (!(std::abs(same->value - quantity.value) <= room)) throw Fault("its own print is another number: " + print);
  }
}

}  // namespace dishwright::fuzz
