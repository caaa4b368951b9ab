// SPDX-License-Identifier: MIT
// Two runs with other settings leave two folders, each with its own pictures; the same settings write over their own.
#include "command/kept_results.h"

#include <doctest/doctest.h>

#include <sstream>

#include "command/page_figures.h"
#include "command/shell.h"

using namespace dishwright::testing;

TEST_CASE("results of other settings stay, and the screen says where the new ones are") {
  const Shell shell;
  const std::string trace = "\"$DW\" trace \"$SCENES/kettle-dish.toml\" --set trace.paths=2000 ";
  const auto digest = [&](const std::string& folder) {
    const std::string text = file_content(shell.here() / folder / "figures.json");
    return text.empty() ? std::string("none") : nlohmann::json::parse(text)["scene_digest"].get<std::string>();
  };
  const Ran first = shell.run(trace);
  REQUIRE(first.code == 0);
  CHECK_FALSE(holds(first.out, "other settings"));
  const std::string before = digest("out/kettle-dish"), picture = file_content(shell.here() / "out/kettle-dish/map.png");
  const Ran other = shell.run(trace + "--set 'sun.aim_error=2 deg'");
  CHECK(holds(other.out, "Written into out/kettle-dish-2:\n"));
  CHECK(holds(other.out,
              "Note: out/kettle-dish holds the results of other settings and stays as it is;\n"
              "  these are in out/kettle-dish-2.\n\nAnswer\n"));
  CHECK(digest("out/kettle-dish") == before);
  CHECK(file_content(shell.here() / "out/kettle-dish/map.png") == picture);
  CHECK(digest("out/kettle-dish-2") != before);
  // Each setting again: it finds its own folder.
  CHECK_FALSE(holds(shell.run(trace).out, "other settings"));
  CHECK(holds(shell.run(trace + "--set 'sun.aim_error=2 deg'").out, "Written into out/kettle-dish-2:\n"));
  CHECK(holds(shell.run(trace + "--set 'sun.aim_error=3 deg'").out, "Written into out/kettle-dish-3:\n"));
  CHECK(shell.files().count("out/kettle-dish-4/") == 0);
  // A folder that was asked for is written over, as asked.
  CHECK(holds(shell.run(trace + "--out out/kettle-dish --set 'sun.aim_error=2 deg'").out, "Written into out/kettle-dish:\n"));
  CHECK(digest("out/kettle-dish") == digest("out/kettle-dish-2"));
}

TEST_CASE("a folder with spoilt or strange figures.json is free") {
  const Shell shell;
  const auto folder = shell.here() / "f";
  for (const char* text : {"", "{", "[1, 2]", "{\"scene_digest\": 3}", "{}"}) {
    std::filesystem::create_directories(folder);
    shell.write("f/figures.json", text);
    CHECK(dishwright::results_folder(folder, dishwright::trace_mark("0123456789ab")).folder == folder);
  }
  shell.write("f/figures.json", "{\"scene_digest\": \"ba9876543210\"}");
  CHECK(dishwright::results_folder(folder, dishwright::trace_mark("0123456789ab")).folder == shell.here() / "f-2");
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder / "figures.json");
  CHECK(dishwright::results_folder(folder, dishwright::trace_mark("0123456789ab")).folder == folder);
}

