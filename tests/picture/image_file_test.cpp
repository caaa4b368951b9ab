// SPDX-License-Identifier: MIT
// Bytes of image files against the published layouts of PNG and OpenEXR.
#include "picture/image_file.h"

#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>

#include <cstring>
#include <random>
#include <string>

#include "base/error.h"

using namespace dishwright;

namespace {

Pixels gradient(int width, int height) {
  Pixels pixels{width, height, {}};
  for (int i = 0; i < width * height; ++i) {
    for (const int v : {i % 251, i % 7, 200, 255}) pixels.rgba.push_back(static_cast<std::uint8_t>(v));
  }
  return pixels;
}

std::string bytes_of(const std::vector<float>& values) {
  std::string out(values.size() * sizeof(float), '\0');
  std::memcpy(out.data(), values.data(), out.size());
  return out;
}

unsigned big_endian(const std::string& bytes, std::size_t at) {
  unsigned out = 0;
  for (std::size_t i = 0; i < 4; ++i) out = out << 8U | static_cast<unsigned char>(bytes[at + i]);
  return out;
}

FloatPart part(const std::string& name, int columns, std::vector<float> values) {
  FloatPart out;
  out.name = name;
  out.channel = "irradiance";
  out.columns = columns, out.rows = static_cast<int>(values.size()) / columns;
  out.values = std::move(values);
  out.notes = {{"unit", "W/m2"}, {"x_from_m", -0.0762}};
  return out;
}

}  // namespace

TEST_CASE("PNG: signature, size, 8-bit RGB, end mark; same bytes for the same picture") {
  // W3C PNG specification, sections 5.2 and 11.2.2.
  const std::string png = png_bytes(gradient(37, 11));
  CHECK(png.substr(0, 8) == "\x89PNG\r\n\x1a\n");
  CHECK(png.substr(12, 4) == "IHDR");
  CHECK(big_endian(png, 16) == 37);
  CHECK(big_endian(png, 20) == 11);
  CHECK(png[24] == 8);
  CHECK(png[25] == 2);
  CHECK(png.substr(png.size() - 8, 4) == "IEND");
  CHECK(png == png_bytes(gradient(37, 11)));
}

TEST_CASE("EXR: magic number, channel, notes and the floats themselves, top row first") {
  // OpenEXR file layout: magic 0x76, 0x2f, 0x31, 0x01; a block that does not shrink is stored as it is, little-endian.
  const std::vector<float> values{1.25F, 3.5e6F, 0.0123F, 847.3F};
  const std::string exr = exr_bytes({part("front", 2, values)});
  CHECK(exr.substr(0, 4) == "\x76\x2f\x31\x01");
  for (const char* word : {"irradiance", "front", "W/m2", "x_from_m"}) CHECK_MESSAGE(exr.find(word) != std::string::npos, word);
  CHECK(exr.find(bytes_of(values)) != std::string::npos);
  double note = 0;
  const std::size_t at = exr.find(std::string("x_from_m\0double\0", 16));
  REQUIRE(at != std::string::npos);
  std::memcpy(&note, exr.data() + at + 20, 8);
  CHECK(note == -0.0762);
  CHECK(exr == exr_bytes({part("front", 2, values)}));
}

TEST_CASE("EXR with a part for each face of different sizes") {
  const std::vector<float> side{1, 2, 3, 4.5F, 5.7F, 6.1F}, base{9.3F, 8.1F};
  const std::string exr = exr_bytes({part("side", 3, side), part("base", 1, base)});
  CHECK((static_cast<unsigned char>(exr[5]) & 0x10U) != 0);  // version field, bit 12: several parts
  CHECK(exr.find("side") != std::string::npos);
  CHECK(exr.find("base") != std::string::npos);
  CHECK(exr.find(bytes_of(base)) != std::string::npos);
}

// The encoder of EXR files works in a file in memory, which such a limit holds for, too.
TEST_CASE("an EXR file under a limit on the size of files") {
  std::mt19937 random(3);
  std::vector<float> values(64 * 64);
  for (float& value : values) value = static_cast<float>(random());
  const FloatPart noise = part("face", 64, values);
  const std::string whole = exr_bytes({noise});
  REQUIRE(whole.size() > 8192);
  ::signal(SIGXFSZ, SIG_IGN);
  rlimit before{};
  ::getrlimit(RLIMIT_FSIZE, &before);
  for (const rlim_t most : {rlim_t{0}, rlim_t{1000}, rlim_t{8192}}) {
    rlimit small = before;
    small.rlim_cur = most;
    ::setrlimit(RLIMIT_FSIZE, &small);
    std::string said;
    try {
      exr_bytes({noise});
    } catch (const WriteError& error) {
      said = error.what();
    }
    ::setrlimit(RLIMIT_FSIZE, &before);
    CAPTURE(most);
    CHECK(said == "could not make an EXR file: the file would grow too large");
  }
  CHECK(exr_bytes({noise}) == whole);
}
