// SPDX-License-Identifier: MIT
#include "picture/image_file.h"

#include <dlfcn.h>
#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <string>
#include <system_error>
#include <vector>

#include "base/error.h"
#include "picture/image_module.h"

namespace dishwright {

namespace {

// DISHWRIGHT_MODULE_FOLDER: from the folder of the installed program to that of the module (CMakeLists.txt).
constexpr const char* module_name = "dishwright_images.so";

using EncodeExr = decltype(&dishwright_encode_exr);

/// Where the module may lie: beside the program, as in the folder of a build, or where it is installed. Both are found from the
/// program's own place, so that a whole tree may be moved.
std::vector<std::filesystem::path> module_places() {
  std::error_code code;
  const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", code);
  if (code)
    throw WriteError(fmt::format("could not find the image module {}: the program's own folder is not known", module_name));
  const std::filesystem::path folder = program.parent_path();
  return {folder / module_name, (folder / DISHWRIGHT_MODULE_FOLDER / module_name).lexically_normal()};
}

/// Loads the module. It stays loaded: its libraries do not survive a second start.
EncodeExr load() {
  const std::vector<std::filesystem::path> places = module_places();
  std::error_code ignored;
  const bool beside = std::filesystem::exists(places.front(), ignored);
  const std::filesystem::path& path = beside ? places.front() : places.back();
  void* library = ::dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (library == nullptr) {
    const std::string cause = ::dlerror();
    throw WriteError(fmt::format("could not load the image module {}{}: {}", path.string(),
                                 beside ? "" : ", nor is there one beside the program", cause));
  }
  const auto encode = reinterpret_cast<EncodeExr>(::dlsym(library, "dishwright_encode_exr"));
  if (encode == nullptr) throw WriteError(fmt::format("the image module {} is from another build", path.string()));
  return encode;
}

EncodeExr exr_encoder() {
  static const EncodeExr loaded = load();
  return loaded;
}

void take_bytes(void* receiver, const char* bytes, std::size_t count) {
  static_cast<std::string*>(receiver)->assign(bytes, count);
}

}  // namespace

std::string exr_bytes(const std::vector<FloatPart>& parts) {
  std::vector<std::vector<ImageNote>> notes(parts.size());
  std::vector<ImagePart> plain;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (const auto& [name, value] : parts[i].notes) {
      const std::string* text = std::get_if<std::string>(&value);
      notes[i].push_back(
          {name.c_str(), text != nullptr ? text->c_str() : nullptr, text != nullptr ? 0 : std::get<double>(value)});
    }
    const FloatPart& part = parts[i];
    plain.push_back({part.name.c_str(), part.channel.c_str(), part.columns, part.rows, part.values.data(), notes[i].data(),
                     static_cast<int>(notes[i].size())});
  }
  std::string bytes;
  std::array<char, 500> error{};
  if (exr_encoder()(plain.data(), static_cast<int>(plain.size()), take_bytes, &bytes, error.data(), error.size()) != 0) {
    throw WriteError(fmt::format("could not make an EXR file: {}", error.data()));
  }
  return bytes;
}

}  // namespace dishwright
