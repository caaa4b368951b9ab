// SPDX-License-Identifier: MIT
// What `trace` of sound says, against its own tables and maps and against sums done here.
#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <sstream>

#include "command/shell.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

constexpr double pi = std::numbers::pi;

struct MapCell {
  double across = 0, up = 0, gain = -1e9;
};

/// The cell of the highest level of a map's CSV, and how far two cells are apart, up.
struct MapTop {
  std::string header;
  MapCell top;
  double cell = 0;
};
MapTop highest_of(const std::string& csv) {
  std::istringstream in(csv);
  MapTop out;
  std::getline(in, out.header);
  double last_up = 0;
  bool first = true;
  for (std::string line; std::getline(in, line);) {
    MapCell cell;
    if (std::sscanf(line.c_str(), "%lf,%lf,%lf", &cell.across, &cell.up, &cell.gain) != 3) continue;
    if (!first && cell.up != last_up) out.cell = cell.up - last_up;
    last_up = cell.up, first = false;
    if (cell.gain > out.top.gain) out.top = cell;
  }
  return out;
}

/// Gain [dB] at the focus of the 24 in dish of sound_file for a point on the axis `apart` [m] from the focus: the integral of
/// docs/decisions/0014 by the midpoint rule on rings.
double near_gain(double frequency, double speed, double apart) {
  constexpr double f = 0.1524, rim = 0.3048;
  constexpr int rings = 20'000;
  const double k = 2 * pi * frequency / speed;
  std::complex<double> sum = 0;
  for (int i = 0; i < rings; ++i) {
    const double r = rim * (i + 0.5) / rings, z = r * r / (4 * f);
    const double back = f + z, out = std::hypot(r, f + apart - z);  // to the focus; to the voice
    const double facing = r * r / (2 * f) + f - z;                  // (normal, not of unit length) · (way to the focus)
    sum += facing / (back * back) / out * 2 * pi * r * (rim / rings) * std::polar(1.0, k * (back + out));
  }
  const std::complex<double> reflected = std::complex<double>(0, -k / (2 * pi)) * sum;
  return 20 * std::log10(std::abs(reflected + std::polar(1 / apart, k * apart)) * apart);
}

std::string lines_joined(std::string text) {
  for (std::size_t at = 0; (at = text.find('\n', at)) != std::string::npos;) {
    const std::size_t end = text.find_first_not_of(" \n", at);
    text.replace(at, (end == std::string::npos ? text.size() : end) - at, " ");
  }
  return text;
}

/// A paraboloid 48 in wide of 30 in focal length, with an ear at its focus: shallow, so that its wave and the straight one
/// cancel.
std::string shallow_file(const std::string& sound, const std::string& ear = "at = \"focus of dish\"") {
  return "[sound]\nspeed = \"343 m/s\"\n" + sound +
         "\n[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"30 in\"\nwidth = \"48 in\"\n[target.ear]\n" + ear + "\n";
}

}  // namespace

TEST_CASE("the loudest place told is the highest place of the maps: aimed true, aimed off, a microphone off the focus") {
  const Shell shell;
  const std::string off = "at = [\"3 in\", \"-2 in\", \"26 in\"]";
  for (const auto& [text, turned] :
       {std::pair(sound_dish("frequency = \"2 kHz\""), false),
        {sound_dish("frequency = \"1200 Hz\"\naim_error = \"12 deg\"\naim_direction = \"90 deg\""), true},
        {shallow_file("frequency = \"500 Hz\"\naim_error = \"8 deg\"\naim_direction = \"45 deg\""), true},
        {shallow_file("frequency = \"170 Hz\""), false},
        {shallow_file("frequency = \"3 kHz\"", off), true},
        {shallow_file("frequency = \"700 Hz\"\nfrom = [\"20 in\", \"0 in\", \"90 in\"]", off), true}}) {
    CAPTURE(text);
    shell.write("loud.toml", text);
    const Ran ran = shell.run("\"$DW\" trace loud.toml --out o --units si");
    INFO(ran.err);
    REQUIRE(ran.code == 0);
    const json all = json::parse(file_content(shell.here() / "o/figures.json"));
    const json& target = all["targets"].begin().value();
    const json& best = target["best_place"];
    const MapTop focal = highest_of(file_content(shell.here() / "o/map.csv")),
                 axial = highest_of(file_content(shell.here() / "o/map-axial.csv"));
    CHECK(axial.header.starts_with(turned ? "aside [mm],z [mm]" : "x [mm],z [mm]"));
    CHECK(axial.top.gain >= focal.top.gain - 0.02);
    // Levels: cells are a hundredth of half of the map apart, and the highest one is within half of a cell of the place.
    const double gain = best["gain"]["value"];
    CHECK(gain > axial.top.gain - 0.02);
    CHECK(gain < axial.top.gain + 0.1);
    // Its place, from the target's centre (aimed along z: own axes are the frame's).
    const bool shifted = text.find("26 in") != std::string::npos;
    const double height = text.find("24 in") != std::string::npos ? 6 * 25.4 : shifted ? 26 * 25.4 : 30 * 25.4;
    const double x = 1e3 * best["place"][0]["value"].get<double>() - (shifted ? 3 * 25.4 : 0),
                 y = 1e3 * best["place"][1]["value"].get<double>() + (shifted ? 2 * 25.4 : 0),
                 z = 1e3 * best["place"][2]["value"].get<double>() - height;
    CHECK(std::abs(z - axial.top.up) < 1.5 * axial.cell);
    CHECK(std::abs((turned ? std::hypot(x, y) : x) - axial.top.across) < 2.5 * axial.cell);
    // And the words say that place.
    char told[80];
    std::snprintf(told, sizeof told, "gain %.1f dB.", gain);
    CHECK(holds(lines_joined(ran.out), told));
  }
}

