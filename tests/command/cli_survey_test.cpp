// SPDX-License-Identifier: MIT
// `dishwright survey` as a user runs it.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <random>

#include "approx.h"
#include "command/shell.h"

using namespace dishwright::testing;

namespace {

/// Readings of a dish of focal length f [in] with a wave of the given amplitude [in] and 16 in period, to 0.01 in.
std::string readings(double f, double wave, double shift = 0) {
  std::mt19937_64 random(5);
  std::normal_distribution<double> scatter(0, 0.01);
  std::string out = "x [in],y [in],depth [in]\n";
  for (int i = -9; i <= 9; ++i) {
    for (int j = -9; j <= 9; ++j) {
      const double x = 2.5 * i, y = 2.5 * j;
      if (std::hypot(x, y) > 23.5) continue;
      const double z = ((x - shift) * (x - shift) + y * y) / (4 * f) + wave * std::cos(2 * std::numbers::pi * x / 16);
      out += fmt::format("{},{},{:.2f}\n", x, y, 7 - z + scatter(random));
    }
  }
  return out;
}

nlohmann::json run_json(const Shell& shell, const std::string& words, int code) {
  const Ran ran = shell.run("\"$DW\" survey " + words + " --json");
  CAPTURE(ran.err);
  CHECK(ran.code == code);
  return nlohmann::json::parse(ran.out);
}

}  // namespace

TEST_CASE("a true dish passes, a spoiled one fails, one near the limit is too close to call" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("true.csv", readings(24, 0));
  shell.write("wavy.csv", readings(24, 0.4));
  const auto good = run_json(shell, "true.csv --scene \"$SCENES/kettle-dish.toml\" --frequency 2GHz", 0);
  CHECK(good["fit"]["shape"] == "paraboloid");
  CHECK(good["fit"]["focal_length"]["value"].get<double>() == dishwright::testing::approx(24 * 0.0254).epsilon(0.003));
  // The kettle of the file and the frequency that was asked for; no speech.
  REQUIRE(good["uses"].size() == 2);
  CHECK(good["uses"][0]["use"] == "kettle");
  for (const auto& use : good["uses"]) CHECK(use["holds"] == true);
  // 0.4 in waves, 16 in long: 110 mrad rms across; the kettle gets far less than 90 %.
  const auto bad = run_json(shell, "wavy.csv --scene \"$SCENES/kettle-dish.toml\"", 1);
  CHECK(bad["uses"][0]["verdict"] == "fail");
  CHECK(bad["uses"][0]["holds"] == false);
  CHECK(bad["slope_rms_x"]["value"].get<double>() ==
        dishwright::testing::approx(2 * std::numbers::pi * 0.4 / (std::numbers::sqrt2 * 16)).epsilon(0.1));
  // Ask for just the share that was found: no survey can decide that.
  const double share = bad["uses"][0]["value"]["value"].get<double>();
  const auto close =
      run_json(shell, fmt::format("wavy.csv --scene \"$SCENES/kettle-dish.toml\" --wanted {:.6f}%", 100 * share), 1);
  CHECK(close["uses"][0]["verdict"] == "too close to call");
  CHECK(close["uses"][0]["holds"].is_null());
}

TEST_CASE("a focus in the wrong place: per-cent error and the move that mends it" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("long.csv", readings(32, 0, 0.5));
  const auto found = run_json(shell, "long.csv --scene \"$SCENES/kettle-dish.toml\" --set target.kettle.width=2in", 1);
  CHECK(found["design"][0]["error_per_cent"].get<double>() == dishwright::testing::approx(100.0 / 3).epsilon(0.02));
  const std::string first = found["first"];
  CAPTURE(first);
  CHECK(holds(first, "move the kettle"));
  CHECK(holds(first, "away from the dish"));
  CHECK(holds(first, "1/2 in to the right"));
}

