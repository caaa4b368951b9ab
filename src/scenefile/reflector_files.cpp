// SPDX-License-Identifier: MIT
// Reflectors whose shape stands in a file of its own: profile and mesh.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/csv.h"
#include "base/error.h"
#include "scenefile/reflector_shapes.h"
#include "shape/meshes/mesh_file.h"

namespace dishwright {

namespace {

constexpr std::size_t most_points = 10'000;       // of a profile
constexpr std::size_t most_told = 10;             // problems of one table
constexpr double shortest = 1e-4, longest = 1e3;  // of things [m]

struct Points {
  std::vector<double> places, heights;
};

/// The column of places: radius or x, whichever is there.
std::optional<int> place_column(const CsvTable& csv, bool trough, std::vector<Problem>& problems) {
  const char* name = csv.find("radius") >= 0 ? "radius" : csv.find("x") >= 0 ? "x" : trough ? "x" : "radius";
  return csv.measured_column(name, Dimension::length, fmt::format("{} [in]", name), problems);
}

/// Places rise, start at the axis or beyond it (a dish), and stay within 1 km.
void check_order(const CsvTable& csv, const Points& points, std::size_t column, bool trough, std::vector<Problem>& problems) {
  const std::string& name = csv.columns()[column].name;
  for (std::size_t i = 0; i < points.places.size() && problems.size() < most_told; ++i) {
    const CsvCell& cell = csv.rows()[i].cells[column];
    if (i > 0 && points.places[i] <= points.places[i - 1]) {
      const std::string& before = csv.rows()[i - 1].cells[column].text;
      const bool same = points.places[i] == points.places[i - 1];
      problems.push_back(csv.problem(cell,
                                     same ? fmt::format("{} {} stands twice", name, cell.text)
                                          : fmt::format("{} {} comes after {}", name, cell.text, before),
                                     "each row lies farther out than the one before",
                                     same ? "take one of the two rows out" : "put the rows in order"));
    }
    if (!trough && points.places[i] < 0) {
      problems.push_back(csv.problem(cell, fmt::format("{} {} is negative", name, cell.text),
                                     "the curve of a dish runs from its axis outward",
                                     "leave out the rows on the other side, or write kind = \"trough\""));
      return;
    }
    if (std::abs(points.places[i]) > longest || std::abs(points.heights[i]) > longest) {
      problems.push_back(csv.problem(cell, fmt::format("the point at {} {} is more than 1 km away", name, cell.text), "",
                                     "check the unit in the header"));
    }
  }
  if (!problems.empty() || points.places.back() - (trough ? points.places.front() : 0) >= shortest) return;
  problems.push_back(
      csv.problem(csv.rows().back().cells[column], "the curve is less than 0.1 mm wide", "", "check the unit in the header"));
}

/// All points of the table. Throws InputError with the problems of that file.
Points read_points(const std::filesystem::path& path, bool trough) {
  const CsvTable csv = read_csv(path);
  std::vector<Problem> problems;
  const std::optional<int> place = place_column(csv, trough, problems);
  const std::optional<int> height = csv.measured_column("height", Dimension::length, "height [in]", problems);
  if (csv.rows().size() > most_points) {
    problems.push_back(csv.problem(fmt::format("the table has {} rows", csv.rows().size()),
                                   fmt::format("a profile has {} points at most", most_points), "leave out points"));
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  Points points;
  for (const CsvRow& row : csv.rows()) {
    const auto x = csv.number(row, *place, problems), y = csv.number(row, *height, problems);
    points.places.push_back(x.value_or(0));
    points.heights.push_back(y.value_or(0));
    if (problems.size() >= most_told) break;
  }
  if (problems.empty() && points.places.size() < 3) {
    problems.push_back(
        csv.problem(fmt::format("the table has only {} point{}", points.places.size(), points.places.size() == 1 ? "" : "s"),
                    "a curve takes 3 points at least", "add rows"));
  }
  if (problems.empty()) check_order(csv, points, static_cast<std::size_t>(*place), trough, problems);
  if (!problems.empty()) throw InputError(std::move(problems));
  return points;
}

}  // namespace

bool FilesBeside::shows(const std::filesystem::path& file) const {
  std::error_code code;
  const std::filesystem::path inside = std::filesystem::canonical(folder.empty() ? "." : folder, code);
  if (code) return false;
  const std::filesystem::path found = std::filesystem::canonical(file, code);
  if (code) return false;
  return std::mismatch(inside.begin(), inside.end(), found.begin(), found.end()).first == inside.end();
}

void report_beside(TableReader& table, bool shows, const InputError& error) {
  if (!shows) {
    table.report("file", fmt::format("{}: what stands in it is not what a {} takes", table.echo("file"), table.shape()),
                 "it lies outside of the project file's folder, so nothing of it is shown here",
                 "put a copy beside the project file: then its mistakes are told with their places");
    return;
  }
  if (!error.problems().front().file.empty()) {
    table.report_elsewhere("file", error.problems());
    return;
  }
  for (const Problem& problem : error.problems())
    table.report("file", table.echo("file") + ": " + problem.what, problem.why, problem.fix);
}

std::filesystem::path named_file(TableReader& table, const std::filesystem::path& folder, const char* why_needed) {
  if (!table.has("file")) table.report_missing("file", why_needed);
  const std::string name = table.text("file").value_or("");
  if (table.has("file") && name.empty() && table.sound())
    table.report("file", fmt::format("{} is empty", table.echo("file")), "it names a file beside the project file",
                 table.write("file", "\"curve.csv\""));
  return name.empty() ? std::filesystem::path() : folder / name;
}

std::optional<ReflectorShape> read_profile(TableReader& table, const FilesBeside& files, Scene& scene) {
  Profile profile;
  profile.trough = word_or_standard(table, "kind") == "trough";
  const CurveKind kind = word_or_standard(table, "curve") == "straight" ? CurveKind::straight : CurveKind::fair;
  profile.hole_width = table.measure_or_standard("hole_width");
  if (profile.trough) {
    profile.length = Needed(table)("length", "a trough has a length, along y");
  } else if (table.has("length")) {
    table.report("length", fmt::format("{} stands beside kind = \"dish\"", table.echo("length")), "only a trough has a length",
                 "take it out, or write kind = \"trough\"");
  }
  if (profile.trough && profile.hole_width > 0)
    table.report("hole_width", fmt::format("{} stands beside kind = \"trough\"", table.echo("hole_width")),
                 "only a dish has a round hole", "take it out");
  const std::filesystem::path path = named_file(table, files.folder, "the points of a profile stand in a table of their own");
  if (path.empty()) return std::nullopt;
  const auto points = read_beside(table, files, path, [&] {
    return files.cache->get(fmt::format("profile {} {}", profile.trough, path.string()),
                            [&] { return read_points(path, profile.trough); });
  });
  if (!points) return std::nullopt;

  const double start = (*points)->places.front();
  const bool mirror = profile.trough && start == 0;
  auto curve = mirror ? ProfileCurve::mirrored((*points)->places, (*points)->heights, kind)
                      : ProfileCurve((*points)->places, (*points)->heights, kind, !profile.trough && start == 0);
  const auto inches = [](double metres) { return format_quantity(metres, Dimension::length, &all_units().front()); };
  if (mirror)
    scene.notes.push_back(
        fmt::format("{}: its curve starts at x = 0, so the other side is taken as its mirror image", table.path()));
  if (!profile.trough && start > 0) {
    profile.hole_width = std::max(profile.hole_width, 2 * start);
    scene.notes.push_back(fmt::format("{}: its curve starts {} from the axis, so it has a hole {} wide", table.path(),
                                      inches(start), inches(profile.hole_width)));
  }
  profile.width = profile.trough ? curve.rim() - curve.start() : 2 * curve.rim();
  profile.curve = std::make_shared<const ProfileCurve>(std::move(curve));
  return profile;
}

std::optional<ReflectorShape> read_mesh(TableReader& table, const FilesBeside& files, Scene& scene) {
  Mesh mesh;
  mesh.smooth = word_or_standard(table, "normals") == "smooth";
  const std::string unit = word_or_standard(table, "unit");
  const std::filesystem::path path = named_file(table, files.folder, "the triangles of a mesh stand in a file of their own");
  if (path.empty()) return std::nullopt;
  const auto parsed = parse_quantity("1 " + unit, Dimension::length);
  const double metres = std::get<Quantity>(parsed).value;
  const auto kept = read_beside(table, files, path, [&] {
    return files.cache->get(fmt::format("mesh {} {}", metres, path.string()), [&] { return load_mesh(path, metres); });
  });
  if (!kept) return std::nullopt;
  const MeshFile& file = **kept;
  mesh.mesh = file.mesh;
  if (!table.has("unit"))
    scene.notes.push_back(fmt::format("{}: the numbers of its file are taken as metres; unit says otherwise", table.path()));
  for (const std::string& note : file.notes) scene.notes.push_back(fmt::format("{}: {}", table.path(), note));
  return mesh;
}

}  // namespace dishwright
