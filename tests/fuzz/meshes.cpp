// SPDX-License-Identifier: MIT
// Mesh and cloud files (PLY, STL, OBJ; text and binary): as a mirror, and as a survey; answered, or refused with words.
#include <fstream>

#include "driver.h"

namespace dishwright::fuzz {

const char* const name = "meshes";

std::vector<std::filesystem::path> corpus() {
  std::vector<std::filesystem::path> all;
  for (const char* folder : {"tests/fuzz/corpus/meshes", "tests/messages", "tests/survey/messages"}) {
    for (const char* ending : {".ply", ".stl", ".obj"}) {
      for (const auto& file : files_below(folder, ending)) all.push_back(file);
    }
  }
  return all;
}

std::vector<std::string> words() {
  return {"property float x\n",
          "element face 2\n",
          "element vertex 3\n",
          "format ascii 1.0\n",
          "format binary_little_endian 1.0\n",
          "end_header\n",
          "3 0 1 2\n",
          "f 1 2 3\n",
          "v 0 0 0\n",
          "facet normal 0 0 1\n",
          "vertex 1 0 0\n",
          "endsolid\n",
          "solid\n",
          "\n",
          "-1",
          "f 1/1/1 2//2 3\n",
          "1e30",
          "property list uchar int vertex_indices\n"};
}

void answer(const Input& input) {
  const std::string file = "fuzz" + input.ending;
  std::ofstream(file, std::ios::binary) << input.bytes;
  if (choice(input, 2) == 0) {
    run({"survey", file, "--points-in", "mm", "--json", "--threads", "1"});
    return;
  }
  std::ofstream("fuzz.toml")
      << "[sun]\n[reflector.dish]\nshape = \"mesh\"\nfile = \"" << file
      << "\"\nunit = \"mm\"\n[target.pot]\nshape = \"ball\"\nwidth = \"1 in\"\nat = [\"0 in\", \"0 in\", \"24 in\"]\n";
  run({"trace", "fuzz.toml", "--json", "--threads", "1", "--set", "trace.paths=512"});
}

}  // namespace dishwright::fuzz