TEST_CASE("files: written whole, the same each time; none with --json") {
  const Shell shell;
  shell.write("r.csv", readings(24, 0));
  CHECK(shell.run("\"$DW\" survey r.csv --json").code == 0);
  CHECK(shell.files() == std::set<std::string>{"r.csv"});
  CHECK(shell.run("\"$DW\" survey r.csv --out a").code == 0);
  CHECK(shell.run("\"$DW\" survey r.csv --out b --threads 1").code == 0);
  CHECK(shell.files() == std::set<std::string>{"r.csv", "a/", "a/residual-map.png", "a/section.png", "a/slope-map.png",
                                               "a/survey.json", "a/verdict.pdf", "b/", "b/residual-map.png", "b/section.png",
                                               "b/slope-map.png", "b/survey.json", "b/verdict.pdf"});
  CHECK(shell.run("diff -r a b").code == 0);
  CHECK(shell.run("\"$DW\" survey r.csv --out sub/c --paper a4 --units si && pdfinfo sub/c/verdict.pdf | grep -q 'Pages: *1$'")
            .code == 0);
}

TEST_CASE("a measured mirror in a project file: traced, and compared with its design") {
  const Shell shell;
  shell.write("r.csv", readings(24, 0));
  const std::string sun = "[sun]\nbeam = \"850 W/m2\"\n", rest =
                                                              "[target.kettle]\nshape = \"pot\"\nwidth = \"6 in\"\nheight = \"5 "
                                                              "in\"\nat = \"focus of dish\"\n[trace]\npaths = 20000\n";
  shell.write("built.toml", "title = \"built\"\n" + sun +
                                "[reflector.dish]\nshape = \"measured\"\nfile = \"r.csv\"\nwidth = \"48 in\"\n" + rest);
  shell.write("meant.toml", "title = \"meant\"\n" + sun +
                                "[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"24 in\"\nwidth = \"48 in\"\n" + rest);
  const Ran ran = shell.run("\"$DW\" compare built.toml meant.toml --json");
  CAPTURE(ran.err);
  REQUIRE(ran.code == 0);
  const auto both = nlohmann::json::parse(ran.out)["scenes"];
  const auto power = [&](int k) { return both[k]["targets"]["kettle"]["power"]["value"].get<double>(); };
  // 850 W/m² on a disc of 48 in, less the shadow of the kettle: the same light to a per mille.
  CHECK(power(0) == dishwright::testing::approx(power(1)).epsilon(2e-3));
  CHECK(both[0]["targets"]["kettle"]["intercept"]["value"].get<double>() > 0.998);
  CHECK(shell.run("\"$DW\" trace built.toml --replay 3").code == 0);
}

TEST_CASE("the spot that the measured mirror makes is drawn beside the sheet" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("r.csv", readings(24, 0.05));
  CHECK(shell.run("\"$DW\" survey r.csv --scene \"$SCENES/kettle-dish.toml\" --out a > a.txt").code == 0);
  CHECK(shell.run("\"$DW\" survey r.csv --scene \"$SCENES/kettle-dish.toml\" --out b --threads 1 > /dev/null && diff -r a b")
            .code == 0);
  CHECK(file_content(shell.here() / "a/spot.png").size() > 5000);
  CHECK(holds(file_content(shell.here() / "a.txt"), "spot.png"));
  CHECK(shell.run("pdftotext a/verdict.pdf - | grep -q 'Spot on the kettle'").code == 0);
  const auto light = nlohmann::json::parse(file_content(shell.here() / "a/survey.json"))["light"];
  CHECK(light["targets"]["kettle"]["intercept"]["std_error"].get<double>() >= 0);
  CHECK(light["repairs"].size() >= 1);
}

