// SPDX-License-Identifier: MIT
// What `cmake --install` and `cpack` make: the program works from any place, its manual page is whole, its pages find each other.
#include <doctest/doctest.h>

#include <filesystem>

#include "command/installed.h"

using namespace dishwright::testing;
namespace fs = std::filesystem;

namespace {

const std::string few = " --set trace.paths=2000 ";
const std::string example = "share/doc/dishwright/examples/kettle-dish.toml";

/// Traces an example of the tree that stands in `top` with its own program, from an empty folder: the built program's figures.
void check_traces(const Shell& shell, const std::string& top) {
  const Ran built = shell.run("\"$DW\" trace \"$SCENES/kettle-dish.toml\" --json" + few);
  REQUIRE(built.code == 0);
  const Ran ran = shell.run("mkdir work && cd work && " + clean_environment + "'" + top + "/bin/dishwright' trace '" + top + "/" +
                            example + "' --exr" + few);
  CHECK_MESSAGE(ran.code == 0, ran.err);
  const fs::path made = shell.here() / "work/out/kettle-dish";
  CHECK(file_content(made / "figures.json") == built.out);
  // The module wrote the second; their first bytes: ISO/IEC 15948, 5.2, and the magic number 20000630 of OpenEXR.
  CHECK(file_content(made / "map.png").substr(0, 8) == "\x89PNG\r\n\x1a\n");
  CHECK(file_content(made / "map.exr").substr(0, 4) == "\x76\x2f\x31\x01");
}

/// The manual page as plain text: mandoc prints bold letters twice, with a backspace between.
std::string manual_text(const Installed& shell) {
  const std::string typed = shell.run("gzip -dc ../installed/share/man/man1/dishwright.1.gz | mandoc -T utf8 -O width=200").out;
  std::string text;
  for (const char c : typed) c == '\b' ? text.pop_back() : text.push_back(c);
  return text;
}

/// The part of the page that tells of one command.
std::string manual_part(const std::string& manual, const std::string& command) {
  const std::size_t from = manual.find("\n   dishwright " + command + " ");
  REQUIRE_MESSAGE(from != std::string::npos, command);
  return manual.substr(from, manual.find("\n   dishwright ", from + 1) - from);
}

/// Targets of links in a page that are files, as it names them.
std::vector<std::string> links_of(const std::string& page) {
  const std::regex link(R"(\]\(([^)#]+)(#[^)]*)?\))");
  std::vector<std::string> links;
  for (std::sregex_iterator at(page.begin(), page.end(), link), end; at != end; ++at) {
    const std::string target = (*at)[1];
    if (!holds(target, "://")) links.push_back(target);
  }
  return links;
}

}  // namespace

TEST_CASE("an installed tree works wherever it is moved") {
  const Installed shell;
  fs::rename(shell.top(), shell.here() / "some where");
  check_traces(shell, (shell.here() / "some where").string());
}

TEST_CASE("an installed program without its image module says which file it wants") {
  const Installed shell;
  fs::remove(shell.top() / "lib/dishwright/dishwright_images.so");
  const Ran ran = shell.run("../installed/bin/dishwright trace --exr ../installed/" + example + few);
  CHECK(ran.code == 3);
  CHECK_MESSAGE(holds(ran.err, "installed/lib/dishwright/dishwright_images.so, nor is there one beside the program"), ran.err);
  CHECK(shell.files().empty());
}

TEST_CASE("an example finds the readings that stand beside it") {
  const Installed shell;
  const Ran ran =
      shell.run("../installed/bin/dishwright trace --json ../installed/share/doc/dishwright/scenes/kettle-as-built.toml" + few);
  CHECK_MESSAGE(ran.code == 0, ran.err);
}

