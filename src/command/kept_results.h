// SPDX-License-Identifier: MIT
// Results of other settings are not written over.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace dishwright {

struct Scene;
struct SweepAxis;

struct ResultsFolder {
  std::filesystem::path folder;
  std::string note;  ///< says so where it is not the one that was wanted; else empty. Ends with a newline
};

/// What tells results apart: of new ones, and how it is read from the files of a folder (empty where it holds none that can be
/// read).
struct ResultsMark {
  std::string own;
  std::function<std::string(const std::filesystem::path& folder)> in;
};
/// By the digest in figures.json.
ResultsMark trace_mark(const std::string& digest);
/// Of --as all: by the digests of all sources, in the order light, sound, radio; each in a folder of its name.
ResultsMark sources_mark(const std::string& digests);
/// Names and digests of the scenes as they were read, and whether targets are moved.
struct ComparedScene {
  std::string name, digest;
  bool moved = false;
};
ResultsMark compare_mark(const std::vector<ComparedScene>& scenes);
/// By the first point's scene, what varies, and whose figures are shown.
ResultsMark sweep_mark(const Scene& first, const std::vector<SweepAxis>& axes, const std::string& target);
/// By the scene as it is searched, the target and what is wanted.
ResultsMark tolerance_mark(const Scene& scene, const std::string& target, double wanted);

/// By the scene as it is aimed, and whose light counts.
ResultsMark aim_mark(const Scene& scene, const std::string& target);

/// By the scene with its load.
ResultsMark heat_mark(const Scene& scene);

/// The wanted folder, unless it holds results of other settings: then NAME-2, NAME-3, … up to 99, the first that is free or has
/// that mark. Beyond that the last is taken, and the note says what it held.
ResultsFolder results_folder(const std::filesystem::path& wanted, const ResultsMark& mark);

}  // namespace dishwright
