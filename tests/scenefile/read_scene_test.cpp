// SPDX-License-Identifier: MIT
#include "scenefile/read_scene.h"

#include <doctest/doctest.h>
#include <fmt/format.h>
#include <sys/stat.h>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>

#include "approx.h"
#include "base/error.h"
#include "folders.h"
#include "scratch.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

constexpr double inch = 0.0254;
constexpr double degree = std::numbers::pi / 180;

const std::string kettle = R"(title = "Kettle dish"
[sun]
beam = "850 W/m2"
[reflector.dish]
shape = "paraboloid"
focal_length = "24 in"
width = "48 in"
finish = "aluminised film"
[target.kettle]
shape = "pot"
width = "6 in"
height = "5 in"
at = "focus of dish"
)";

Scene read(const std::string& text, const std::vector<std::string>& set = {}, const std::string& as = "") {
  return read_scene_text(text, "test.toml", {set, as});
}

/// The text of the error, or "" where there is none.
std::string fault(const std::string& text, const std::vector<std::string>& set = {}) {
  try {
    read(text, set);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

std::string with_reflector(const std::string& keys) {
  return "[sun]\n[reflector.dish]\nreflectance = 0.9\n" + keys +
         "[target.kettle]\nshape = \"ball\"\nwidth = \"6 in\"\nat = [\"0 in\", \"0 in\", \"24 in\"]\n";
}

template <class Shape>
Shape shape_of(const std::string& keys) {
  const Scene scene = read(with_reflector(keys));
  return std::get<Shape>(scene.reflectors.at(0).shape);
}

void check_near(const Vector3& got, const Vector3& expected) {
  CAPTURE(got.transpose());
  CAPTURE(expected.transpose());
  CHECK((got - expected).norm() < 1e-12);
}

bool has_note(const Scene& scene, const std::string& part) {
  for (const std::string& note : scene.notes) {
    if (note.find(part) != std::string::npos) return true;
  }
  return false;
}

/// A folder of its own for files on disk, removed at the end.
class ScratchFolder {
 public:
  ScratchFolder()
      : path_(fs::temp_directory_path() /
              ("dishwright_read_" + std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()))) {
    fs::create_directories(path_);
  }
  ~ScratchFolder() { fs::remove_all(path_); }
  ScratchFolder(const ScratchFolder&) = delete;
  ScratchFolder& operator=(const ScratchFolder&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::string file_fault(const fs::path& path) {
  try {
    read_scene(path, {});
  } catch (const InputError& error) {
    return error.problems().at(0).what;
  }
  return "";
}

}  // namespace

TEST_CASE("a project file becomes a scene in SI") {
  const Scene scene = read(kettle);
  CHECK(scene.title == "Kettle dish");
  CHECK(scene.sun.beam == 850);
  CHECK(scene.sun.half_angle == testing::approx(4.65e-3));
  REQUIRE(scene.reflectors.size() == 1);
  const auto dish = std::get<Paraboloid>(scene.reflectors[0].shape);
  CHECK(dish.focal_length == testing::approx(24 * inch));
  CHECK(dish.width == testing::approx(48 * inch));
  CHECK(dish.hole_width == 0);
  CHECK(scene.reflectors[0].reflectance == 0.86);
  CHECK(scene.reflectors[0].finish == "aluminised film");
  check_near(scene.targets.at(0).pose.at, {0, 0, 24 * inch});
  CHECK(scene.targets[0].shades);
  CHECK(scene.trace.paths == 1'000'000);
  CHECK(scene.trace.seed == 1);
  CHECK(has_note(scene, "paths = 1_000_000"));
  CHECK(has_note(scene, "disc = limb-darkened"));
  CHECK(has_note(scene, "measure yours"));
}

TEST_CASE("scenes are made of one reading, whatever becomes of the file") {
  const dishwright::testing::Scratch scratch;
  const std::filesystem::path path = scratch.path / "kettle.toml";
  std::ofstream(path) << kettle;
  const ProjectFile file(path);
  std::filesystem::remove(path);
  ReadOptions options;
  CHECK(file.scene(options).trace.seed == file.scene_again(options).trace.seed);
  options.set = {"trace.seed=9"};
  CHECK(file.scene(options).trace.seed == 9);
  // The tree itself is not changed by that.
  CHECK(file.scene({}).trace.seed != 9);
}

TEST_CASE("two of focal length, width and depth give the third") {
  // A dish 48 in wide and 6 in deep has its focus at 48²/(16·6) = 24 in.
  CHECK(shape_of<Paraboloid>("shape = \"paraboloid\"\nwidth = \"48 in\"\ndepth = \"6 in\"\n").focal_length ==
        testing::approx(24 * inch));
  CHECK(shape_of<Paraboloid>("shape = \"paraboloid\"\nfocal_length = \"24 in\"\ndepth = \"6 in\"\n").width ==
        testing::approx(48 * inch));
  CHECK(
      shape_of<Paraboloid>("shape = \"paraboloid\"\nfocal_length = \"24 in\"\nwidth = \"4 ft\"\ndepth = \"6.005 in\"\n").width ==
      testing::approx(48 * inch));
  CHECK(fault(with_reflector("shape = \"paraboloid\"\nfocal_length = \"24 in\"\nwidth = \"4 ft\"\ndepth = \"6.007 in\"\n"))
            .find("does not fit") != std::string::npos);
  CHECK(shape_of<Trough>("shape = \"trough\"\nwidth = \"36 in\"\ndepth = \"6 3/4 in\"\nlength = \"60 in\"\n").focal_length ==
        testing::approx(12 * inch));
}

TEST_CASE("every shape is read") {
  const auto bowl = shape_of<SphereBowl>("shape = \"sphere\"\nradius = \"48 in\"\nwidth = \"48 in\"\nhole_width = \"2 in\"\n");
  CHECK(bowl.radius == testing::approx(48 * inch));
  CHECK(bowl.hole_width == testing::approx(2 * inch));
  CHECK(shape_of<ArcTrough>("shape = \"arc trough\"\nradius = \"24 in\"\nwidth = \"36 in\"\nlength = \"60 in\"\n").length ==
        testing::approx(60 * inch));
  CHECK(shape_of<Flat>("shape = \"flat\"\nwidth = \"36 in\"\nlength = \"60 in\"\n").width == testing::approx(36 * inch));
  const std::string start =
      "[sun]\n[reflector.a]\nshape = \"flat\"\nwidth = \"1 m\"\nlength = \"1 m\"\n[target.t]\nat = [\"0 m\", \"0 m\", \"1 "
      "m\"]\nwidth = \"10 cm\"\n";
  CHECK(std::get<DiskTarget>(read(start + "shape = \"disk\"\n").targets[0].shape).width == testing::approx(0.1));
  CHECK(std::get<BallTarget>(read(start + "shape = \"ball\"\n").targets[0].shape).width == testing::approx(0.1));
  CHECK(std::get<TubeTarget>(read(start + "shape = \"tube\"\nlength = \"2 m\"\n").targets[0].shape).length == testing::approx(2));
  CHECK(std::get<RectangleTarget>(read(start + "shape = \"rectangle\"\nlength = \"2 m\"\n").targets[0].shape).length ==
        testing::approx(2));
  CHECK(std::get<PotTarget>(read(start + "shape = \"pot\"\nheight = \"2 m\"\nshades = false\n").targets[0].shape).height ==
        testing::approx(2));
}

TEST_CASE("focus of a turned and moved reflector; offset and turn in its axes") {
  const std::vector<std::string> turned = {"reflector.dish.turn=[0 deg, 90 deg, 0 deg]", "reflector.dish.at=[1 m, 2 m, 3 m]",
                                           "target.kettle.offset=[1 in, 2 in, 3 in]",
                                           "target.kettle.turn=[0 deg, 0 deg, 90 deg]"};
  const Scene scene = read(kettle, turned);
  // A quarter turn about y takes z to x and x to −z.
  check_near(scene.targets[0].pose.at, {1 + 27 * inch, 2 + 2 * inch, 3 - 1 * inch});
  check_near(scene.targets[0].pose.turn * Vector3(1, 0, 0), {0, 1, 0});
  check_near(scene.targets[0].pose.turn * Vector3(0, 0, 1), {1, 0, 0});

  // Coordinates: offset and turn are in the axes of the frame.
  const Scene placed = read(kettle, {"target.kettle.at=[0 in, 0 in, 24 in]", "target.kettle.offset=[1 in, 0 in, 0 in]",
                                     "target.kettle.turn=[0 deg, 90 deg, 0 deg]"});
  check_near(placed.targets[0].pose.at, {inch, 0, 24 * inch});
  check_near(placed.targets[0].pose.turn * Vector3(0, 0, 1), {1, 0, 0});
}

TEST_CASE("the order of the file is kept") {
  std::string text = "[sun]\n";
  for (const auto& [name, at] : {std::pair("zeta", "0 m"), {"alpha", "2 m"}, {"midway", "4 m"}})
    text += std::string("[reflector.") + name + "]\nshape = \"flat\"\nwidth = \"1 m\"\nlength = \"1 m\"\nat = [\"" + at +
            "\", \"0 m\", \"0 m\"]\n";
  text += "[target.pot]\nshape = \"ball\"\nwidth = \"1 cm\"\nat = [\"0 m\", \"0 m\", \"1 m\"]\n";
  const Scene scene = read(text);
  REQUIRE(scene.reflectors.size() == 3);
  CHECK(scene.reflectors[0].name == "zeta");
  CHECK(scene.reflectors[2].name == "midway");
}

TEST_CASE("--set changes and adds values") {
  const Scene scene = read(kettle, {"reflector.dish.width=36 in", "trace.seed=3", "trace.paths=2_000",
                                    "target.kettle.shades=false", "sun.disc=uniform", "sun.aim_error=2°",
                                    "reflector.dish.width=3 ft", "title=Two = 2", "reflector.dish.slope_error=\"4 mrad\""});
  CHECK(std::get<Paraboloid>(scene.reflectors[0].shape).width == testing::approx(36 * inch));
  CHECK(scene.trace.seed == 3);
  CHECK(scene.trace.paths == 2000);
  CHECK_FALSE(scene.targets[0].shades);
  CHECK(scene.sun.disc == DiscProfile::uniform);
  CHECK(scene.sun.aim_error == testing::approx(2 * degree));
  CHECK(scene.title == "Two = 2");
  CHECK(scene.reflectors[0].slope_error == testing::approx(4e-3));
  // A --set of finish or reflectance takes the place of the other one in the file.
  CHECK(read(kettle, {"reflector.dish.reflectance=0.5"}).reflectors[0].reflectance == 0.5);
  CHECK(read(kettle, {"reflector.dish.reflectance=0.5"}).reflectors[0].finish.empty());
  CHECK(read(kettle, {"trace.accuracy=0.2 %"}).trace.accuracy.value() == testing::approx(0.002));
  CHECK(read(kettle, {"trace.accuracy=0.002"}).trace.accuracy.value() == testing::approx(0.002));
  CHECK(read("[reflector.\"big dish\"]\nshape = \"flat\"\nwidth = \"1 m\"\nlength = \"1 m\"\n" +
                 kettle.substr(kettle.find("[sun]")),
             {"reflector.\"big dish\".width=2 m"})
            .reflectors[0]
            .name == "big dish");
}

const std::string two_sources = kettle + "[sound]\nfrequency = \"2 kHz\"\n";

TEST_CASE("several sources") {
  CHECK(fault(two_sources).find("--as light") != std::string::npos);
  const Scene scene = read(two_sources, {}, "light");
  CHECK(has_note(scene, "[sound] is not read"));
  const Scene heard = read(two_sources, {"reflector.dish.slope_error=4 mrad"}, "sound");
  REQUIRE(heard.sound.has_value());
  CHECK(heard.sound->frequencies == std::vector<double>{2000});
  CHECK_FALSE(heard.sound->listed);
  CHECK(has_note(heard, "[sun] is not read"));
  CHECK(heard.reflectors[0].slope_error == 0);
  CHECK(has_note(heard, "slope_error is left out"));
  CHECK_THROWS_AS(read(kettle, {}, "radio"), InputError);
  CHECK_NOTHROW(read(kettle, {}, "light"));
}

TEST_CASE("[air] without [sound] is told to be unread") {
  CHECK(has_note(read(kettle + "[air]\ntemperature = \"20 degC\"\n"), "[air] is not read"));
  CHECK_FALSE(has_note(read(two_sources + "[air]\ntemperature = \"20 degC\"\n", {}, "light"), "[air] is not read"));
}

TEST_CASE("limits of the intervals belong to them") {
  CHECK_NOTHROW(read(kettle, {"sun.half_angle=50 mrad", "reflector.dish.reflectance=1", "reflector.dish.slope_error=0 mrad",
                              "sun.aim_direction=-360 deg"})
                    .sun.beam);
}

TEST_CASE("values just inside and just outside of an interval") {
  struct Edge {
    std::string inside, outside;
  };
  const Edge edges[] = {
      {"reflector.dish.hole_width=0 in", "reflector.dish.hole_width=-0.0001 in"},
      {"target.kettle.width=0.1 mm", "target.kettle.width=0.09999 mm"},
      {"target.kettle.width=1 km", "target.kettle.width=1.0001 km"},
      {"sun.half_angle=50 mrad", "sun.half_angle=50.001 mrad"},
      {"sun.aim_error=89.999 deg", "sun.aim_error=90 deg"},
      {"sun.beam=0.001 W/m2", "sun.beam=0 W/m2"},
      {"sun.beam=1.5 kW/m2", "sun.beam=1500.1 W/m2"},
      {"reflector.dish.reflectance=100 %", "reflector.dish.reflectance=1.0001"},
      {"trace.paths=64", "trace.paths=63"},
      {"trace.paths=100_000_000_000", "trace.paths=100_000_000_001"},
      {"trace.seed=9_223_372_036_854_775_807", "trace.seed=9_223_372_036_854_775_808"},
      {"trace.seed=0", "trace.seed=-1"},
      {"trace.accuracy=0.5", "trace.accuracy=0.5001"},
  };
  for (const Edge& edge : edges) {
    CAPTURE(edge.inside);
    CHECK(fault(kettle, {edge.inside}) == "");
    CHECK(fault(kettle, {edge.outside}) != "");
  }
}

TEST_CASE("the example scenes read without error") {
  const fs::path scenes = testing::source_folder() / "scenes";
  int count = 0;
  for (const auto& entry : fs::directory_iterator(scenes)) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().string());
    // One of several sources, or the only one.
    const std::vector<std::string> words = ProjectFile(entry.path()).source_words({});
    REQUIRE_FALSE(words.empty());
    for (const std::string& word : words) CHECK_NOTHROW(read_scene(entry.path(), {{}, word}));
    ++count;
  }
  INFO("example scenes: write the new number here when one is added or removed on purpose");
  CHECK(count == 11);
  // Figures of these dishes that the examples' comments state.
  const auto trough = std::get<Trough>(read_scene(scenes / "griddle-trough.toml", {}).reflectors[0].shape);
  CHECK(trough.width * trough.width / (16 * trough.focal_length) == testing::approx(6.75 * inch));
}

