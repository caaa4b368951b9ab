// SPDX-License-Identifier: MIT
// A survey of tiles as a user runs it: square, six-sided and round ones, from the form to the tile that hangs.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <sstream>
#include <vector>

#include "approx.h"
#include "command/shell.h"

using namespace dishwright::testing;

namespace {

/// Tiles of 4.5 in on a dish 26 in wide, focal length 24 in; a disc 7 in wide, which their light fills well.
std::string project(const std::string& shape) {
  return fmt::format(
      "title = \"Tiles\"\n[sun]\n[reflector.dish]\nshape = \"facets\"\nframe = \"paraboloid\"\nfocal_length = \"24 in\"\n"
      "width = \"26 in\"\ntile = \"4.5 in\"\ntile_shape = \"{}\"\ngap = \"1/4 in\"\nfinish = \"silvered glass\"\n"
      "[target.pot]\nshape = \"disk\"\nwidth = \"7 in\"\nat = \"focus of dish\"\n[trace]\npaths = 20_000\n",
      shape);
}

struct Row {
  std::string place, tile;
  double x = 0, y = 0;  // [in]
};

/// The rows of the table that goes with the form, without depths.
std::vector<Row> rows_of(const std::string& table) {
  std::vector<Row> out;
  std::istringstream lines(table);
  std::string line;
  std::getline(lines, line);
  CHECK(line == "place,x [in],y [in],depth [in]");
  while (std::getline(lines, line)) {
    std::istringstream cells(line);
    Row row;
    std::string x, y, depth;
    std::getline(cells, row.place, ','), std::getline(cells, x, ','), std::getline(cells, y, ','), std::getline(cells, depth);
    CHECK(depth.empty());
    row.x = std::stod(x), row.y = std::stod(y);
    row.tile = row.place.substr(0, row.place.find(')') + 1);
    out.push_back(row);
  }
  return out;
}

/// The middle of the four places of each tile [in].
std::map<std::string, std::pair<double, double>> middles_of(const std::vector<Row>& rows) {
  std::map<std::string, std::pair<double, double>> out;
  for (const Row& row : rows) out[row.tile].first += row.x / 4, out[row.tile].second += row.y / 4;
  return out;
}

/// Depth of a flat tile that touches z = r²/(4 f) in its middle, 5 in under the straightedge in the middle of the dish, to 1/32 in;
/// `hangs` leans by `lean` more about its y axis: its left is too low [in].
std::string filled(const std::vector<Row>& rows, const std::string& hangs, double lean) {
  const auto middles = middles_of(rows);
  std::string out = "place,x [in],y [in],depth [in]\n";
  for (const Row& row : rows) {
    const auto [cx, cy] = middles.at(row.tile);
    double z = (cx * cx + cy * cy) / 96 + (cx * (row.x - cx) + cy * (row.y - cy)) / 48;
    if (row.tile == hangs) z += lean * (row.x - cx);
    out += fmt::format("{},{},{},{}\n", row.place, row.x, row.y, std::round((5 - z) * 32) / 32);
  }
  return out;
}

}  // namespace