TEST_CASE("the form goes with its table: filled in, it is read back") {
  const Shell shell;
  CHECK(shell.run("\"$DW\" survey --form \"$SCENES/kettle-dish.toml\" --out f").code == 0);
  CHECK(shell.files() == std::set<std::string>{"f/", "f/readings-form.pdf", "f/readings.csv"});
  const Ran blank = shell.run("\"$DW\" survey f/readings.csv");
  CHECK(blank.code == 2);
  CHECK(holds(blank.err, "has no depth"));
  // awk fills in the depths of the design: 6 − r²/96 in.
  CHECK(shell
            .run("awk -F, 'NR==1{print;next}{printf \"%s,%s,%.3f\\n\",$1,$2,6-$1*$1/96}' f/readings.csv > filled.csv && \"$DW\" "
                 "survey filled.csv --json > out.json")
            .code == 0);
  const auto found = nlohmann::json::parse(file_content(shell.here() / "out.json"));
  CHECK(found["fit"]["focal_length"]["value"].get<double>() == dishwright::testing::approx(24 * 0.0254).epsilon(1e-3));
  // 12 places on rings 1 to 3, in turn at the hours and the half hours; 24 on the outer three; none in the hole.
  CHECK(found["readings"] == 3 * 12 + 3 * 24);
  REQUIRE(found["hidden"].size() == 6);
  CHECK(found["hidden"][2]["places"] == 12);
  CHECK(found["hidden"][5]["places"] == 24);
  CHECK(found["hidden"][5]["wave"]["value"].get<double>() ==
        dishwright::testing::approx(4 * 23.5 * 0.0254 * std::sin(std::numbers::pi / 24)).epsilon(1e-6));
  CHECK(found["hidden"][5]["share_at_risk"].is_null());
  // With the kettle: nothing that hides could spoil it.
  const auto kettle = run_json(shell, "filled.csv --scene \"$SCENES/kettle-dish.toml\" --set trace.paths=4000", 0);
  CHECK(kettle["uses"][0]["verdict"] == "pass");
  CHECK(kettle["uses"][0]["at_risk"]["value"].get<double>() < 0.05);
  CHECK(shell.run("pdftotext f/readings-form.pdf - | grep -q straightedge").code == 0);
  CHECK(shell.run("\"$DW\" survey --form --shape trough --width 36in --length 60in --units si --paper a4 --out t").code == 0);
}

TEST_CASE("a dish is a dish: forms and verdicts for sound and radio") {
  const Shell shell;
  for (const char* scene : {"bird-song-dish", "balloon-dish", "three-uses"}) {
    CAPTURE(scene);
    CHECK(shell.run(fmt::format("\"$DW\" survey --form \"$SCENES/{}.toml\" --out {}", scene, scene)).code == 0);
    CHECK(file_content(shell.here() / scene / "readings.csv").size() > 100);
    CHECK(shell.run(fmt::format("pdftotext {}/readings-form.pdf - | grep -q straightedge", scene)).code == 0);
  }
  // A dish of 6 in focal length, 24 in wide, exact: 6 − r²/24 in.
  std::string table = "ring [in],clock [h],depth [in]\n0,12,6\n";
  for (const int ring : {2, 4, 6, 8, 10}) {
    for (int clock = 1; clock <= 12; ++clock) table += fmt::format("{},{},{:.4f}\n", ring, clock, 6 - ring * ring / 24.0);
  }
  shell.write("birds.csv", table);
  const auto birds = run_json(shell, "birds.csv --scene \"$SCENES/bird-song-dish.toml\"", 0);
  REQUIRE(birds["uses"].size() == 5);
  CHECK(birds["uses"][4]["use"] == "8 kHz sound");
  CHECK(birds["uses"][4]["frequency"]["value"] == 8000);
  const auto bare = run_json(shell, "birds.csv", 0);
  REQUIRE(bare["uses"].size() == 1);
  CHECK(bare["uses"][0]["use"] == "speech");
  CHECK_FALSE(birds.contains("light"));
  CHECK(birds["design"][0]["figure"] == "focal length");
  // A dent that costs the high song only: 1 in of wave 16 in long is 0.7 in rms, a fifth of the wavelength of 4 kHz.
  shell.write("wavy.csv", readings(24, 0.5));
  const auto radio = run_json(shell, "wavy.csv --scene \"$SCENES/balloon-dish.toml\" --frequency 10.4GHz", 1);
  CHECK(holds(radio["uses"][0]["use"].get<std::string>(), "GHz radio"));
  CHECK(radio["uses"].back()["verdict"] == "fail");
  CHECK_FALSE(radio.contains("light"));
  const Ran ran = shell.run("\"$DW\" survey birds.csv --scene \"$SCENES/bird-song-dish.toml\" --out b");
  CHECK(ran.code == 0);
  CHECK(holds(ran.out, "8 kHz sound: the surface is off by"));
}

