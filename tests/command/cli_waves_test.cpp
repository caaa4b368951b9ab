// SPDX-License-Identifier: MIT
// `trace` of sound and radio as a user meets it. Truth: closed forms of physical optics.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "approx.h"
#include "command/shell.h"
#include "command/wave_files.h"

using namespace dishwright::testing;
using nlohmann::json;

namespace {

constexpr double pi = std::numbers::pi;

/// Reflected gain [dB] at the focus of a paraboloid, f and depth [m]: K = 2 k f ln(1 + d/f), the sum of equal paths over the
/// surface.
double focus_gain(double frequency, double speed, double f, double depth) {
  return 20 * std::log10(2 * 2 * pi * frequency / speed * f * std::log(1 + depth / f));
}

/// Reflected gain [dB] at the focus of the 24 in dish of sound_file for a wave from `side` [rad] off the axis toward +x:
/// docs/decisions/0014's integral k/(2π) ∫ cos β e^{ik(path)}/R dS, β at the focus' side, by the midpoint rule on rings.
double aside_gain(double frequency, double speed, double side) {
  constexpr double f = 0.1524, rim = 0.3048;
  constexpr int rings = 200, around = 300;
  const double k = 2 * pi * frequency / speed, area = rim / rings * 2 * pi / around;
  std::complex<double> sum = 0;
  for (int i = 0; i < rings * around; ++i) {
    const double r = rim * (i / around + 0.5) / rings, turn = 2 * pi * (i % around) / around;
    const double x = r * std::cos(turn), y = r * std::sin(turn), z = r * r / (4 * f), far = f + z;  // far: to the focus
    const double facing = (x * x + y * y) / (2 * f) + f - z;  // (normal, not of unit length) · (way to the focus)
    sum += facing / far * r * area / far * std::polar(1.0, k * (-x * std::sin(side) - z * std::cos(side) + far));
  }
  return 20 * std::log10(k / (2 * pi) * std::abs(sum));
}

/// Far field of a round aperture 1 m across that a cos⁴ feed at its focus f lights: ∫ u(r) J0(k r sin t) r dr, u = cos²θ/(f + z).
double cosine_feed_pattern(double wave_number, double f, double t) {
  constexpr int rings = 2000;
  double sum = 0;
  for (int i = 0; i < rings; ++i) {
    const double r = 0.5 * (i + 0.5) / rings, cosine = std::cos(2 * std::atan(r / (2 * f)));
    sum += cosine * cosine / (f + r * r / (4 * f)) * std::cyl_bessel_j(0, wave_number * r * std::sin(t)) * r / rings;
  }
  return sum;
}

json traced(const Shell& shell, const std::string& text, const std::string& options = "") {
  shell.write("waves.toml", text);
  const Ran ran = shell.run(R"("$DW" trace waves.toml --json )" + options);
  INFO(ran.err);
  REQUIRE(ran.code == 0);
  return json::parse(ran.out);
}

}  // namespace

