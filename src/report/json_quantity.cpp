// SPDX-License-Identifier: MIT
#include "report/json_quantity.h"

#include <cmath>
#include <stdexcept>

namespace dishwright {

Json json_quantity(const Estimate& estimate) {
  if (!std::isfinite(estimate.value) || !std::isfinite(estimate.std_error.value_or(0)))
    throw std::logic_error("a figure is not a finite number");
  Json out;
  out["value"] = estimate.value;
  if (estimate.std_error) out["std_error"] = *estimate.std_error;
  out["unit"] = estimate.unit;
  return out;
}

Json json_quantity(const std::optional<Estimate>& estimate) { return estimate ? json_quantity(*estimate) : Json(nullptr); }

}  // namespace dishwright
