// SPDX-License-Identifier: MIT
#include "result/figure_table.h"

#include <algorithm>

namespace dishwright {

namespace {

constexpr FigureOf light{true, true, false, false}, of_lamp{false, true, false, false}, of_sun{true, false, false, false};
constexpr FigureOf sound{false, false, true, false}, radio{false, false, false, true}, waves{false, false, true, true};

std::vector<FigureRow> make_rows() {
  using F = Figure;
  using K = FigureKind;
  return {
      {F::power, "power", K::power, light, true, "power", "power", "", ""},
      {F::direct_power, "direct_power", K::power, light, false, "straight light", "", "", ""},
      {F::total_power, "total_power", K::power, of_lamp, false, "mirror and straight light", "", "Mirror and straight light", ""},
      {F::intercept, "intercept", K::share, light, true, "share caught", "share caught", "Share of mirror light caught",
       "Share of the reflected light that lands here"},
      {F::peak_irradiance, "peak_irradiance", K::irradiance, light, true, "brightest spot", "peak", "Brightest spot",
       "Peak: mean over the brightest small disc"},
      {F::peak_concentration, "peak_concentration", K::concentration, of_sun, true, "brightest spot", "", "",
       "The same peak, counted in suns"},
      {F::mean_irradiance, "mean_irradiance", K::irradiance, light, true, "mean light", "mean", "", ""},
      {F::evenness, "evenness", K::ratio, of_lamp, false, "evenness", "evenness", "Evenness of the beam",
       "Evenness: darkest part / mean, in the 50 % circle"},
      {F::spot_width_50, "spot_width_50", K::length, light, true, "{} of half the light", "half in {}",
       "Half of the light is within", "50 % of the light: {} (solid line) of width"},
      {F::spot_width_90, "spot_width_90", K::length, light, true, "{} of 90 % of the light", "90 % in {}",
       "90 % of the light is within", "90 % of the light: {} (dashed line) of width"},
      {F::spot_rms_radius, "spot_rms_radius", K::length, light, true, "rms radius of the spot", "rms radius",
       "Rms radius on the target", ""},
      {F::gain, "gain", K::level, waves, true, "gain", "gain", "", ""},
      {F::reflected_gain, "reflected_gain", K::level, sound, true, "gain by the mirror alone", "mirror only", "", ""},
      {F::aperture_efficiency, "aperture_efficiency", K::share, radio, true, "aperture efficiency", "all", "", ""},
      {F::spillover, "spillover", K::share, radio, true, "share caught of the feed's power", "caught", "", ""},
      {F::taper, "taper", K::share, radio, true, "share kept in spite of the taper", "taper", "", ""},
      {F::phase, "phase", K::share, radio, true, "share kept in spite of unequal ways", "phase", "", ""},
      {F::surface, "surface", K::share, radio, true, "share kept in spite of the flaws of the surface", "surface", "", ""},
      {F::blockage, "blockage", K::share, radio, true, "share kept in spite of the shadow", "blocked", "", ""},
      {F::reflection, "reflection", K::share, radio, true, "share of the power that the skin reflects", "reflected", "", ""},
      {F::half_power_width, "half_power_width", K::angle, waves, true, "beam at half the power", "beam at", "", ""},
      {F::side_lobe, "side_lobe", K::level, waves, true, "strongest side lobe", "side lobe", "", ""},
  };
}

std::vector<FigureRow> make_compared(FigureSource source) {
  std::vector<FigureRow> rows;
  for (const FigureRow& row : all_figures()) {
    const bool own = source == FigureSource::light   ? row.of.sun || row.of.lamp
                     : source == FigureSource::sound ? row.of.sound
                                                     : row.of.radio;
    if (own && row.compared) rows.push_back(row);
  }
  return rows;
}

}  // namespace

const std::vector<FigureRow>& all_figures() {
  static const std::vector<FigureRow> rows = make_rows();
  return rows;
}

const FigureRow& row_of(Figure figure) { return all_figures()[static_cast<std::size_t>(figure)]; }

const FigureRow* find_figure(std::string_view name) {
  const auto& rows = all_figures();
  const auto found = std::find_if(rows.begin(), rows.end(), [&](const FigureRow& row) { return row.name == name; });
  return found == rows.end() ? nullptr : &*found;
}

const std::vector<FigureRow>& compared_rows(FigureSource source) {
  static const std::vector<FigureRow> of_light = make_compared(FigureSource::light),
                                      of_sound = make_compared(FigureSource::sound),
                                      of_radio = make_compared(FigureSource::radio);
  return source == FigureSource::light ? of_light : source == FigureSource::sound ? of_sound : of_radio;
}

std::string with_outline(std::string_view words, bool band) {
  std::string text(words);
  const std::size_t at = text.find("{}");
  return at == std::string::npos ? text : text.replace(at, 2, band ? "band" : "circle");
}

std::optional<Estimate> light_figure(const TargetFigures& target, Figure figure) {
  switch (figure) {
    case Figure::power: return target.power;
    case Figure::direct_power: return target.direct_power;
    case Figure::total_power: return target.total_power;
    case Figure::intercept: return target.intercept;
    case Figure::peak_irradiance: return target.peak_irradiance;
    case Figure::peak_concentration: return target.peak_concentration;
    case Figure::mean_irradiance: return target.mean_irradiance;
    case Figure::evenness: return target.evenness;
    case Figure::spot_width_50: return target.spot_width_50;
    case Figure::spot_width_90: return target.spot_width_90;
    case Figure::spot_rms_radius: return target.spot_rms_radius;
    case Figure::gain:
    case Figure::reflected_gain:
    case Figure::aperture_efficiency:
    case Figure::spillover:
    case Figure::taper:
    case Figure::phase:
    case Figure::surface:
    case Figure::blockage:
    case Figure::reflection:
    case Figure::half_power_width:
    case Figure::side_lobe: break;
  }
  return std::nullopt;
}

std::optional<Estimate> light_figure(const TargetFigures& target, std::string_view name) {
  const FigureRow* row = find_figure(name);
  return row == nullptr ? std::nullopt : light_figure(target, row->figure);
}

}  // namespace dishwright