TEST_CASE("a dish for several uses is judged for each of them" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("r.csv", readings(24, 0));
  const auto found = run_json(shell, "r.csv --wanted 80% --scene \"$SCENES/three-uses.toml\"", 0);
  std::string uses;
  for (const auto& use : found["uses"]) uses += use["use"].get<std::string>() + "; ";
  CAPTURE(uses);
  CHECK(found.contains("light"));
  CHECK(holds(uses, "Hz sound"));
  CHECK(holds(uses, "GHz radio"));
}

TEST_CASE("petals: from the starter to the verdict; what was not read is named" * doctest::test_suite("slow")) {
  const Shell shell;
  REQUIRE(
      shell.run("\"$DW\" new --like petals p.toml && \"$DW\" survey --form p.toml --set reflector.dish.count=8 --out f").code ==
      0);
  CHECK(shell.run("pdftotext f/readings-form.pdf - | grep -q 'Two\\|two straight laths'").code == 0);
  // Depths of 8 flat petals of 24 in, the first middle line at 3 o'clock, in sixteenths.
  const std::string fill =
      "awk -F, 'NR==1{print;next}{t=6.28318530718/8;a=1.57079632679-$3/12*6.28318530718;k=int(a/t+8.5)-8;"
      "u=$2*cos(a-k*t);printf \"%s,%s,%s,%.4f\\n\",$1,$2,$3,int((6-u*u/96)*16+0.5)/16}' f/readings.csv > filled.csv";
  REQUIRE(shell.run(fill).code == 0);
  const std::string scene = " --scene p.toml --set reflector.dish.count=8 --set trace.paths=2000";
  const auto found = run_json(shell, "filled.csv" + scene, 1);
  CHECK(found["fit"]["shape"] == "petals");
  CHECK(found["fit"]["petals"] == 8);
  CHECK(found["fit"]["focal_length"]["value"].get<double>() == dishwright::testing::approx(24 * 0.0254).epsilon(5e-3));
  CHECK(found["fits"].contains("paraboloid"));
  CHECK(found["uses"].size() == 1);
  const auto& light = found["light"]["targets"]["kettle"];
  CHECK(light["intercept_low"]["value"].get<double>() <= light["intercept"]["value"].get<double>());
  // Without a project file the petals are seen in the readings.
  const auto bare = run_json(shell, "filled.csv", 0);
  CHECK(bare["fit"]["petals"] == 8);
  // Petal 3 not read.
  REQUIRE(shell.run("awk -F, 'NR==1||$3<2.2||$3>3.8' filled.csv > part.csv").code == 0);
  const Ran part = shell.run("\"$DW\" survey part.csv" + scene);
  CHECK(part.code == 2);
  CHECK(holds(part.err, "no readings on 1 of the 8 petals: petal 3"));
}

TEST_CASE("blank rows and mixed depths of a spreadsheet are told") {
  const Shell shell;
  std::string table = readings(24, 0);
  table.insert(table.find('\n') + 1, ",,\n\n,,\n");
  shell.write("blank.csv", table + ",,\n,,\n");
  const auto found = run_json(shell, "blank.csv", 0);
  REQUIRE(found["notes"].size() == 1);
  CHECK(found["notes"][0] == "4 blank rows were passed over");
}

