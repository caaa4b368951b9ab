// SPDX-License-Identifier: MIT
#include "quadrature/solution.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "quadrature/work.h"

namespace dishwright {

namespace {

constexpr double cut_error = 1e-5;
constexpr double image_looks = 60;    // that making an image costs
constexpr double most_at_once = 2e5;  // places; with more the work is not looked at closely

/// Cells just fine enough for sums.
void divide_for_sums(MappedFace& face, double sigma) {
  const auto cells = [&](double width) {
    return static_cast<int>(std::clamp(std::ceil(width / ((face.flat ? 0.6 : 1.2) * sigma)), 24.0, 1024.0));
  };
  face.layout.columns = cells(face.width()), face.layout.rows = cells(face.height());
}

double finest(const std::vector<Image>& images) {
  double sigma = 1e300;
  for (const Image& image : images) sigma = std::min(sigma, image.sigma);
  return sigma < 1e300 ? sigma : 1;
}

std::vector<FaceLight> light_of(const std::vector<Image>& images, const std::vector<MappedFace>& faces, double sigma,
                                Effort& effort) {
  std::vector<FaceLight> light;
  light.reserve(faces.size());
  for (const MappedFace& face : faces) light.push_back(light_on(images, face, sigma, effort));
  return light;
}

}  // namespace

double Solution::all_lit() const {
  double total = 0;
  for (const double one : lit) total += one;
  return total;
}

Solver::Solver(const Scene& scene, const Setting& setting, const QuadratureOptions& options, Effort& effort)
    : scene_(scene), setting_(setting), options_(options), effort_(effort) {}

MappedFace Solver::divided(MappedFace face, bool quick) const {
  MapFace& map = face.layout;
  if (quick && options_.map && map.columns % 2 == 0 && map.rows % 2 == 0) map.columns /= 2, map.rows /= 2;
  return face;
}

double Solver::work(int order, bool quick) {
  const double growth = std::pow(2, order);
  double places = 0;
  for (const SampleCounts& counts : setting_.counts) places += 0.5 * counts.total();
  if (places > most_at_once) return growth * places * (image_looks + places);
  look_first();
  return growth * (quick ? first_work_.quick : first_work_.whole);
}

bool Solver::surely_beyond(double most) {
  constexpr std::size_t few = 32;
  constexpr double sure = 4;
  if (looked_ || setting_.patches.size() < 2 * few) return false;
  const std::size_t step = setting_.patches.size() / few;
  const Solution some = lit_mirrors(0, step);
  const FirstWork work = work_of(some.images);
  return static_cast<double>(step) * (work.quick + 2 * work.whole) > sure * most;
}

void Solver::look_first() {
  if (looked_) return;
  looked_ = true;
  first_ = lit_mirrors(0);
  first_work_ = work_of(first_->images);
}

Solver::FirstWork Solver::work_of(const std::vector<Image>& images) const {
  const double sigma = finest(images);
  FirstWork out;
  out.whole = image_looks * static_cast<double>(images.size());
  if (setting_.receiver.has_plane()) out.whole += widths_work(images, setting_.receiver.band());
  out.quick = out.whole;
  for (const MappedFace& face : divided_for(rough_size(images, setting_.receiver), sigma)) {
    out.whole += face_work(images, divided(face, false), sigma);
    out.quick += face_work(images, divided(face, true), sigma);
  }
  return out;
}

Solution Solver::solve(int order, bool quick) {
  const bool made = order == 0 && first_;
  Solution out = made ? std::move(*first_) : lit_mirrors(order);
  if (made) first_.reset();
  const std::vector<Image>& images = out.images;
  const bool flat = setting_.receiver.flat();
  if (setting_.receiver.has_plane())
    out.widths = spot_widths(images, setting_.receiver.band(), options_.centre, quick ? 1.3 : 1, effort_);
  const double sigma = finest(images);
  if (faces_.empty()) faces_ = lay_out(images, out.widths);
  out.faces = faces_;
  for (MappedFace& face : out.faces) {
    face = divided(face, quick);
  }
  out.light = light_of(images, out.faces, sigma, effort_);
  for (const FaceLight& light : out.light) out.power += light.power;
  out.power = std::min(out.power, out.leaving);  // sums in single precision may end just above
  if (flat) {
    if (std::any_of(images.begin(), images.end(), [](const Image& image) { return !image.front; }))
      out.back = light_on_back(images, out.faces[0], sigma, effort_);
    out.size = out.widths.half.value_or(0);
  } else {
    const double other = other_power(images, setting_.receiver, sigma, effort_);
    (setting_.receiver.has_plane() ? out.lid : out.back) = std::min(other, out.leaving - out.power);
    if (!quick) out.size = middle_width(out.faces, out.light);
  }
  out.back = std::min(out.back, out.leaving - out.power);
  return out;
}

void Solver::find_peak(Solution& coarse, Solution& fine) const {
  const auto brightest = brightest_cell(fine.light);
  if (!brightest) return;
  const MappedFace& face = fine.faces[brightest->face];
  const double disc = std::min(fine.size / 10, face.widest_disc());
  if (disc < 1e-7) return;
  fine.peak = brightest_disc(peak_about(fine.images, face, brightest->cell, effort_), disc);
  coarse.peak = fine.peak;
  const PeakField field = peak_about(coarse.images, face, brightest->cell, effort_).field;
  coarse.peak->irradiance = disc_mean(field, disc, fine.peak->x, fine.peak->y);
}

double Solver::blur_error() const {
  double most = cut_error;
  for (const Blur& blur : setting_.blurs) most = std::hypot(most, blur.sun.error, blur.round.error);
  return most;
}

Solution Solver::lit_mirrors(int order, std::size_t step) const {
  Solution out;
  out.lit.assign(scene_.reflectors.size(), 0);
  for (std::size_t p = 0; p < setting_.patches.size(); p += step) {
    const MirrorPatch& patch = setting_.patches[p];
    const std::size_t k = static_cast<std::size_t>(patch.reflector);
    for (const MirrorSample& sample :
         mirror_samples(patch, setting_.shadow, setting_.changes[p], setting_.sun, scene_.sun.beam, setting_.counts[p], order)) {
      effort_.spend(image_looks);
      const double power = sample.power * scene_.reflectors[k].reflectance;
      out.lit[k] += sample.power;
      out.leaving += power;
      ++out.samples;
      if (power <= 0) continue;
      if (auto image = image_of(sample, setting_.blurs[k], setting_.receiver, setting_.sun, power))
        out.images.push_back(std::move(*image));
    }
  }
  return out;
}

std::vector<MappedFace> Solver::lay_out(const std::vector<Image>& images, const SpotWidths& widths) const {
  const double sigma = finest(images);
  const bool as_traced = options_.map && options_.columns <= 0;
  double size = setting_.receiver.flat() ? widths.half.value_or(0) : 0;
  if (as_traced && !setting_.receiver.flat()) {
    std::vector<MappedFace> rough = setting_.receiver.faces(0);
    for (MappedFace& face : rough) divide_for_sums(face, sigma);
    size = middle_width(rough, light_of(images, rough, sigma, effort_));
  }
  return divided_for(size, sigma);
}

std::vector<MappedFace> Solver::divided_for(double size, double sigma) const {
  std::vector<MappedFace> faces = setting_.receiver.faces(1.5 * size);
  for (MappedFace& face : faces) {
    if (options_.columns > 0) face.layout.columns = options_.columns, face.layout.rows = std::max(1, options_.rows);
    if (!options_.map) divide_for_sums(face, sigma);
  }
  return faces;
}

double map_change(const Solution& coarse, const Solution& fine) {
  double difference = 0, all = 0;
  for (std::size_t f = 0; f < fine.faces.size(); ++f) {
    const MapFace &rough = coarse.faces[f].layout, &map = fine.faces[f].layout;
    const int ratio = map.columns / rough.columns;
    const double area = coarse.faces[f].cell_area();
    const std::vector<double>&a = coarse.light[f].irradiance, &b = fine.light[f].irradiance;
    std::vector<double> means(static_cast<std::size_t>(rough.columns));
    for (int row = 0; row < rough.rows; ++row) {
      std::fill(means.begin(), means.end(), 0.0);
      const double* fine_row = b.data() + static_cast<std::ptrdiff_t>(row * ratio) * map.columns;
      for (int k = 0; k < ratio; ++k) {
        for (double& mean : means) {
          for (int i = 0; i < ratio; ++i) mean += *fine_row++;
        }
      }
      const double* rough_row = a.data() + static_cast<std::ptrdiff_t>(row) * rough.columns;
      for (std::size_t column = 0; column < means.size(); ++column) {
        const double mean = means[column] / (ratio * ratio), change = rough_row[column] - mean;
        difference += area * change * change, all += area * mean * mean;
      }
    }
  }
  return all > 0 ? std::sqrt(difference / all) : 0;
}

}  // namespace dishwright
