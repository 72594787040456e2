#include "formats/photo.h"

#include <csetjmp>
#include <cstdio>
#include <utility>

#include <jpeglib.h>
// after jpeglib.h, on which it stands
#include <jerror.h>
#include <png.h>

#include "base/text.h"

namespace film::formats {
namespace {

constexpr int kMostScans = 100;  // a progressive file of many more is made to keep readers busy

Failure too_many_pixels(std::size_t width, std::size_t height) {
  return fail(ErrorCode::too_large,
              format("the picture has {} x {} pixels; at most {} million are read", width, height,
                     kMostPhotoPixels / 1'000'000),
              "", "Save it smaller; 12 million pixels are plenty");
}

bool too_many(std::size_t width, std::size_t height) {
  return height != 0 && width > kMostPhotoPixels / height;
}

// ---- orientation

/// Reads numbers of a TIFF header; past the end they are 0.
struct TiffBytes {
  std::string_view bytes;
  bool big_endian = false;

  [[nodiscard]] std::size_t number(std::size_t at, std::size_t size) const {
    std::size_t value = 0;
    if (at + size > bytes.size()) return 0;
    for (std::size_t k = 0; k < size; ++k) {
      const std::size_t from = big_endian ? k : size - 1 - k;
      value = value << 8 | static_cast<unsigned char>(bytes[at + from]);
    }
    return value;
  }
};

/// 1 to 8, 1 when the EXIF block does not say.
int orientation_of(std::string_view exif) {
  if (exif.substr(0, 6) != std::string_view("Exif\0\0", 6)) return 1;
  TiffBytes tiff{exif.substr(6)};
  tiff.big_endian = tiff.bytes.substr(0, 2) == "MM";
  const std::size_t directory = tiff.number(4, 4);
  const std::size_t entries = tiff.number(directory, 2);
  for (std::size_t k = 0; k < entries; ++k) {
    const std::size_t entry = directory + 2 + 12 * k;
    if (tiff.number(entry, 2) != 0x0112) continue;
    const std::size_t value = tiff.number(entry + 8, 2);
    return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
  }
  return 1;
}

/// The picture as it is to be looked at.
GreyRaster upright(GreyRaster picture, int orientation) {
  if (orientation == 1) return picture;
  const bool on_its_side = orientation >= 5;
  GreyRaster turned{on_its_side ? picture.height : picture.width,
                    on_its_side ? picture.width : picture.height,
                    std::vector<std::uint8_t>(picture.values.size())};
  const bool flip_x = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
  const bool flip_y = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;
  std::size_t next = 0;
  for (int y = 0; y < turned.height; ++y) {
    for (int x = 0; x < turned.width; ++x) {
      int u = on_its_side ? y : x;
      int v = on_its_side ? x : y;
      if (flip_x) u = picture.width - 1 - u;
      if (flip_y) v = picture.height - 1 - v;
      turned.values[next++] = picture.at(u, v);
    }
  }
  return turned;
}

// ---- JPEG

struct JpegReader {
  jpeg_decompress_struct info{};
  jpeg_error_mgr errors{};
  jpeg_progress_mgr progress{};
  std::jmp_buf away{};
  bool cut_short = false;
  char text[JMSG_LENGTH_MAX]{};