TEST_CASE("the manual page names every command and option of the helps, and is well formed") {
  const Installed shell;
  const std::string manual = manual_text(shell);
  for (const char* section : {"NAME", "SYNOPSIS", "DESCRIPTION", "COMMANDS", "EXIT STATUS", "FILES", "EXAMPLES", "SAFETY"}) {
    CHECK_MESSAGE(holds(manual, "\n" + std::string(section) + "\n"), std::string(section));
  }
  for (const std::string& command : commands_of(shell)) {
    const std::string part = manual_part(manual, command);
    for (const std::string& option : options_of(shell, command)) {
      // A term of its own in the list below the help, not a word in passing.
      const std::vector<std::string> terms =
          found_in(part.substr(part.find("\n       -h, --help")), "^       (?:-[a-z], )?(" + option + ")( |$)");
      CHECK_MESSAGE(terms.size() == 1, command, " ", option);
    }
  }
  CHECK(holds(manual_part(manual, "trace"), "--method rays | quadrature | auto"));
  CHECK(holds(manual_part(manual, "sweep"), "--vary KEY=FROM:TO:COUNT"));
  CHECK(holds(manual, "radius = 2 × focal length"));  // other alphabets
  CHECK(holds(manual, "beam = \"850 W/m2\"\n\n"));    // blank lines of an example stay
  // It has no date on purpose.
  const Ran lint =
      shell.run("gzip -dc ../installed/share/man/man1/dishwright.1.gz | mandoc -T lint -W warning | grep -v 'missing date'");
  CHECK_MESSAGE(lint.out.empty(), lint.out);
}

TEST_CASE("links between installed pages lead to files") {
  const Installed shell;
  const fs::path pages = shell.top() / "share/doc/dishwright";
  std::size_t links = 0;
  for (const auto& entry : fs::recursive_directory_iterator(pages)) {
    if (entry.path().extension() != ".md") continue;
    for (const std::string& link : links_of(file_content(entry.path()))) {
      if (link == "LICENSE" || link == "DEVELOPERS.md") continue;  // installed as copyright; of the source tree
      CHECK_MESSAGE(fs::exists(entry.path().parent_path() / link), entry.path().filename().string(), ": ", link);
      ++links;
    }
  }
  CHECK(links > 30);
  CHECK(shell.text("share/doc/dishwright/copyright") == file_content(source_folder() / "LICENSE"));
}

TEST_CASE("what installing.md removes is all that was installed") {
  const Installed shell;
  const std::vector<std::string> lines = found_in(file_content(source_folder() / "docs/installing.md"), "^sudo (rm .*)$");
  REQUIRE(lines.size() == 2);
  for (const std::string& line : lines) {
    const Ran ran = shell.run("cd ../installed && " + line);
    CHECK_MESSAGE(ran.code == 0, ran.err);
  }
  const Ran left = shell.run("find ../installed ! -type d");
  CHECK_MESSAGE(left.out.empty(), left.out);
}

// Not in the sanitized build: its texts of errors name paths, and its program is ten times as large.
TEST_CASE("a Debian package holds it all, names no folder of the build, and runs" * doctest::test_suite("slow")) {
  const Shell shell;
  const Ran made = shell.run("cpack -G DEB --config \"$BUILD/CPackConfig.cmake\" -B packed >&2 && cp packed/*.deb one.deb");
  REQUIRE_MESSAGE(made.code == 0, made.err);
  const std::string list = shell.run("dpkg-deb -c one.deb").out;
  for (const char* file :
       {"/bin/dishwright", "/lib/dishwright/dishwright_images.so", "/share/man/man1/dishwright.1.gz",
        "/share/bash-completion/completions/dishwright", "/share/zsh/vendor-completions/_dishwright",
        "/share/fish/vendor_completions.d/dishwright.fish", "/share/doc/dishwright/copyright", "/share/doc/dishwright/README.md",
        "/share/doc/dishwright/docs/installing.md", "/share/doc/dishwright/scenes/kettle-dish.toml",
        "/share/doc/dishwright/scenes/kettle-readings.csv", "/share/doc/dishwright/examples -> scenes"}) {
    CHECK_MESSAGE(holds(list, "./usr" + std::string(file)), std::string(file));
  }
  CHECK_FALSE(holds(list, "install.sh"));
  const std::string control = shell.run("dpkg-deb -f one.deb").out;
  CHECK(holds(control, "Package: dishwright\n"));
  const std::string version = found_in(shell.run("\"$DW\" --version").out, "^(.*)$").at(0);
  CHECK(holds(control, "Version: " + version + "\n"));
  CHECK(holds(file_content(source_folder() / "docs/installing.md"), "apt install ./dishwright_" + version + "_amd64.deb\n"));
  for (const char* library : {"libembree", "libopenimageio", "libpangocairo", "fonts-dejavu-core"}) {
    CHECK_MESSAGE(!found_in(control, "^Depends: .*(" + std::string(library) + ")").empty(), std::string(library));
  }
  REQUIRE(shell.run("dpkg-deb -x one.deb .").code == 0);
  check_traces(shell, (shell.here() / "usr").string());
  const Ran named = shell.run("grep -rlF \"$BUILD\" usr");
  CHECK_MESSAGE(named.out.empty(), named.out);
}
