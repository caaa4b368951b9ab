// SPDX-License-Identifier: MIT
#include "heat/absorber.h"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "heat/air_properties.h"
#include "heat/convection.h"
#include "scene/water.h"

namespace dishwright {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8, gravity = 9.80665;  // [W/(m² K⁴)], [m/s²]
constexpr double disk_quarter = std::numbers::pi / 4;

LossFace level_face(FaceKind kind, double area, double perimeter, double length) {
  return {kind, area, area / perimeter, length, false};
}

std::vector<LossFace> loss_faces(const TargetShape& shape) {
  constexpr double pi = std::numbers::pi;
  if (const auto* pot = std::get_if<PotTarget>(&shape)) {
    const double d = pot->width, end = disk_quarter * d * d;
    return {{FaceKind::side, pi * d * pot->height, pot->height, d, false},
            level_face(FaceKind::top, end, pi * d, d),
            level_face(FaceKind::bottom, end, pi * d, d)};
  }
  if (const auto* ball = std::get_if<BallTarget>(&shape))
    return {{FaceKind::ball, pi * ball->width * ball->width, ball->width, ball->width, false}};
  if (const auto* tube = std::get_if<TubeTarget>(&shape))
    return {{FaceKind::tube, pi * tube->width * tube->length, tube->width, tube->width, false}};
  const auto* plate = std::get_if<RectangleTarget>(&shape);
  const double width = target_width(shape), area = counted_area(shape);
  const double perimeter = plate != nullptr ? 2 * (plate->width + plate->length) : pi * width;
  const double along = plate != nullptr ? std::min(plate->width, plate->length) : width;
  return {level_face(FaceKind::top, area, perimeter, along), level_face(FaceKind::bottom, area, perimeter, along)};
}

/// Film air of one temperature, and what drives the rise.
struct Film {
  AirProperties air;
  double rise = 0;  ///< g |ΔT| / (T ν α) [1/m³]
  bool warmer = true;
  double far_prandtl = 0.7, far_viscosity = 0, viscosity_ratio = 1;  ///< of the air far away
};

Film film_of(const Surroundings& around, double temperature) {
  Film film;
  const double mean = (temperature + around.temperature) / 2, step = std::abs(temperature - around.temperature);
  film.air = air_properties(mean, around.pressure);
  film.rise = gravity * step / (mean * film.air.viscosity * film.air.diffusivity);
  film.warmer = temperature >= around.temperature;
  const AirProperties far = air_properties(around.temperature, around.pressure);
  const AirProperties wall = air_properties(temperature, around.pressure);
  film.far_prandtl = far.prandtl(), film.far_viscosity = far.viscosity;
  film.viscosity_ratio = far.viscosity * far.density / (wall.viscosity * wall.density);
  return film;
}

double free_nusselt(const LossFace& face, const Film& film) {
  const double rayleigh = film.rise * face.height * face.height * face.height, prandtl = film.air.prandtl();
  switch (face.kind) {
    case FaceKind::side: return nusselt_upright_plate(rayleigh, prandtl);
    case FaceKind::top: return film.warmer ? nusselt_plate_up(rayleigh) : nusselt_plate_down(rayleigh);
    case FaceKind::bottom: return film.warmer ? nusselt_plate_down(rayleigh) : nusselt_plate_up(rayleigh);
    case FaceKind::tube: return nusselt_level_cylinder(rayleigh, prandtl);
    case FaceKind::ball: return nusselt_sphere(rayleigh, prandtl);
  }
  return 0;
}

double wind_nusselt(const LossFace& face, const Film& film, double wind) {
  const double reynolds = wind * face.length / film.air.viscosity, prandtl = film.air.prandtl();
  switch (face.kind) {
    case FaceKind::side:
    case FaceKind::tube: return nusselt_cylinder_in_wind(reynolds, prandtl);
    case FaceKind::top:
    case FaceKind::bottom: return nusselt_plate_in_wind(reynolds, prandtl);
    case FaceKind::ball:
      return nusselt_sphere_in_wind(wind * face.length / film.far_viscosity, film.far_prandtl, film.viscosity_ratio);
  }
  return 0;
}

/// Heat that leaves one face a square metre and kelvin [W/(m² K)].
double face_transfer(const LossFace& face, const Film& film, const Surroundings& around) {
  const double free = film.air.conductivity / face.height * free_nusselt(face, film);
  if (around.wind <= 0) return around.convection * free;
  const double blown = film.air.conductivity / face.length * wind_nusselt(face, film, around.wind);
  return around.convection * nusselt_blend(free, blown);
}

/// Heat that steam takes from a square metre of open water [W/m²].
double steam_loss(double transfer, const Film& film, const Surroundings& around, double temperature) {
  constexpr double lewis = 0.85, vapour_constant = 461.5;  // [1], [J/(kg K)]
  const double above = std::min(vapour_pressure(temperature), around.pressure) / (vapour_constant * temperature);
  const double in_air = around.humidity * vapour_pressure(around.temperature) / (vapour_constant * around.temperature);
  const double mass = transfer / (film.air.density * film.air.specific_heat * std::pow(lewis, 2.0 / 3));
  return std::max(0.0, mass * (above - in_air)) * heat_of_steam(temperature);
}

}  // namespace

Absorber absorber_of(const Target& target, const Load& load) {
  Absorber out{loss_faces(target.shape), load.emittance, heat_capacity(load)};
  const bool open = !load.lid && boils(load) && std::holds_alternative<PotTarget>(target.shape);
  for (LossFace& face : out.faces) face.wet = open && face.kind == FaceKind::top;
  return out;
}

Absorber empty_absorber(const Target& target, const Load& load) {
  Load empty = load;
  empty.lid = true;
  return absorber_of(target, empty);
}

Surroundings surroundings_of(const Load& load) { return {load.air_temperature, load.pressure, load.humidity, load.wind, 1}; }

HeatLosses heat_losses(const Absorber& absorber, const Surroundings& around, double temperature) {
  const Film film = film_of(around, temperature);
  const double fourth = std::pow(temperature, 4) - std::pow(around.temperature, 4);
  HeatLosses out;
  for (const LossFace& face : absorber.faces) {
    const double transfer = face_transfer(face, film, around);
    out.convection += face.area * transfer * (temperature - around.temperature);
    out.radiation += face.area * absorber.emittance * stefan_boltzmann * fourth;
    if (face.wet) out.steam += face.area * steam_loss(transfer, film, around, temperature);
  }
  return out;
}

double stagnation_temperature(const Absorber& absorber, const Surroundings& around, double absorbed) {
  if (!(absorbed > 0)) return around.temperature;
  double area = 0;
  for (const LossFace& face : absorber.faces) area += face.area;
  // By radiation alone it would get hotter than that never.
  const double most =
      1 + std::pow(absorbed / (area * absorber.emittance * stefan_boltzmann) + std::pow(around.temperature, 4), 0.25);
  const auto surplus = [&](double t) { return heat_losses(absorber, around, t).total() - absorbed; };
  std::uintmax_t steps = 100;
  const auto bracket = boost::math::tools::toms748_solve(surplus, around.temperature, most, -absorbed, surplus(most),
                                                         boost::math::tools::eps_tolerance<double>(40), steps);
  return (bracket.first + bracket.second) / 2;
}

}  // namespace dishwright