TEST_CASE("tiles of every shape: from the form to the tile that hangs" * doctest::test_suite("slow")) {
  for (const std::string shape : {"square", "hexagon", "round"}) {
    CAPTURE(shape);
    const Shell shell;
    shell.write("tiles.toml", project(shape));
    const Ran form = shell.run("\"$DW\" survey --form tiles.toml --out form");
    CAPTURE(form.err);
    REQUIRE(form.code == 0);
    CHECK(file_content(shell.here() / ("form/readings-form.pdf")).substr(0, 5) == "%PDF-");
    const std::vector<Row> rows = rows_of(file_content(shell.here() / "form/readings.csv"));
    const auto middles = middles_of(rows);
    // No more than 36 tiles: all of them are read, in four places each.
    CHECK(rows.size() == 4 * middles.size());
    CHECK(middles.size() > 15);
    CHECK(middles.size() <= 36);
    // The tile that lies farthest right of the middle hangs by 60 mrad.
    std::string hangs;
    for (const auto& [tile, at] : middles) {
      if (hangs.empty() || at.first - 0.01 * at.second > middles.at(hangs).first - 0.01 * middles.at(hangs).second) hangs = tile;
    }
    // As designed, to 1/32 in: the light meets in the focus.
    shell.write("true.csv", filled(rows, "", 0));
    const auto level = nlohmann::json::parse(shell.run("\"$DW\" survey true.csv --scene tiles.toml --json").out);
    const auto& length = level["fit"]["focal_length"];
    CHECK(std::abs(length["value"].get<double>() - 24 * 0.0254) < 3 * length["std_error"].get<double>());
    CHECK(length["std_error"].get<double>() < 0.6 * 0.0254);
    shell.write("typed.csv", filled(rows, hangs, 0.06));
    const Ran ran = shell.run("\"$DW\" survey typed.csv --scene tiles.toml --json");
    CAPTURE(ran.err);
    REQUIRE(ran.code <= 1);
    const auto found = nlohmann::json::parse(ran.out);
    CHECK(found["fit"]["shape"] == "facets");
    CHECK(found["tiles_read"] == middles.size());
    CHECK(found["tiles_with_lean"] == middles.size());
    CHECK(found["set_aside"].empty());
    // It is named, with the way to turn it: 60 mrad over a tile of 4.5 in are 0.27 in.
    REQUIRE(!found["worst"].empty());
    const std::string words = found["worst"][0]["words"];
    CAPTURE(words);
    const std::string numbers = hangs.substr(hangs.find('(') + 1);  // "3-5)"
    const std::string name = "row " + numbers.substr(0, numbers.find('-')) + ", tile " +
                             numbers.substr(numbers.find('-') + 1, numbers.size() - 2 - numbers.find('-'));
    CHECK(words.find(name + " (") == 0);
    CHECK(words.find(std::string("raise its left ") + (shape == "square" ? "edge" : "side") + " by 1/4 in") != std::string::npos);
    CHECK(found["worst"][0]["gain"]["value"].get<double>() > 0.002);
    // One tile of so many, nearly out of the pot: about its part of the light.
    const double share = found["light"]["targets"]["pot"]["intercept"]["value"],
                 meant = found["light"]["targets"]["pot"]["intercept_meant"]["value"];
    CHECK(share < meant);
    CHECK(share > meant - 2.0 / static_cast<double>(middles.size()));
    // In words too, the worst tile by its name; and the files.
    const Ran told = shell.run("\"$DW\" survey typed.csv --scene tiles.toml --out out");
    CHECK(told.out.find(name) != std::string::npos);
    CHECK(told.out.find("CAUTION") != std::string::npos);
    for (const char* const file : {"lean-map.png", "height-map.png", "aim-map.png"})
      CHECK(file_content(shell.here() / (std::string("out/") + file)).substr(1, 3) == "PNG");
  }
}

TEST_CASE("a tile read at one corner has a height, no lean; readings beside every tile are refused") {
  const Shell shell;
  shell.write("tiles.toml", project("square"));
  REQUIRE(shell.run("\"$DW\" survey --form tiles.toml --out form").code == 0);
  const std::vector<Row> rows = rows_of(file_content(shell.here() / "form/readings.csv"));
  const std::string whole = filled(rows, "", 0);
  // Three of the four rows of the first tile left out.
  std::string one = whole;
  for (int k = 0; k < 3; ++k) one.erase(one.find('\n') + 1, one.find('\n', one.find('\n') + 1) - one.find('\n'));
  shell.write("one.csv", one);
  const auto found = nlohmann::json::parse(shell.run("\"$DW\" survey one.csv --scene tiles.toml --json").out);
  CHECK(found["tiles_with_lean"].get<int>() + 1 == found["tiles_read"].get<int>());
  CHECK(std::count_if(found["tiles"].begin(), found["tiles"].end(), [](const auto& tile) { return tile["lean_x"].is_null(); }) ==
        1);
  CHECK(found["hidden"][0]["what"] == "tiles without a lean");
  // A table of a larger dish: no reading lies on a tile.
  std::string far = "place,x [in],y [in],depth [in]\n";
  for (int k = 0; k < 12; ++k) far += fmt::format("{},{},{},3\n", k, 40 + k, k % 2 == 0 ? 40 : -40);
  shell.write("far.csv", far);
  const Ran refused = shell.run("\"$DW\" survey far.csv --scene tiles.toml --out out");
  CHECK(refused.code == 2);
  CAPTURE(refused.err);
  CHECK(refused.err.find("no tile") != std::string::npos);
  CHECK(shell.files().count("out/") == 0);
}