  JpegReader() = default;
  ~JpegReader() { jpeg_destroy_decompress(&info); }
  JpegReader(const JpegReader&) = delete;
  JpegReader& operator=(const JpegReader&) = delete;
};

JpegReader& reader_of(j_common_ptr info) { return *static_cast<JpegReader*>(info->client_data); }

[[noreturn]] void leave(j_common_ptr info) {
  JpegReader& reader = reader_of(info);
  info->err->format_message(info, reader.text);
  std::longjmp(reader.away, 1);
}

/// A broken or truncated stream is only a warning to the library, which then fills in grey. Some
/// warnings are of no weight: cameras leave bytes between the parts of a file.
void note_message(j_common_ptr info, int level) {
  const int message = info->err->msg_code;
  if (message == JWRN_EXTRANEOUS_DATA || message == JWRN_JFIF_MAJOR) return;
  if (level < 0) {
    JpegReader& reader = reader_of(info);
    if (!reader.cut_short) info->err->format_message(info, reader.text);
    reader.cut_short = true;
  }
}

void count_scans(j_common_ptr info) {
  if (info->is_decompressor == 0) return;
  const auto* decompress = reinterpret_cast<j_decompress_ptr>(info);
  if (decompress->input_scan_number <= kMostScans) return;
  std::snprintf(reader_of(info).text, JMSG_LENGTH_MAX, "more than %d scans", kMostScans);
  std::longjmp(reader_of(info).away, 1);
}

Failure broken(const char* form, const char* text) {
  return fail(ErrorCode::invalid_input, format("the {} picture is broken: {}", form, text), "",
              "Copy it from the camera again");
}

void open(JpegReader& reader, std::string_view bytes) {
  reader.info.err = jpeg_std_error(&reader.errors);
  reader.info.client_data = &reader;
  reader.errors.error_exit = leave;
  reader.errors.emit_message = note_message;
  reader.progress.progress_monitor = count_scans;
  jpeg_create_decompress(&reader.info);
  reader.info.progress = &reader.progress;
  jpeg_mem_src(&reader.info, reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
  jpeg_save_markers(&reader.info, JPEG_APP0 + 1, 0xFFFF);
  jpeg_read_header(&reader.info, TRUE);
}

int orientation_of(const JpegReader& reader) {
  for (auto* m = reader.info.marker_list; m != nullptr; m = m->next) {
    if (m->marker != JPEG_APP0 + 1) continue;
    return orientation_of({reinterpret_cast<const char*>(m->data), m->data_length});
  }
  return 1;
}

void decode(JpegReader& reader, GreyRaster& picture) {
  // The luma of a colour picture is its grey picture.
  reader.info.out_color_space = JCS_GRAYSCALE;
  jpeg_start_decompress(&reader.info);
  while (reader.info.output_scanline < reader.info.output_height) {
    JSAMPROW row = picture.values.data() + std::size_t{reader.info.output_scanline} *
                                               static_cast<std::size_t>(picture.width);
    jpeg_read_scanlines(&reader.info, &row, 1);
  }
  jpeg_finish_decompress(&reader.info);
}

/// The library leaves by longjmp, so nothing with a destructor is made between setjmp and its
/// calls: those are in functions of their own, and the picture is made outside.
Result<GreyRaster> read_jpeg(std::string_view bytes) {
  JpegReader reader;
  GreyRaster picture;
  if (setjmp(reader.away) != 0) return broken("JPEG", reader.text);
  open(reader, bytes);
  if (too_many(reader.info.image_width, reader.info.image_height)) {
    return too_many_pixels(reader.info.image_width, reader.info.image_height);
  }
  picture.width = static_cast<int>(reader.info.image_width);
  picture.height = static_cast<int>(reader.info.image_height);
  picture.values.resize(std::size_t{reader.info.image_width} * reader.info.image_height);
  const int orientation = orientation_of(reader);  // decoding lets go of it
  decode(reader, picture);
  if (reader.cut_short) return broken("JPEG", reader.text);
  return upright(std::move(picture), orientation);
}

Result<PhotoForm> jpeg_form(std::string_view bytes) {
  JpegReader reader;
  if (setjmp(reader.away) != 0) return broken("JPEG", reader.text);
  open(reader, bytes);
  if (too_many(reader.info.image_width, reader.info.image_height)) {
    return too_many_pixels(reader.info.image_width, reader.info.image_height);
  }
  return PhotoForm{true, static_cast<int>(reader.info.image_width),
                   static_cast<int>(reader.info.image_height), orientation_of(reader)};
}

// ---- PNG

struct PngImage : png_image {
  PngImage() : png_image{} { version = PNG_IMAGE_VERSION; }
  ~PngImage() { png_image_free(this); }
  PngImage(const PngImage&) = delete;
  PngImage& operator=(const PngImage&) = delete;
};

Result<GreyRaster> read_png(std::string_view bytes) {
  PngImage png;
  if (png_image_begin_read_from_memory(&png, bytes.data(), bytes.size()) == 0) {
    return broken("PNG", png.message);
  }
  if (too_many(png.width, png.height)) return too_many_pixels(png.width, png.height);
  png.format = PNG_FORMAT_GRAY;
  GreyRaster picture{static_cast<int>(png.width), static_cast<int>(png.height),
                     std::vector<std::uint8_t>(PNG_IMAGE_SIZE(png))};
  const png_color ground{255, 255, 255};  // behind what is transparent
  if (png_image_finish_read(&png, &ground, picture.values.data(), 0, nullptr) == 0 ||
      png.warning_or_error != 0) {
    return broken("PNG", png.message);
  }
  return picture;
}

Failure no_picture() {
  return fail(ErrorCode::unsupported, "this is neither a JPEG nor a PNG picture", "",
              "Set the camera to JPEG, or save the picture as JPEG or PNG");
}

}  // namespace

Result<PhotoForm> photo_form(std::string_view bytes) {
  if (bytes.substr(0, 3) == "\xFF\xD8\xFF") return jpeg_form(bytes);
  if (bytes.substr(0, 8) != "\x89PNG\r\n\x1A\n") return no_picture();
  PngImage png;
  if (png_image_begin_read_from_memory(&png, bytes.data(), bytes.size()) == 0) {
    return broken("PNG", png.message);
  }
  if (too_many(png.width, png.height)) return too_many_pixels(png.width, png.height);
  return PhotoForm{false, static_cast<int>(png.width), static_cast<int>(png.height), 1};
}

Result<GreyRaster> read_photo(std::string_view bytes) {
  if (bytes.substr(0, 3) == "\xFF\xD8\xFF") return read_jpeg(bytes);
  if (bytes.substr(0, 8) == "\x89PNG\r\n\x1A\n") return read_png(bytes);
  return no_picture();
}

Result<std::string> write_png(const GreyRaster& picture) {
  PngImage png;
  png.width = static_cast<png_uint_32>(picture.width);
  png.height = static_cast<png_uint_32>(picture.height);
  png.format = PNG_FORMAT_GRAY;
  png.flags = PNG_IMAGE_FLAG_FAST;
  std::string bytes(PNG_IMAGE_PNG_SIZE_MAX(png), '\0');
  png_alloc_size_t size = bytes.size();
  if (png_image_write_to_memory(&png, bytes.data(), &size, 0, picture.values.data(), 0, nullptr) ==
      0) {
    return fail(ErrorCode::io, format("the PNG picture cannot be written: {}", png.message));
  }
  bytes.resize(size);
  return bytes;
}

}  // namespace film::formats
