// SPDX-License-Identifier: MIT
// PNG of a sheet, by libpng: the only place that knows it.
#include <png.h>

#include <array>
#include <cstdio>
#include <string>

#include "base/error.h"
#include "picture/image_file.h"

namespace dishwright {

namespace {

// Sheets are large even areas and small type: filters do not help, and higher levels take five times as long for a few per cent.
constexpr int compression_level = 3;

struct Receiver {
  std::string bytes;
  std::array<char, 200> error{};
};

// libpng leaves by longjmp where its error function returns. Nothing with a destructor may be made between png_setjmp and the
// end.
void note_error(png_structp png, png_const_charp message) {
  auto* receiver = static_cast<Receiver*>(png_get_error_ptr(png));
  std::snprintf(receiver->error.data(), receiver->error.size(), "%s", message);
  png_longjmp(png, 1);
}

void no_warning(png_structp /*png*/, png_const_charp /*message*/) {}

void take(png_structp png, png_bytep bytes, png_size_t count) {
  static_cast<Receiver*>(png_get_io_ptr(png))->bytes.append(reinterpret_cast<const char*>(bytes), count);
}

void flush(png_structp /*png*/) {}

/// False where libpng says that something is wrong.
bool encode(png_structp png, png_infop info, const Pixels& pixels, Receiver& receiver) {
  if (setjmp(png_jmpbuf(png)) != 0) return false;
  png_set_write_fn(png, &receiver, take, flush);
  png_set_compression_level(png, compression_level);
  png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_NONE);
  const png_uint_32 width = static_cast<png_uint_32>(pixels.width), height = static_cast<png_uint_32>(pixels.height);
  png_set_IHDR(png, info, width, height, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
               PNG_FILTER_TYPE_DEFAULT);
  png_set_sRGB(png, info, PNG_sRGB_INTENT_PERCEPTUAL);
  png_write_info(png, info);
  png_set_filler(png, 0, PNG_FILLER_AFTER);  // sheets cover all: alpha is left out
  for (png_uint_32 row = 0; row < height; ++row) png_write_row(png, pixels.rgba.data() + std::size_t{4} * width * row);
  png_write_end(png, info);
  return true;
}

}  // namespace

std::string png_bytes(const Pixels& pixels) {
  Receiver receiver;
  png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &receiver, note_error, no_warning);
  png_infop info = png != nullptr ? png_create_info_struct(png) : nullptr;
  const bool good = info != nullptr && encode(png, info, pixels, receiver);
  png_destroy_write_struct(&png, &info);
  if (!good) throw WriteError(std::string("could not make a PNG: ") + receiver.error.data());
  return std::move(receiver.bytes);
}

}  // namespace dishwright