TEST_CASE("places read twice are said in words and in figures") {
  const Shell shell;
  const std::string table = readings(24, 0);
  std::string again = table;
  std::mt19937_64 random(11);
  for (std::size_t at = table.find('\n') + 1; at < table.size();) {
    const std::size_t end = table.find('\n', at), comma = table.rfind(',', end);
    again += table.substr(at, comma + 1 - at) +
             fmt::format("{:.2f}\n", std::stod(table.substr(comma + 1, end - comma - 1)) + (random() % 2 == 0 ? 0.02 : -0.02));
    at = end + 1;
  }
  shell.write("twice.csv", again);
  const auto found = run_json(shell, "twice.csv", 0);
  CHECK(found["readings"].get<int>() == 2 * found["places"].get<int>());
  CHECK(found["repeats"]["places"] == found["places"]);
  // Two readings 0.02 in apart have a standard deviation of 0.02/sqrt 2 in, along the surface's normal a little less.
  CHECK(found["repeats"]["scatter"]["value"].get<double>() == dishwright::testing::approx(0.0135 * 0.0254).epsilon(0.06));
  CHECK(found["repeats"]["used_as_noise"] == true);
  CHECK(found["slope_rms"]["value"].get<double>() < 0.01);
  const Ran ran = shell.run("\"$DW\" survey twice.csv --out a");
  CHECK(holds(ran.out, "places were read more than once"));
}

TEST_CASE("found dishes on the command line") {
  const Shell shell;
  const auto round = run_json(shell, "--found --width '12 ft' --depth '4 ft'", 0);
  CHECK(round["focal_length"]["value"].get<double>() == dishwright::testing::approx(2.25 * 0.3048).epsilon(1e-9));
  CHECK(round["focal_length"]["std_error"].get<double>() > 0);
  const auto offset = run_json(shell, "--found --width 20in --height 22in --depth 1.5in", 0);
  CHECK(offset["focal_length"]["value"].get<double>() ==
        dishwright::testing::approx(20 * 20 * 20 / (16 * 1.5 * 22) * 0.0254).epsilon(1e-9));
  CHECK(offset["strings"].size() == 3);
  // ± 1/4 in of 1 1/2 in: the focus is known to some 10 % only, and no string is told.
  const Ran rough = shell.run("\"$DW\" survey --found --width 20in --height 22in --depth 1.5in --tape 1/4in");
  CHECK(rough.code == 0);
  CHECK(holds(rough.out, "None: the focal length is not known to 5 %"));
  CHECK_FALSE(holds(rough.out, "on the rim  "));
  CHECK(holds(rough.out, "CAUTION: Cover the dish"));
  CHECK(run_json(shell, "--found --width 20in --height 22in --depth 1.5in --tape 1/4in", 0)["strings"].empty());
}

TEST_CASE("refused: exit 2, nothing printed, nothing written") {
  const Shell shell;
  shell.write("r.csv", readings(24, 0));
  for (const char* words : {"", "nowhere.csv", "r.csv --outside", "r.csv --skin thick", "r.csv --wanted 120%",
                            "r.csv --frequency 10", "r.csv --set a=b", "r.csv --scene nowhere.toml", "--form",
                            "--form --width -3in", "--found --width 4ft", "--found --width 4ft --depth 5ft",
                            "--found r.csv --width 4ft --depth 1ft", "--form --found", "r.csv --points-in furlong"}) {
    const Ran ran = shell.run(std::string("\"$DW\" survey ") + words);
    CAPTURE(words);
    CHECK(ran.code == 2);
    CHECK(ran.out.empty());
    CHECK(holds(ran.err, "error: "));
    CHECK(shell.files() == std::set<std::string>{"r.csv"});
  }
}
