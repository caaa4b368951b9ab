// SPDX-License-Identifier: MIT
#include "survey/uses.h"

#include <cmath>
#include <numbers>

namespace dishwright {

std::string verdict_word(Verdict verdict) {
  switch (verdict) {
    case Verdict::pass: return "pass";
    case Verdict::fail: return "fail";
    case Verdict::too_close: return "too close to call";
    case Verdict::so_far: return "passes so far";
  }
  return "";
}

Verdict judge(const Estimate& value, double limit, bool more_is_better) {
  const double clear = 2 * value.std_error.value_or(0), over = more_is_better ? value.value - limit : limit - value.value;
  if (over >= clear) return Verdict::pass;
  return over < -clear ? Verdict::fail : Verdict::too_close;
}

UseVerdict wave_use(const std::string& use, double frequency, double speed, const Estimate& half_path_rms, double hidden_rms) {
  UseVerdict out;
  out.use = use;
  out.figure = "surface error in wavelengths";
  out.frequency = frequency;
  const double wavelength = speed / frequency, error = half_path_rms.std_error.value_or(0) / wavelength;
  out.value = {half_path_rms.value / wavelength, error, "1"};
  out.limit = 1.0 / 16;
  out.verdict = judge(out.value, out.limit, false);
  Estimate with_hidden = out.value;
  with_hidden.value = std::hypot(out.value.value, hidden_rms / wavelength);
  out.hidden = with_hidden.value - out.value.value;
  if (out.verdict == Verdict::pass && judge(with_hidden, out.limit, false) != Verdict::pass) out.verdict = Verdict::so_far;
  const double decibels = 10 / std::numbers::ln10 * std::pow(4 * std::numbers::pi, 2);
  out.loss = {-decibels * out.value.value * out.value.value, decibels * error * (2 * out.value.value + error), "dB"};
  return out;
}

UseVerdict light_use(const std::string& use, const Estimate& share, double wanted, double at_risk) {
  UseVerdict out;
  out.use = use;
  out.figure = "share caught";
  out.value = share;
  out.limit = wanted;
  out.more_is_better = true;
  out.verdict = judge(share, wanted, true);
  out.hidden = at_risk;
  Estimate left = share;
  left.value -= at_risk;
  if (out.verdict == Verdict::pass && judge(left, wanted, true) != Verdict::pass) out.verdict = Verdict::so_far;
  return out;
}

}  // namespace dishwright
