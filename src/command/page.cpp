// SPDX-License-Identifier: MIT
#include "command/page.h"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <filesystem>
#include <memory>

#include "base/error.h"
#include "base/files.h"
#include "base/text.h"
#include "command/common_options.h"
#include "command/example_files.h"
#include "command/output.h"
#include "command/progress.h"
#include "page/page_file.h"
#include "picture/colour_scale.h"
#include "picture/work_card.h"
#include "question/light_answer.h"
#include "report/numbers/card_files.h"
#include "report/trace/outputs.h"
#include "report/trace/summary.h"
#include "report/waves/wave_card.h"
#include "report/waves/wave_outputs.h"
#include "report/waves/wave_summary.h"
#include "result/scene_digest.h"
#include "scenefile/read_scene.h"
#include "study/light_figures.h"
#include "study/light_story.h"
#include "study/wave_figures.h"
#include "study/wave_question.h"

namespace dishwright {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t largest_page = 16'000'000, largest_file = 16'000'000;  // bytes
constexpr int inks = 256;

struct PageOptions {
  fs::path scene, out;
  std::string units = "us";
};

const char* const page_help =
    R"(One file for a browser, with project and program in it. It opens by a double click, and needs no network, no server and no installation. A student drags the aim, the surface error, the place of the target, and watches spot, share and reasons follow.

  dishwright page kettle.toml
      writes out/kettle.html: side view with rays, the map of the hot spot, charts, reasons, cautions, and the project file to edit
  dishwright page
      writes out/bench.html: the same without a project; open or type one there, or begin with an example
  dishwright page kettle.toml --out handout.html --units si

The page computes with the engine of this program, so its figures are those of `trace`. Tiles and meshes cannot be followed by rays there: it says so.
In a browser that cannot run it the stored answer and card stand.)";

/// The page without a project, beside the program or where the program is installed.
std::string made_page() {
  for (const fs::path& path : program_files("page.html")) {
    std::error_code ignored;
    if (fs::is_regular_file(path, ignored)) return read_file(path, largest_page);
  }
  throw InputError("the page's engine has not been built", "it is compiled apart from the program, by Emscripten",
                   "run bash scenes/page.sh in the source tree (it installs 0.8 GB of compilers the first time), then again");
}

/// Names of the files beside the project that its mirrors take.
void find_files(const Node& node, std::vector<std::string>& names) {
  for (const Node& child : node.children) {
    if (child.name == "file" && child.kind == Node::Kind::text) names.push_back(child.text);
    find_files(child, names);
  }
}

std::vector<NamedFile> files_beside(const ProjectFile& file, const fs::path& scene) {
  std::vector<std::string> names;
  find_files(file.document({}), names);
  std::vector<NamedFile> files;
  for (const std::string& name : names) {
    const bool beside = !fs::path(name).is_absolute() && name.find("..") == std::string::npos;
    if (!beside)
      throw InputError(fmt::format("the project names {}, which lies outside of its folder", clipped(printable(name), 60)),
                       "a page takes along only what lies beside the project", "copy the file beside the project");
    files.push_back({name, read_file(scene.parent_path() / name, largest_file)});
  }
  return files;
}

/// What the command line says, for a browser that cannot run the engine.
void add_stored(const ProjectFile& file, const std::string& name, Units units, Watch& watch, PageProject& page) {
  ReadOptions read;
  const std::vector<std::string> words = file.source_words(read);
  if (words.size() > 1) read.as = words.front();
  Scene scene = file.scene(read);
  const std::string digest = scene_digest(scene);
  const int threads = 1;
  if (scene.is_wave()) {
    check_wave_limits(scene);
    const WaveFigures figures = wave_figures(scene, WaveMaps::made, threads, watch);
    page.answer = wave_summary(scene, name, digest, figures, units) + wave_answer(scene, figures, units);
    page.picture = card_image(wave_card({scene, name, digest, figures, units}));
    return;
  }
  PreparedLight light(std::move(scene), LightMap::made);
  const TraceFigures figures = light_answer(light, threads, watch);
  const auto story = light_story(light.scene(), threads, watch);
  const LightStory* told = story ? &*story : nullptr;
  page.answer =
      summary(light.scene(), name, digest, figures, units, Detail::answer, told) + trace_answer(light.scene(), figures, units);
  page.picture = card_image(map_cards({light.scene(), name, digest, figures, units, told}).front());
}

/// The examples that need no file of their own.
std::vector<PageProject::Example> examples() {
  std::vector<PageProject::Example> all;
  for (const fs::path& path : example_scenes()) {
    const ProjectFile file(path);
    const Node root = file.document({});
    std::vector<std::string> names;
    find_files(root, names);
    if (!names.empty()) continue;
    const Node* title = root.find("title");
    const bool named = title != nullptr && title->kind == Node::Kind::text;
    all.push_back({path.filename().string(), named ? title->text : path.stem().string(), file.source().text()});
  }
  return all;
}

int run_page(const PageOptions& options, Watch& watch) {
  const std::string made = made_page();
  PageProject page;
  page.units = options.units == "si" ? Units::si : Units::us;
  for (int k = 0; k < inks; ++k) {
    const Colour ink = ink_colour(static_cast<double>(k) / (inks - 1));
    page.inks.push_back(fmt::format("#{:02x}{:02x}{:02x}", ink.red, ink.green, ink.blue));
  }
  std::string name = "bench";
  if (!options.scene.empty()) {
    const ProjectFile file(options.scene);
    name = name_of(options.scene);
    page.name = options.scene.filename().string();
    page.text = file.source().text();
    page.files = files_beside(file, options.scene);
    const Progress progress(watch);
    add_stored(file, name, page.units, watch, page);
  }
  page.examples = examples();
  const fs::path out = options.out.empty() ? fs::path("out") / (name + ".html") : options.out;
  WholeFiles files(out.has_parent_path() ? out.parent_path() : fs::path("."));
  const std::string text = page_with_project(made, page);
  files.add(out.filename().string(), text);
  commit(files, watch);
  print(fmt::format("Written: {} ({:.1f} MB). It opens in a browser by a double click, without a network.\n", out.string(),
                    static_cast<double>(text.size()) / 1e6));
  return 0;
}

}  // namespace

void add_page_command(CLI::App& app, int& exit_code, Watch& watch) {
  auto options = std::make_shared<PageOptions>();
  CLI::App* command = app.add_subcommand("page", "one file for a browser, with the project and the program in it");
  command->description(page_help);
  command->add_option("SCENE", options->scene, "project file; none: the bench");
  command->add_option("--out", options->out, "the file to write (default out/SCENE.html)")->type_name("FILE");
  command->add_option("--units", options->units, "what lengths are shown in: us (inches) or si (millimetres)")
      ->check(CLI::IsMember({"us", "si"}));
  command->callback([options, &exit_code, &watch] { exit_code = run_page(*options, watch); });
}

}  // namespace dishwright