TEST_CASE("gain at the focus by the command: the closed form at each frequency of a list, in its order") {
  const Shell shell;
  const json all = traced(shell, sound_file(R"([sound]
speed = "343 m/s"
frequency = ["8 kHz", "500 Hz", "2 kHz"])"));
  CHECK(all["method"] == "waves");
  const json& target = all["targets"]["microphone"];
  REQUIRE(all["frequencies"].size() == 3);
  REQUIRE(target["reflected_gain"].size() == 3);
  const double f = 6 * 0.0254, depth = 6 * 0.0254;
  for (std::size_t k = 0; k < 3; ++k) {
    const double frequency = all["frequencies"][k]["value"];
    const double truth = focus_gain(frequency, 343, f, depth);
    CAPTURE(frequency);
    CHECK(target["reflected_gain"][k]["unit"] == "dB");
    CHECK(target["reflected_gain"][k]["value"].get<double>() == dishwright::testing::approx(truth).epsilon(0.001));
    // With the straight wave, 2f ahead in phase at the focus: |1 + K e^{i(2kf − π/2)}|.
    const double K = std::pow(10, truth / 20), phase = 4 * pi * frequency / 343 * f;
    const double both = 20 * std::log10(std::sqrt(1 + K * K + 2 * K * std::sin(phase)));
    CHECK(target["gain"][k]["value"].get<double>() == dishwright::testing::approx(both).epsilon(0.001));
  }
  CHECK(all["frequencies"][0]["value"] == 8000);
  // Reflected gain is 0 dB where K = 1.
  const double stops = 343 / (4 * pi * f * std::log(2.0));
  CHECK(target["stops_helping"]["value"].get<double>() ==
        dishwright::testing::approx(stops).epsilon(1e-5));  // 20 lg K is a straight line over lg f
}

TEST_CASE("one frequency gives plain figures; wave_reflectance takes 10 log10 of itself; air sets the speed") {
  const Shell shell;
  const json whole = traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\"\n[air]\ntemperature = \"0 degC\""));
  const json half =
      traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\"\n[air]\ntemperature = \"0 degC\"", "wave_reflectance = 0.5"));
  const auto reflected = [](const json& j) { return j["targets"]["microphone"]["reflected_gain"]["value"].get<double>(); };
  CHECK(whole["frequency"]["value"] == 2000);
  // ISO 9613-1:1993: 343.2 m/s √(T/293.15 K), the standard that the absorption is of.
  CHECK(whole["wave_speed"]["value"].get<double>() ==
        dishwright::testing::approx(343.2 * std::sqrt(273.15 / 293.15)).epsilon(1e-9));
  CHECK(reflected(half) - reflected(whole) == dishwright::testing::approx(10 * std::log10(0.5)).epsilon(1e-4));
  CHECK(reflected(whole) ==
        dishwright::testing::approx(focus_gain(2000, whole["wave_speed"]["value"], 0.1524, 0.1524)).epsilon(0.001));
}

TEST_CASE("a speaker at the focus sends what a microphone there hears; a place far away is as good as far" *
          doctest::test_suite("slow")) {
  const Shell shell;
  const auto reflected = [](const json& j) { return j["targets"]["microphone"]["reflected_gain"]["value"].get<double>(); };
  const double far = reflected(traced(shell, sound_file("[sound]\nfrequency = \"3 kHz\"")));
  // Reciprocity, to the 0.05 dB of the one-sided cosine.
  CHECK(std::abs(reflected(traced(shell, sound_file("[sound]\nfrequency = \"3 kHz\"\nfrom = \"focus\""))) - far) < 0.1);
  const json near = traced(shell, sound_file("[sound]\nfrequency = \"3 kHz\"\nfrom = [\"0 m\", \"0 m\", \"2000 m\"]"));
  CHECK(std::abs(reflected(near) - far) < 0.02);
  // A speaker at the focus, by its name or by its place, and an ear far out: what the dish sends there.
  const std::string ear = "\n[target.ear]\nat = [\"0 m\", \"0 m\", \"2000 m\"]\n";
  const std::string dish = "[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"6 in\"\nwidth = \"24 in\"";
  for (const char* from : {"\"focus\"", "[\"0 in\", \"0 in\", \"6 in\"]"}) {
    const json heard = traced(shell, std::string("[sound]\nfrequency = \"3 kHz\"\nfrom = ") + from + "\n" + dish + ear);
    CHECK(std::abs(heard["targets"]["ear"]["reflected_gain"]["value"].get<double>() - far) < 0.1);
  }
  // Aimed off by far more than the beam, the dish loses most of it: 29.8 → −4.6 dB. The midpoint rule is good to 0.001 dB; the
  // cosine of the other side would be 1 dB off.
  const json off = traced(shell, sound_file("[sound]\nfrequency = \"8 kHz\"\naim_error = \"20 deg\""));
  const double speed = off["wave_speed"]["value"];
  CHECK(std::abs(aside_gain(8000, speed, 0) - focus_gain(8000, speed, 0.1524, 0.1524)) < 0.001);
  CHECK(std::abs(reflected(off) - aside_gain(8000, speed, pi / 9)) < 0.01);
}