TEST_CASE("where the two waves cancel the words say at which frequency, and never that the dish helps there") {
  const Shell shell;
  shell.write("shallow.toml", shallow_file("frequency = [\"170 Hz\", \"200 Hz\", \"2 kHz\"]"));
  const Ran ran = shell.run("\"$DW\" trace shallow.toml --out o");
  REQUIRE(ran.code == 0);
  const std::string words = lines_joined(ran.out);
  // The closed form at the focus: |1 + K e^{i(2kf - π/2)}|, K = 2kf ln(1 + d/f), f 0.762 m, d 4.8 in = 0.12192 m.
  const auto gain = [](double frequency) {
    const double turn = 4 * pi * frequency / 343 * 0.762;
    return 20 * std::log10(std::abs(1.0 + std::polar(turn * std::log(1 + 0.12192 / 0.762), turn - pi / 2)));
  };
  char both[160];
  std::snprintf(
      both, sizeof both,
      "At 170 Hz (by %.1f dB) and 200 Hz (by %.1f dB) the wave from the mirror and the straight one cancel: quieter than "
      "without the dish.",
      -gain(170), -gain(200));
  CHECK(holds(words, both));
  // Dips between the frequencies: the second one of the closed form.
  double second = 0, least = 0;
  for (double f = 300; f < 500; f += 0.1)
    if (gain(f) < least) least = gain(f), second = f;
  const json all = json::parse(file_content(shell.here() / "o/figures.json"));
  const json& dips = all["targets"]["ear"]["cancelled"];
  REQUIRE(dips.size() == 2);
  CHECK(std::abs(dips[1]["frequency"]["value"].get<double>() - second) < 1);
  CHECK(std::abs(dips[1]["gain"]["value"].get<double>() - least) < 0.05);
  CHECK(holds(words, "The quietest pitches are about 390 Hz (by 4.0 dB)."));
  // From where the closed form passes 1 dB for good: the last band.
  double up = 0;
  for (double f = 100; f < 20e3; f += 0.1)
    if (gain(f) < 1) up = f;
  const json& bands = all["targets"]["ear"]["helps"];
  CHECK(std::abs(bands.back()["from"]["value"].get<double>() - up) < 2);
  CHECK(holds(words, "and from about 420 Hz up the dish helps (1 dB and more"));
  // The card's verdict is about the middle frequency; alone, a dip gets its no.
  shell.write("dip.toml", shallow_file("frequency = \"200 Hz\""));
  REQUIRE(shell.run("\"$DW\" trace dip.toml --out dip").code == 0);
  CHECK(holds(shell.run("pdftotext dip/card.pdf - | tr -s ' \\n' ' '").out, "No: it makes it quieter. Sound at the ear: "));
}

