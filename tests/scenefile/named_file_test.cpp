// SPDX-License-Identifier: MIT
// A key `file` of a project file from somebody else: what stands in files outside of its folder is never shown, and nothing
// waits.
#include <doctest/doctest.h>
#include <sys/stat.h>

#include <fstream>

#include "base/error.h"
#include "scenefile/read_scene.h"
#include "scratch.h"
#include "shape/mesh_samples.h"

using namespace dishwright;
namespace fs = std::filesystem;

namespace {

const std::string secret = "swordfish";

/// A folder with a project file in one below it and secrets beside that.
struct ProjectPlace : testing::Scratch {
  fs::path project = path / "project";
  ProjectPlace() { fs::create_directories(project / "below"); }
  static void write(const fs::path& file, const std::string& content) { std::ofstream(file, std::ios::binary) << content; }

  /// What is said of a mirror whose file this is; empty where it was read.
  std::string said(const std::string& shape, const std::string& file, const std::vector<std::string>& set = {}) const {
    write(project / "p.toml", "[sun]\n[reflector.m]\nshape = \"" + shape + "\"\nfile = '" + file +
                                  "'\n[target.t]\nshape = \"disk\"\nwidth = \"6 in\"\nat = [\"0 in\", \"0 in\", \"24 in\"]\n");
    ReadOptions options;
    options.set = set;
    try {
      read_scene(project / "p.toml", options);
    } catch (const InputError& error) {
      return error.what();
    }
    return "";
  }
};

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("of a file outside of the project file's folder nothing is shown") {
  const ProjectPlace place;
  const std::string table = secret + " [in]," + secret + "2\n" + secret + "," + secret + "\n";
  const std::string rows = "radius [in],height [in]\n0,0\n6," + secret + "\n";
  const std::string depths = "x [in],y [in],depth [in]\n0,0," + secret + "\n";
  struct Try {
    const char *shape, *name;
    std::string content;
  };
  const Try tries[] = {{"profile", "a.csv", table},
                       {"profile", "b.csv", rows},
                       {"profile", "noend", secret + "\n"},
                       {"measured", "c.csv", table},
                       {"measured", "d.csv", depths},
                       {"measured", "e.ply", secret + "\n"},
                       {"measured", "f.ply", "ply\nformat " + secret + " 1.0\n"},
                       {"mesh", "g.obj", secret + "\n"},
                       {"mesh", "h.obj", "v 0 0 " + secret + "\n"},
                       {"mesh", "i.stl", "solid\n" + secret + "\n"},
                       {"mesh", "j.ply", "ply\nformat " + secret + " 1.0\n"}};
  for (const Try& one : tries) {
    ProjectPlace::write(place.path / one.name, one.content);
    fs::create_symlink(place.path / one.name, place.project / one.name);
    for (const std::string& file : {(place.path / one.name).string(), std::string("../") + one.name,
                                    std::string("below/../../") + one.name, std::string(one.name)}) {
      const std::string text = place.said(one.shape, file);
      CAPTURE(file);
      CAPTURE(text);
      CHECK(says(text, "p.toml:4:8: error: reflector.m.file"));
      CHECK(says(text, "outside of the project file's folder"));
      CHECK(says(text, "^^^"));
      CHECK_FALSE(says(text, secret));
    }
    // The same file beside the project file is told in full, and which key names it.
    fs::remove(place.project / one.name);
    fs::copy_file(place.path / one.name, place.project / one.name);
    fs::copy_file(place.path / one.name, place.project / "below" / one.name);
    for (const std::string& file : {std::string(one.name), std::string("below/") + one.name}) {
      const std::string text = place.said(one.shape, file);
      CAPTURE(text);
      CHECK_FALSE(says(text, "outside"));
      CHECK(says(text, "p.toml:4:8: "));
      CHECK(says(text, "reflector.m.file"));
    }
  }
  CHECK(says(place.said("profile", "b.csv"), secret));
  CHECK(says(place.said("profile", "b.csv"), "  named by: " + (place.project / "p.toml").string() + ":4:8: reflector.m.file\n"));
  CHECK(says(place.said("profile", "b.csv", {"reflector.m.file=../b.csv"}), "outside"));
  CHECK(says(place.said("profile", "x", {"reflector.m.file=b.csv"}), "  named by: --set reflector.m.file=b.csv\n"));
}

TEST_CASE("a sound file outside of the folder is read") {
  const ProjectPlace place;
  ProjectPlace::write(place.path / "curve.csv", "radius [in],height [in]\n0,0\n6,0.4\n12,1.5\n");
  CHECK(place.said("profile", "../curve.csv").empty());
  ProjectPlace::write(place.path / "dish.obj", testing::as_obj(testing::sampled_paraboloid(1, 1, 4)));
  CHECK(place.said("mesh", (place.path / "dish.obj").string()).empty());
}

TEST_CASE("what is no file to read is refused at once, and says so") {
  const ProjectPlace place;
  REQUIRE(::mkfifo((place.path / "pipe.csv").c_str(), 0600) == 0);
  std::ofstream(place.path / "huge.csv").close();
  fs::resize_file(place.path / "huge.csv", 1'000'000'000'000);  // takes no room on the disk
  fs::create_directory(place.path / "folder.csv");
  for (const char* shape : {"profile", "measured", "mesh"}) {
    const std::string ending = shape == std::string("mesh") ? ".obj" : ".csv";
    for (const char* name : {"pipe", "huge", "folder"}) {
      if (ending == ".obj") fs::rename(place.path / (name + std::string(".csv")), place.path / (name + ending));
      const std::string text = place.said(shape, (place.path / (name + ending)).string());
      CAPTURE(text);
      CHECK(says(text, "p.toml:4:8: error: "));
      CHECK(says(text, name == std::string("pipe")   ? "is not an ordinary file"
                       : name == std::string("huge") ? "is too large"
                                                     : "is a folder"));
    }
    CHECK(says(place.said(shape, "../nowhere" + ending), "is not there"));
  }
  CHECK(says(place.said("profile", "/dev/zero"), "is not an ordinary file"));
}