TEST_CASE("radio: gain and its factors of a cosine feed by the command, against closed forms") {
  // f/D = 0.498076, n = 4: Balanis, Antenna Theory, sec. 15.4; tests/known_values/cosine_feed_efficiency.csv. No shadow: the feed
  // is a point.
  const Shell shell;
  const json all = traced(shell, R"(
[radio]
frequency = "10 GHz"
feed = { kind = "cosine", power = 4 }
[reflector.dish]
shape = "paraboloid"
focal_length = "498.076 mm"
width = "1000 mm"
[target.feed]
shape = "ball"
width = "1 mm"
at = "focus of dish"
shades = false
)");
  const json& target = all["targets"]["feed"];
  CHECK(target["aperture_efficiency"]["value"].get<double>() == dishwright::testing::approx(0.81961).epsilon(0.002));
  CHECK(target["spillover"]["value"].get<double>() == dishwright::testing::approx(0.92382).epsilon(0.001));
  CHECK(target["taper"]["value"].get<double>() == dishwright::testing::approx(0.88720).epsilon(0.001));
  CHECK(target["phase"]["value"].get<double>() == dishwright::testing::approx(1).epsilon(0.001));
  const double wavelength = 299792458 / 10e9;
  const double gain = 10 * std::log10(0.81961 * std::pow(pi * 1 / wavelength, 2));
  CHECK(target["gain"]["unit"] == "dBi");
  CHECK(target["gain"]["value"].get<double>() == dishwright::testing::approx(gain).epsilon(0.001));
  // The far field of that aperture (the Fourier integral in polar form): half power at 1.994° across, 66.5°
  // λ/D; first side lobe −25.18 dB. The dish's depth and the cosine make 2e-4 of the width and 0.014 dB.
  const auto field = [&](double t) { return cosine_feed_pattern(2 * pi / wavelength, 0.498076, t); };
  double low = 0.01, high = 0.03;
  while (high - low > 1e-9) (field((low + high) / 2) > field(0) * std::sqrt(0.5) ? low : high) = (low + high) / 2;
  CHECK(target["half_power_width"]["value"].get<double>() == dishwright::testing::approx(2 * low).epsilon(1e-3));
  double lobe = 0;
  for (double t = 0.046; t < 0.07; t += 2e-4) lobe = std::max(lobe, std::abs(field(t)) / field(0));
  CHECK(std::abs(target["side_lobe"]["value"].get<double>() - 20 * std::log10(lobe)) < 0.05);
}

TEST_CASE("waves: files, text, threads, and words for what cannot be" * doctest::test_suite("slow")) {
  const Shell shell;
  shell.write("waves.toml", sound_file("[sound]\nfrequency = [\"1 kHz\", \"4 kHz\"]"));
  const Ran one = shell.run(R"("$DW" trace waves.toml --json --threads 1)");
  REQUIRE(one.code == 0);
  CHECK(one.out == shell.run(R"("$DW" trace waves.toml --json --threads 2)").out);
  CHECK(one.out == shell.run(R"("$DW" trace waves.toml --json --threads 4)").out);
  CHECK(shell.files() == std::set<std::string>{"waves.toml"});
  const Ran text = shell.run(R"("$DW" trace waves.toml --out out)");
  REQUIRE(text.code == 0);
  for (const char* part : {"Sound at the microphone:", "dish helps (1 dB and more", "What a miss costs", "CAUTION", "4 kHz"})
    CHECK(holds(text.out, part));
  std::size_t from = 0;
  for (std::size_t at = 0; (at = text.out.find('\n', from)) != std::string::npos; from = at + 1) {
    std::size_t wide = 0;
    for (std::size_t k = from; k < at; ++k) wide += (static_cast<unsigned char>(text.out[k]) & 0xC0U) != 0x80U ? 1 : 0;
    CHECK(wide <= 80);
  }
  for (const char* name : {"out/card.pdf", "out/card.png", "out/figures.json", "out/map.png", "out/map.csv", "out/gain.png",
                           "out/gain.svg", "out/gain.csv", "out/pattern.png", "out/pattern.svg", "out/pattern.csv"})
    CHECK(shell.files().count(name) == 1);
  CHECK(file_content(shell.here() / "out/figures.json") == one.out);

  for (const char* command :
       {"trace waves.toml --replay 1", "trace waves.toml --method rays", "tolerance waves.toml --wanted 0.9"}) {
    CAPTURE(command);
    const Ran refused = shell.run(R"("$DW" )" + std::string(command));
    CHECK(refused.code == 2);
    CHECK(refused.out.empty());
  }
}

