// SPDX-License-Identifier: MIT
// Irradiance on curved faces: the sum of all images at places with normals.
#pragma once

#include <functional>
#include <vector>

#include "quadrature/effort.h"
#include "quadrature/image.h"
#include "quadrature/receiver.h"

namespace dishwright {

/// Places of a face with the area each stands for, in blocks of neighbours. Own frame of the target.
struct SurfaceGrid {
  std::vector<float> px, py, pz;  ///< [m]
  std::vector<float> nx, ny, nz;  ///< outward
  std::vector<float> support;     ///< normal · place [m]
  std::vector<double> area;       ///< [m²]
  std::vector<int> cell;          ///< of the map

  struct Block {
    std::size_t begin = 0, end = 0;
    Vector3 middle = Vector3::Zero(), facing = Vector3::Zero();  ///< means of places and normals
    double radius = 0, turned = 0;                               ///< most that a place [m] or a normal [1] is away from them
  };
  std::vector<Block> blocks;

  void add(const Vector3& place, const Vector3& normal, double area_of, int cell_of);
  /// Makes a block of what was added since the last.
  void close_block();
};

/// What is left out of a sum; all is in it where a test is empty.
struct FieldTests {
  std::function<bool(const Image&)> reaches;                              ///< may the image's light come to the face?
  std::function<bool(const Vector3& from, const Vector3& place)> enters;  ///< does it come to this place of it (own frame)?
};

/// Gauss points in the cells of a face's map to which any of the images may send light, so many that they follow detail of the
/// width `sigma` [m].
SurfaceGrid surface_grid(const FaceShape& shape, const MapFace& layout, double sigma, const std::vector<Image>& images,
                         Effort& effort, const FieldTests& tests = {});

/// Irradiance at the grid's places [W/m²]. Precision as field_on_grid().
std::vector<double> field_on_surface(const std::vector<Image>& images, const SurfaceGrid& grid, Effort& effort,
                                     const FieldTests& tests = {});

}  // namespace dishwright