TEST_CASE("a voice near the dish: each row of the table by the integral, not by the gain for a far one") {
  const Shell shell;
  shell.write("voice.toml", sound_dish("speed = \"343 m/s\"\nfrequency = \"4 kHz\"\nvoice = \"raised\""));
  const Ran ran = shell.run("\"$DW\" trace voice.toml --json");
  REQUIRE(ran.code == 0);
  const json all = json::parse(ran.out);
  const json &target = all["targets"]["microphone"], &voice = target["voice"];
  for (std::size_t k = 0; k < 5; ++k) {
    const double apart = voice["distances"][k]["value"], truth = near_gain(4000, 343, apart);
    CAPTURE(apart);
    CHECK(std::abs(voice["gains"][k]["value"].get<double>() - truth) < 0.02);
    CHECK(std::abs(voice["with"][k]["value"].get<double>() - voice["without"][k]["value"].get<double>() - truth) < 0.02);
  }
  // 2 width²/λ is 8.7 m: at 3 m the far gain is more than a decibel too high, at 300 m it is right.
  const double far = target["gain"]["value"];
  CHECK(far - voice["gains"][0]["value"].get<double>() > 1);
  CHECK(std::abs(far - voice["gains"][4]["value"].get<double>()) < 0.02);
  // A voice at the focus and a listener: what is sent is what would be heard, to the one-sided cosine.
  const Ran sent = shell.run("\"$DW\" trace voice.toml --json --set sound.from=focus");
  REQUIRE(sent.code == 0);
  const json out = json::parse(sent.out)["targets"]["microphone"]["voice"];
  for (std::size_t k = 0; k < 5; ++k)
    CHECK(std::abs(out["gains"][k]["value"].get<double>() - voice["gains"][k]["value"].get<double>()) < 0.5);
}

TEST_CASE("a dish that sends is told as one that sends, on the screen and on the sheets") {
  const Shell shell;
  shell.write("send.toml", sound_dish("frequency = [\"100 Hz\", \"2 kHz\", \"4 kHz\"]\nvoice = \"normal\"\nfrom = \"focus\""));
  const Ran ran = shell.run("\"$DW\" trace send.toml --out o");
  REQUIRE(ran.code == 0);
  const std::string sheet = shell.run("pdftotext o/card.pdf - | tr -s ' \\n' ' '").out, screen = lines_joined(ran.out);
  for (const std::string& words : {screen, sheet}) {
    CHECK(holds(words, "Sound sent from the microphone: far away "));
    for (const char* hearing : {"it hears", "Sound at the", "Aim by ear", "does the dish hear", "overhear", "arrive in step",
                                "headphones", "Loudest place near", "help us hear"})
      CHECK_MESSAGE(!holds(words, hearing), hearing);
  }
  CHECK(holds(sheet, "Does this dish carry our sound far?"));
  CHECK(holds(sheet, "Aim by a listener far away"));
  CHECK(holds(screen, "how loud it is far away, by the place of the microphone"));
}

TEST_CASE("two dishes that face each other have a sheet of their own, with the figures of the JSON") {
  const Shell shell;
  shell.write("pair.toml", sound_dish("frequency = [\"500 Hz\", \"2 kHz\", \"8 kHz\"]\nfacing = \"20 ft\"\nvoice = \"normal\""));
  const Ran ran = shell.run("\"$DW\" trace pair.toml --out o");
  REQUIRE(ran.code == 0);
  CHECK(holds(ran.out, "two-dishes.pdf, two-dishes.png"));
  const json target = json::parse(file_content(shell.here() / "o/figures.json"))["targets"]["microphone"];
  const std::string sheet = shell.run("pdftotext -layout o/two-dishes.pdf - | tr -s ' \\n' ' '").out;
  CHECK(holds(shell.run("pdfinfo o/two-dishes.pdf").out, "Pages:           1"));
  for (std::size_t k = 0; k < 3; ++k) {
    const double one = target["reflected_gain"][k]["value"], both = target["link_gain"][k]["value"];
    char row[60];
    std::snprintf(row, sizeof row, " %.1f %.1f %.1f ", one, 2 * one, both);
    CHECK(holds(sheet, row));
  }
  char verdict[80];
  std::snprintf(verdict, sizeof verdict, "by way of both %.1f dB louder", target["link_gain"][1]["value"].get<double>());
  for (const std::string& words : {sheet, lines_joined(ran.out)}) CHECK(holds(words, verdict));
  for (const char* part :
       {"Do two of these dishes carry speech across 20 ft?", "What to do", "A voice from one to the other", "Caution"})
    CHECK(holds(sheet, part));
  // Without a second dish there is no such sheet.
  shell.write("alone.toml", sound_dish("frequency = \"2 kHz\""));
  REQUIRE(shell.run("\"$DW\" trace alone.toml --out alone").code == 0);
  CHECK(shell.files().count("alone/two-dishes.pdf") == 0);
}