TEST_CASE("waves: the card is one page with question, answer, misses and caution") {
  const Shell shell;
  shell.write("waves.toml", sound_file("[sound]\nfrequency = [\"1 kHz\", \"4 kHz\"]"));
  REQUIRE(shell.run(R"("$DW" trace waves.toml --out out)").code == 0);
  // Poppler is the outside reader of PDF.
  const Ran pages = shell.run("pdfinfo out/card.pdf");
  CHECK(holds(pages.out, "Pages:           1"));
  CHECK(holds(pages.out, "612 x 792 pts"));
  const Ran words = shell.run("pdftotext -layout out/card.pdf -");
  for (const char* part : {"Does this dish help us hear it?", "Yes.", "The numbers", "What a miss costs",
                           "How to aim and place it", "Loudest place", "Why", "Caution", "dishwright"})
    CHECK(holds(words.out, part));
  shell.write("radio.toml", sound_file("[radio]\nfrequency = \"10 GHz\"\nfeed = { kind = \"cosine\", power = 2 }"));
  REQUIRE(shell.run(R"("$DW" trace radio.toml --out radio --units si)").code == 0);
  // Ruze 1966: loss 10 lg e · (4π ε/λ)², so 0.5 dB at ε = λ/(4π) √(0.5 · 0.230259) = 0.0270 λ: 0.81 mm at 29.98 mm; 1 dB: √2
  // times that.
  const Ran radio = shell.run("pdftotext radio/card.pdf - | tr -s ' \n' ' '");
  for (const char* part :
       {"0.809 mm (0.027 wavelengths) for 0.5 dB", "1.14 mm (0.038 wavelengths) for 1.0 dB", "aperture efficiency", "spillover"})
    CHECK(holds(radio.out, part));
}

TEST_CASE("waves: --as picks, slope_error counts for light only, and is refused where there is none") {
  const Shell shell;
  shell.write("both.toml", sound_file("[sun]\nbeam = \"850 W/m2\"\n[sound]\nfrequency = \"2 kHz\"", "slope_error = \"4 mrad\""));
  CHECK(shell.run(R"("$DW" trace both.toml --json)").code == 2);
  const Ran sound = shell.run(R"("$DW" trace both.toml --json --as sound)");
  REQUIRE(sound.code == 0);
  CHECK(json::parse(sound.out)["source"] == "sound");
  CHECK(holds(sound.out, "slope_error is left out"));
  const Ran light = shell.run(R"("$DW" trace both.toml --json --as light --set trace.paths=1000)");
  REQUIRE(light.code == 0);
  CHECK(json::parse(light.out)["method"] == "rays");
  shell.write("alone.toml", sound_file("[sound]\nfrequency = \"2 kHz\"", "slope_error = \"4 mrad\""));
  const Ran refused = shell.run(R"("$DW" trace alone.toml)");
  CHECK(refused.code == 2);
  CHECK(holds(refused.err, "says nothing about waves"));
}