TEST_CASE("comparisons, sweeps, tolerances and several sources keep results of other settings, too" *
          doctest::test_suite("slow")) {
  const Shell shell;
  const std::string kettle = "\"$SCENES/kettle-dish.toml\" --set trace.paths=1000 ",
                    uses = "\"$SCENES/three-uses.toml\" --set trace.paths=1000 ";
  struct Case {
    std::string first, other, folder, file;
  };
  const std::string aim = "--vary 'sun.aim_error=0 deg:1 deg:2' ";
  for (const Case& one : std::vector<Case>{
           {"compare " + kettle + "--shape paraboloid,sphere",
            "compare " + kettle + "--shape paraboloid,sphere --set 'sun.aim_error=2 deg'", "kettle-dish-compare", "maps.png"},
           {"compare " + kettle + "--shape paraboloid,sphere", "compare " + kettle + "--shape paraboloid,cone",
            "kettle-dish-compare", "maps.png"},
           {"compare " + kettle + "--best-position", "compare " + kettle + "--best-position --set 'sun.aim_error=2 deg'",
            "kettle-dish-compare", "maps.png"},
           {"sweep " + kettle + aim, "sweep " + kettle + "--vary 'sun.aim_error=0 deg:2 deg:2'", "kettle-dish-sweep",
            "sweep.csv"},
           {"sweep " + kettle + aim, "sweep " + kettle + aim + "--set 'reflector.dish.slope_error=9 mrad'", "kettle-dish-sweep",
            "sweep.csv"},
           {"tolerance " + kettle, "tolerance " + kettle + "--wanted '80 %'", "kettle-dish-tolerance", "tolerance.txt"},
           {"trace --as all " + uses, "trace --as all " + uses + "--set reflector.dish.wave_reflectance=0.5", "three-uses",
            "three-uses.pdf"}}) {
    CAPTURE(one.other);
    std::filesystem::remove_all(shell.here() / "out");
    const std::string folder = "out/" + one.folder;
    const Ran first = shell.run("\"$DW\" " + one.first);
    REQUIRE(first.code <= 1);
    CHECK_FALSE(holds(first.out, "other settings"));
    const std::string before = file_content(shell.here() / folder / one.file);
    REQUIRE_FALSE(before.empty());
    const Ran other = shell.run("\"$DW\" " + one.other);
    CHECK(holds(on_one_line(other.out), "Note: " + folder + " holds the results of other settings and stays as it is;"));
    CHECK(file_content(shell.here() / folder / one.file) == before);
    CHECK(shell.files().count(folder + "-2/" + one.file) == 1);
    // The same settings write over their own.
    CHECK_FALSE(holds(shell.run("\"$DW\" " + one.first).out, "other settings"));
    CHECK(holds(shell.run("\"$DW\" " + one.other).out, "Written into " + folder + "-2"));
    CHECK_FALSE(std::filesystem::exists(shell.here() / (folder + "-3")));
  }
}

TEST_CASE("a changed setting is set beside the file as it is: both maps' figures, what was set, one sheet") {
  const Shell shell;
  const std::string trace = "\"$DW\" trace \"$SCENES/kettle-dish.toml\" --set trace.paths=20000 ";
  // The paths alone are no other scene to look at.
  const Ran plain = shell.run(trace + "--out plain");
  REQUIRE(plain.code == 0);
  CHECK(shell.files().count("plain/before-after.pdf") == 0);
  const Ran changed =
      shell.run(trace + "--out changed --set 'sun.aim_error=9 deg' --set 'target.kettle.offset=[0 in, 0 in, 1 in]'");
  REQUIRE(changed.code == 0);
  CHECK(holds(changed.out, "before-after.pdf, before-after.png  the file as it is beside this"));
  CHECK(holds(shell.run("pdfinfo changed/before-after.pdf").out, "Pages:           1"));
  const std::string sheet = shell.run("pdftotext -layout changed/before-after.pdf - | tr -s ' \\n' ' '").out;
  CHECK(holds(sheet, "What does it change? aim_error 0.5 deg -> 9 deg; offset "));
  CHECK_FALSE(holds(sheet, "paths 20000"));
  // Before: the figures of the plain run. After: those of the changed one.
  const auto share = [&](const char* folder) {
    const auto all = nlohmann::json::parse(file_content(shell.here() / folder / "figures.json"));
    return 100 * all["targets"]["kettle"]["intercept"]["value"].get<double>();
  };
  const double before = share("plain"), after = share("changed");
  CHECK(before - after > 5);
  std::ostringstream row;
  row.precision(3);
  row << "share on the kettle " << before << " % " << after << " %";
  CHECK(holds(sheet, row.str()));
  // JSON alone draws nothing; a file that needs what was set has nothing to stand beside.
  CHECK(shell.run(trace + "--json --set 'sun.aim_error=9 deg'").code == 0);
  CHECK(shell.files().count("out/kettle-dish/before-after.pdf") == 0);
  const Ran other = shell.run(trace + "--out other --set target.kettle.shape=ball --set 'sun.aim_error=9 deg'");
  CHECK(shell.files().count("other/before-after.pdf") == 0);
}