TEST_CASE("the same notes stand for what was left out") {
  const Scene scene = read(
      "[sun]\n[reflector.dish]\nshape = \"flat\"\nwidth = \"1 m\"\nlength = \"1 m\"\n[target.t]\nshape = \"disk\"\nwidth = \"1 "
      "cm\"\nat = [\"0 m\", \"0 m\", \"1 m\"]\n");
  CHECK(scene.reflectors[0].reflectance == 1);
  CHECK(has_note(scene, "mirror is taken as perfect"));
  CHECK(has_note(scene, "beam = 1000 W/m2"));
  CHECK_FALSE(has_note(scene, "aureole"));
}

TEST_CASE("files that are not project files") {
  const ScratchFolder scratch;
  const fs::path& folder = scratch.path();
  CHECK(file_fault(folder / "none.toml") == "there is no such file");
  CHECK(file_fault(folder) == "this is a folder, not a project file");
  CHECK(file_fault("/dev/null") == "this is a device or pipe, not a file");
  CHECK(file_fault("/dev/zero") == "this is a device or pipe, not a file");
  REQUIRE(mkfifo((folder / "pipe.toml").c_str(), 0600) == 0);
  CHECK(file_fault(folder / "pipe.toml") == "this is a device or pipe, not a file");
  std::ofstream(folder / "kettle.toml") << kettle;
  fs::create_symlink(folder / "kettle.toml", folder / "link.toml");
  CHECK(read_scene(folder / "link.toml", {}).title == "Kettle dish");
  fs::create_symlink(folder / "loop.toml", folder / "loop.toml");
  CHECK_FALSE(file_fault(folder / "loop.toml").empty());
  CHECK(file_fault(folder / std::string(300, 'x')) != "");
  try {
    read_scene(folder / "ketle.toml", {});
    FAIL("read");
  } catch (const InputError& error) {
    CHECK(error.problems().at(0).fix.find("kettle.toml") != std::string::npos);
  }
  // 100 MB, without its bytes on the disk.
  std::ofstream(folder / "large.toml") << "x";
  fs::resize_file(folder / "large.toml", 100'000'000);
  CHECK(file_fault(folder / "large.toml") == "the file is too large for a project file");
  std::ofstream(folder / "comments.toml") << std::string(4'100'000, '#');
  CHECK(file_fault(folder / "comments.toml") == "the file is too large for a project file");
}

