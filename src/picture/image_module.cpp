// SPDX-License-Identifier: MIT
// The only place that knows OpenImageIO. Built as a module of its own; see image_file.cpp.
#include "picture/image_module.h"

#include <OpenImageIO/imageio.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <exception>
#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

using Bytes = std::vector<unsigned char>;

int fail(const std::string& message, char* error, std::size_t error_size) {
  std::snprintf(error, error_size, "%s", message.c_str());
  return 1;
}

std::unique_ptr<OIIO::ImageOutput> encoder(const char* name) {
  std::unique_ptr<OIIO::ImageOutput> out = OIIO::ImageOutput::create(name);
  if (!out) throw std::runtime_error(OIIO::geterror());
  return out;
}

OIIO::ImageSpec part_spec(const ImagePart& part, int full_width, int full_height) {
  OIIO::ImageSpec spec(part.columns, part.rows, 1, OIIO::TypeDesc::FLOAT);
  // All parts of one file share a display window.
  spec.full_width = full_width, spec.full_height = full_height;
  spec.channelnames = {part.channel};
  spec.attribute("oiio:subimagename", part.name);
  spec.attribute("compression", "zip");
  spec.attribute("Software", "dishwright");
  // The time of writing would make two equal results differ.
  spec.attribute("DateTime", "0000:00:00 00:00:00");
  for (int i = 0; i < part.note_count; ++i) {
    const ImageNote& note = part.notes[i];
    if (note.text != nullptr) {
      spec.attribute(note.name, note.text);
    } else {
      spec.attribute(note.name, OIIO::TypeDesc::DOUBLE, &note.number);
    }
  }
  return spec;
}

/// A file in memory with a path: the library writes files of several parts to a path only.
class MemoryFile {
 public:
  MemoryFile() : file_(::memfd_create("map.exr", MFD_CLOEXEC)) {
    if (file_ < 0) throw std::runtime_error("no memory file could be made");
  }
  ~MemoryFile() { ::close(file_); }
  MemoryFile(const MemoryFile&) = delete;
  MemoryFile& operator=(const MemoryFile&) = delete;
  std::string path() const { return "/proc/self/fd/" + std::to_string(file_); }
  /// Why writing stopped at the end of the file, where the system says it.
  std::string why_full(const std::string& otherwise) const {
    const char byte = 0;
    if (::pwrite(file_, &byte, 1, ::lseek(file_, 0, SEEK_END)) == 1) return otherwise;
    return errno == EFBIG ? "the file would grow too large" : errno == ENOSPC ? "no space left" : otherwise;
  }
  Bytes bytes() const {
    Bytes all(static_cast<std::size_t>(::lseek(file_, 0, SEEK_END)));
    std::size_t done = 0;
    while (done < all.size()) {
      const ssize_t step = ::pread(file_, all.data() + done, all.size() - done, static_cast<off_t>(done));
      if (step <= 0) throw std::runtime_error("a memory file could not be read");
      done += static_cast<std::size_t>(step);
    }
    return all;
  }

 private:
  int file_;
};

void encode_exr(const ImagePart* parts, int part_count, Bytes& bytes) {
  const MemoryFile file;
  const std::unique_ptr<OIIO::ImageOutput> out = encoder("map.exr");
  int full_width = 0, full_height = 0;
  for (int i = 0; i < part_count; ++i) {
    full_width = std::max(full_width, parts[i].columns);
    full_height = std::max(full_height, parts[i].rows);
  }
  std::vector<OIIO::ImageSpec> specs;
  specs.reserve(static_cast<std::size_t>(part_count));
  for (int i = 0; i < part_count; ++i) specs.push_back(part_spec(parts[i], full_width, full_height));
  bool good = true;
  for (int i = 0; i < part_count && good; ++i) {
    if (i == 0) {
      good = part_count == 1 ? out->open(file.path(), specs[0]) : out->open(file.path(), part_count, specs.data());
    } else {
      good = out->open(file.path(), specs[static_cast<std::size_t>(i)], OIIO::ImageOutput::AppendSubimage);
    }
    good = good && out->write_image(OIIO::TypeDesc::FLOAT, parts[i].values);
  }
  if (!good || !out->close()) throw std::runtime_error(file.why_full(out->geterror()));
  bytes = file.bytes();
}

/// Runs an encoder and hands its bytes over; no exception leaves the module.
template <class Encode>
int hand_over(const Encode& encode, TakeBytes take, void* receiver, char* error, std::size_t error_size) {
  try {
    Bytes bytes;
    encode(bytes);
    take(receiver, reinterpret_cast<const char*>(bytes.data()), bytes.size());
    return 0;
  } catch (const std::exception& problem) {
    return fail(problem.what(), error, error_size);
  }
}

}  // namespace

extern "C" {

int dishwright_encode_exr(const ImagePart* parts, int part_count, TakeBytes take, void* receiver, char* error,
                          std::size_t error_size) {
  return hand_over([&](Bytes& bytes) { encode_exr(parts, part_count, bytes); }, take, receiver, error, error_size);
}
}
