// SPDX-License-Identifier: MIT
// Project files: traced, compared, or refused with words.
#include <fstream>

#include "driver.h"
#include "folders.h"

namespace dishwright::fuzz {

const char* const name = "project_file";

std::vector<std::filesystem::path> corpus() {
  std::vector<std::filesystem::path> all = files_below("scenes", ".toml");
  for (const char* folder : {"tests/fuzz/corpus/project_file", "tests/messages"}) {
    for (const auto& file : files_below(folder, ".toml")) all.push_back(file);
  }
  return all;
}

std::vector<std::string> words() {
  return {"\"",
          "[",
          "]",
          "=",
          "{",
          "}",
          "\n",
          " in",
          " mrad",
          "[sound]\nfrequency = \"2 kHz\"\n",
          "[radio]\n",
          "shape = \"sphere\"\nradius = \"48 in\"\n",
          "\xc3",
          "shape = \"petals\"\ncount = 12\n",
          "twist = \"1 deg\"\n",
          "shape = \"pot\"\n",
          "at = \"focus of dish\"\n",
          "turn = [\"10 deg\", \"0 deg\", \"0 deg\"]\n",
          "offset = [\"0 in\", \"0 in\", \"2 in\"]\n",
          "waviness = { amplitude = \"1/64 in\", period = \"6 in\" }\n",
          "hole_width = \"4 in\"\n",
          "method = \"quadrature\"\n",
          "aim_error = \"2 deg\"\n",
          "[reflector.second]\nshape = \"flat\"\nwidth = \"10 in\"\nlength = \"10 in\"\n",
          "[lamp]\nshape = \"ball\"\nwidth = \"1 in\"\npower = \"60 W\"\n"};
}

void answer(const Input& input) {
  static bool first = true;
  if (first) {
    // Files that a project may name.
    for (const char* ending : {".csv", ".ply", ".stl", ".obj"}) {
      for (const auto& file : files_below("tests/messages", ending))
        std::filesystem::copy_file(file, file.filename(), std::filesystem::copy_options::overwrite_existing);
    }
    first = false;
  }
  std::ofstream("fuzz.toml", std::ios::binary) << input.bytes;
  const std::vector<std::string> few = {"--json", "--threads", "1", "--set", "trace.paths=512"};
  std::vector<std::string> all = {"trace", "fuzz.toml"};
  if (choice(input, 8) == 0) all = {"compare", "fuzz.toml", "--shape", "paraboloid,sphere"};
  all.insert(all.end(), few.begin(), few.end());
  run(all);
}

}  // namespace dishwright::fuzz