TEST_CASE("a voice over distance: levels and reach by hand, and the air counts") {
  const Shell shell;
  const json all = traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\"\nvoice = \"raised\""));
  const json& target = all["targets"]["microphone"];
  const json& voice = target["voice"];
  const double gain = target["gain"]["value"], absorption = voice["absorption"]["value"];
  CHECK(voice["absorption"]["unit"] == "dB/m");
  CHECK(voice["level_at_1m"]["value"] == 68.3);
  REQUIRE(voice["distances"].size() == 5);
  // 100 m: 68.3 − 20 lg 100 = 28.3 dB, less 100 m of air.
  CHECK(voice["distances"][3]["value"] == 100);
  CHECK(voice["without"][3]["value"].get<double>() == dishwright::testing::approx(28.3 - 100 * absorption).epsilon(1e-9));
  CHECK(voice["with"][3]["value"].get<double>() ==
        dishwright::testing::approx(28.3 - 100 * absorption + voice["gains"][3]["value"].get<double>()).epsilon(1e-9));
  CHECK(std::abs(voice["gains"][3]["value"].get<double>() - gain) < 0.02);  // far enough
  // 20 °C, 50 %: 9.9 dB/km ([iso9613], from memory). 38.3 dB above 30 dB: at 75.45 m 37.553 + 0.747.
  CHECK(voice["reach_without"]["value"].get<double>() == dishwright::testing::approx(75.45).epsilon(5e-4));
  for (const char* name : {"reach_without", "reach_with"}) {
    const double reach = voice[name]["value"], more = std::string(name) == "reach_with" ? gain : 0;
    CHECK(std::abs(68.3 + more - 20 * std::log10(reach) - absorption * reach - 30) < (more > 0 ? 0.01 : 3e-5));
  }
  // ISO 9613-2:1996, table 2, 2 kHz, from memory: 20 °C, 70 %: 9.0 dB/km; 15 °C, 20 %: 28.2 dB/km. The table's 2 kHz is 1995 Hz:
  // up to 0.5 % less.
  const auto in_air = [&](const std::string& air) {
    const json heard = traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\"\nvoice = \"raised\"\n[air]\n" + air));
    return heard["targets"]["microphone"]["voice"]["absorption"]["value"].get<double>();
  };
  CHECK(std::abs(in_air("humidity = \"70 %\"") - 9.0e-3) < 0.1e-3);
  CHECK(std::abs(in_air("temperature = \"15 degC\"\nhumidity = \"20 %\"") - 28.2e-3) < 0.2e-3);
  CHECK_FALSE(traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\""))["targets"]["microphone"].contains("voice"));
}

TEST_CASE("two facing dishes far apart: twice the gain of one, by hand") {
  const Shell shell;
  const json all = traced(shell, sound_file("[sound]\nspeed = \"343 m/s\"\nfrequency = [\"2 kHz\"]\nfacing = \"1000 m\""));
  // K = 4π · 0.1524 m · ln 2 / 0.1715 m = 7.740: 17.775 dB, twice 35.55 dB. 2 width²/λ is 4.3 m, so 1000 m are far.
  const json& gain = all["targets"]["microphone"]["link_gain"];
  REQUIRE(gain.size() == 1);
  CHECK(gain[0]["unit"] == "dB");
  CHECK(std::abs(gain[0]["value"].get<double>() - 35.55) < 0.02);
  // Each mirror sends back half of the power: twice 3.01 dB less.
  const json half = traced(
      shell, sound_file("[sound]\nspeed = \"343 m/s\"\nfrequency = \"2 kHz\"\nfacing = \"1000 m\"", "wave_reflectance = 0.5"));
  CHECK(std::abs(half["targets"]["microphone"]["link_gain"]["value"].get<double>() - 29.53) < 0.02);
}