TEST_CASE("monstrous files are refused without a crash") {
  CHECK(fault("a = " + std::string(1'000'000, '[')) != "");
  CHECK(fault("a = " + std::string(500'000, '[') + std::string(500'000, ']')) != "");
  std::string dotted = "a";
  for (int i = 0; i < 500'000; ++i) dotted += ".a";
  CHECK(fault(dotted + " = 1\n") != "");
  CHECK(fault("[" + dotted + "]\n") != "");
  CHECK(fault("x = \"\"\"\"\"\n" + dotted + " = 1\n") != "");
  std::string list = "x = [";
  for (int i = 0; i < 300'000; ++i) list += "1,";
  CHECK(fault(list + "]\n") != "");
  std::string keys;
  for (int i = 0; i < 20'000; ++i) keys += "k" + std::to_string(i) + " = 1\n";
  const std::string many = fault(keys);
  CHECK(many.find("more problems are not shown") != std::string::npos);
  CHECK(many.size() < 100'000);
}

TEST_CASE("sound, air and radio: SI values, standards and their notes") {
  const std::string rest =
      "[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"6 in\"\nwidth = \"24 in\"\nwave_reflectance = 0.5\n"
      "[target.mic]\nshape = \"ball\"\nwidth = \"1 in\"\nat = \"focus of dish\"\n";
  const Scene sound = read(
      "[sound]\nfrequency = [\"2 kHz\", \"500 Hz\"]\nfrom = [\"1 m\", \"2 m\", \"30 m\"]\n"
      "[air]\ntemperature = \"50 degF\"\nhumidity = \"70 %\"\n" +
      rest);
  REQUIRE(sound.is_wave());
  CHECK(sound.sound->frequencies == std::vector<double>{2000, 500});
  CHECK(sound.sound->listed);
  CHECK(sound.sound->from == Sound::From::place);
  CHECK(sound.sound->place.isApprox(Vector3(1, 2, 30)));
  CHECK(sound.sound->air.temperature == testing::approx(283.15));
  CHECK(sound.sound->air.humidity == testing::approx(0.7));
  CHECK(sound.sound->air.pressure == testing::approx(101325));
  CHECK(has_note(sound, "air: standard values taken for pressure"));
  CHECK(sound.reflectors[0].wave_reflectance == 0.5);
  const Scene speaker = read("[sound]\nfrequency = \"2 kHz\"\nfrom = \"focus\"\nspeed = \"340 m/s\"\n" + rest);
  CHECK(speaker.sound->from == Sound::From::target);
  CHECK(speaker.sound->speed.value() == 340);
  CHECK_FALSE(has_note(speaker, "sound.from"));
  const Scene radio = read("[radio]\nfrequency = \"1.68 GHz\"\nfeed = { kind = \"cosine\", power = 4 }\n" + rest);
  CHECK(radio.radio->frequencies == std::vector<double>{1.68e9});
  CHECK(radio.radio->feed_power.value() == 4);
  const Scene plain = read("[radio]\nfrequency = \"1.68 GHz\"\n" + rest, {"radio.feed.kind=edge", "radio.feed.taper=-12 dB"});
  CHECK(plain.radio->edge_taper == -12);
  const Scene standard = read("[radio]\nfrequency = \"1.68 GHz\"\n" + rest);
  CHECK(standard.radio->edge_taper == -10);
  CHECK_FALSE(standard.radio->feed_power.has_value());
  CHECK(has_note(standard, "an edge level of -10 dB"));
  // Long lists come whole.
  std::string many = "[";
  for (int k = 0; k < 1000; ++k) many += fmt::format("{}\"{} Hz\"", k > 0 ? ", " : "", 100 + k);
  CHECK(read("[sound]\nfrequency = " + many + "]\n" + rest).sound->frequencies.back() == 1099);
}

TEST_CASE("from = \"focus\": the target that stands there is the speaker; a target elsewhere listens to a speaker at the focus") {
  const auto with = [](const std::string& target, const std::string& turn = "") {
    return read(
        "[sound]\nfrequency = \"2 kHz\"\nfrom = \"focus\"\n[reflector.dish]\nshape = \"paraboloid\"\n"
        "focal_length = \"6 in\"\nwidth = \"24 in\"\nat = [\"1 ft\", \"0 ft\", \"0 ft\"]\n" +
        turn + "[target.a]\n" + target);
  };
  const Scene there = with("at = [\"12 in\", \"0 in\", \"6 in\"]\n");
  CHECK(there.sound->from == Sound::From::target);
  CHECK_FALSE(has_note(there, "sound.from"));
  const Scene out = with("at = \"focus of dish\"\noffset = [\"0 in\", \"0 in\", \"1 in\"]\n");
  CHECK(out.sound->from == Sound::From::target);
  CHECK(has_note(out, "sound.from: the speaker stands at target.a, 1 in away from the focus"));
  const Scene moved = with("at = [\"12 in\", \"0 in\", \"6 in\"]\noffset = [\"0 in\", \"0 in\", \"1 in\"]\n");
  CHECK(moved.sound->from == Sound::From::target);
  CHECK(has_note(moved, "1 in away from the focus"));
  const Scene elsewhere = with("at = [\"1 ft\", \"0 ft\", \"50 ft\"]\n");
  CHECK(elsewhere.sound->from == Sound::From::place);
  CHECK((elsewhere.sound->place - Vector3(0.3048, 0, 0.1524)).norm() < 1e-12);
  CHECK(has_note(elsewhere, "sound.from: the speaker stands at the focus of dish, and target.a listens"));
}

TEST_CASE("sound and radio take a target without a shape as a point, light does not") {
  const std::string rest =
      "[reflector.dish]\nshape = \"paraboloid\"\nfocal_length = \"6 in\"\nwidth = \"24 in\"\n"
      "[target.a]\nat = \"focus of dish\"\nturn = [\"10 deg\", \"0 deg\", \"0 deg\"]\n";
  const Scene radio = read("[radio]\nfrequency = \"5 GHz\"\n" + rest, {"target.a.offset=[0 in, 0 in, 1 in]"});
  CHECK(std::holds_alternative<PointTarget>(radio.targets.at(0).shape));
  CHECK((radio.targets[0].pose.at - Vector3(0, 0, 7 * 0.0254)).norm() < 1e-12);
  CHECK(std::holds_alternative<PointTarget>(read("[sound]\nfrequency = \"5 kHz\"\n" + rest).targets.at(0).shape));
  CHECK(fault("[sun]\n" + rest).find("shape") != std::string::npos);
}