TEST_CASE("a radio link: Friis by hand") {
  const Shell shell;
  const json all = traced(shell, sound_file(R"([radio]
frequency = "10 GHz"
feed = { kind = "cosine", power = 2 }
[link]
transmit_power = "2 W"
transmit_gain = "16 dB"
distance = "10 km"
losses = "1.5 dB"
needed = "-60 dBm"
)"));
  const json& link = all["link"];
  const auto value = [&](const char* name) { return link[name]["value"].get<double>(); };
  // 10 lg 2000 = 33.0103 dBm; 10 km at 10 GHz: 132.4478 dB (published page of a signal-processing library).
  CHECK(value("transmit_power") == dishwright::testing::approx(33.0103).epsilon(1e-6));
  CHECK(std::abs(value("path_loss") - 132.4478) < 5e-5);
  const double gain = all["targets"]["microphone"]["gain"]["value"];
  CHECK(value("receive_gain") == gain);
  // 33.0103 + 16 − 132.4478 − 1.5 = −84.9375.
  CHECK(std::abs(value("received_power") - (gain - 84.9375)) < 1e-4);
  CHECK(link["received_power"]["unit"] == "dBm");
  CHECK(std::abs(value("margin") - (gain - 24.9375)) < 1e-4);
  // Ten times the distance for each 20 dB.
  CHECK(value("reach") == dishwright::testing::approx(10e3 * std::pow(10, (gain - 24.9375) / 20)).epsilon(1e-4));
}

TEST_CASE("--as all: each source with its own figures and folder, one sheet, one object") {
  const Shell shell;
  const std::string text =
      sound_file("[sun]\nbeam = \"850 W/m2\"\n[sound]\nfrequency = [\"1 kHz\", \"2 kHz\"]\n[trace]\npaths = 1000");
  shell.write("uses.toml", text);
  const Ran ran = shell.run(R"("$DW" trace uses.toml --as all)");
  REQUIRE(ran.code == 0);
  // A true dish: all light meets a ball of 1 in at its focus; K = 4π · 0.1524 · ln 2 / 0.3432 = 3.868: 11.749 dB at 1 kHz.
  CHECK(holds(ran.out, "fine for light on the microphone"));
  CHECK(holds(ran.out, "fine for sound from 1 kHz: gain of the mirror alone 11.7 dB"));
  for (const char* name : {"out/uses/three-uses.pdf", "out/uses/light/figures.json", "out/uses/light/map.png",
                           "out/uses/sound/figures.json", "out/uses/sound/card.pdf"})
    CHECK(shell.files().count(name) == 1);
  CHECK(holds(shell.run("pdfinfo out/uses/three-uses.pdf").out, "Pages:           1"));
  const Ran object = shell.run(R"("$DW" trace uses.toml --as all --json)");
  REQUIRE(object.code == 0);
  const json all = json::parse(object.out);
  CHECK(all.size() == 2);
  CHECK(all["light"] == json::parse(shell.run(R"("$DW" trace uses.toml --as light --json)").out));
  CHECK(all["sound"] == json::parse(file_content(shell.here() / "out/uses/sound/figures.json")));
  // A hundredth of the power: 20 dB less than 11.7 dB.
  const Ran weak = shell.run(R"("$DW" trace uses.toml --as all --json --out weak --set reflector.dish.wave_reflectance=0.01)");
  REQUIRE(weak.code == 0);
  CHECK(holds(shell.run("pdftotext -layout weak/three-uses.pdf -").out, "Sound: useless"));
  for (const char* command :
       {"trace uses.toml --as all --replay 1", "trace waves.toml --as all", "compare uses.toml --as all --shape cone"}) {
    shell.write("waves.toml", sound_file("[sound]\nfrequency = \"2 kHz\""));
    CAPTURE(command);
    CHECK(shell.run(R"("$DW" )" + std::string(command)).code == 2);
  }
}

TEST_CASE("a wire mesh leaks by its pitch, wire and wave; sound takes no notice") {
  const Shell shell;
  const auto radio = [&](const std::string& mesh) {
    return traced(shell,
                  sound_file("[radio]\nfrequency = [\"1680 MHz\", \"5 GHz\"]\nfeed = { kind = \"cosine\", power = 2 }", mesh));
  };
  const std::string mesh = R"(wire_mesh = { pitch = "1/4 in", wire = "1/32 in" })";
  const json solid = radio(""), leaky = radio(mesh);
  // λ = 178.448 mm: x = 6.35/178.448 · ln(8/π) = 0.0355846 · 0.934712 = 0.0332614, leak 4x²/(1 + 4x²) = 0.0044058. λ = 59.9585
  // mm: x = 0.0989921, leak 0.0377193 (Macfarlane 1946).
  CHECK(std::abs(leaky["mesh_leak"][0]["value"].get<double>() - 0.0044058) < 1e-6);
  CHECK(std::abs(leaky["mesh_leak"][1]["value"].get<double>() - 0.0377193) < 1e-5);
  CHECK_FALSE(solid.contains("mesh_leak"));
  for (std::size_t k = 0; k < 2; ++k) {
    const double share = 1 - leaky["mesh_leak"][k]["value"].get<double>();
    const json &with = leaky["targets"]["microphone"], &without = solid["targets"]["microphone"];
    CHECK(with["reflection"][k]["value"].get<double>() == dishwright::testing::approx(share).epsilon(1e-9));
    CHECK(with["gain"][k]["value"].get<double>() - without["gain"][k]["value"].get<double>() ==
          dishwright::testing::approx(10 * std::log10(share)).epsilon(1e-6));
  }
  const json heard = traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\"", mesh));
  CHECK(holds(heard["notes"].dump(), "wire_mesh is left out"));
  CHECK(heard["targets"] == traced(shell, sound_file("[sound]\nfrequency = \"2 kHz\""))["targets"]);
}
