#include "formats/photo.h"

#include <array>
#include <cstdio>
#include <string>

#include <gtest/gtest.h>
// after <cstdio>, which it needs
#include <jpeglib.h>

namespace film::formats {
namespace {

GreyRaster ramp(int width, int height) {
  GreyRaster picture{width, height, {}};
  for (int y = 0; y < height; ++y) {
    for (int x = 0; x < width; ++x) {
      picture.values.push_back(static_cast<std::uint8_t>(255 * x / (2 * width) + 100 * y / height));
    }
  }
  return picture;
}

/// A JPEG as the library itself writes it, with an EXIF block that asks for `orientation`.
std::string jpeg_of(const GreyRaster& picture, int orientation) {
  jpeg_compress_struct info{};
  jpeg_error_mgr errors{};
  info.err = jpeg_std_error(&errors);
  jpeg_create_compress(&info);
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&info, &bytes, &size);
  info.image_width = static_cast<JDIMENSION>(picture.width);
  info.image_height = static_cast<JDIMENSION>(picture.height);
  info.input_components = 1;
  info.in_color_space = JCS_GRAYSCALE;
  jpeg_set_defaults(&info);
  jpeg_set_quality(&info, 98, TRUE);
  jpeg_start_compress(&info, TRUE);
  // CIPA DC-008: "Exif", two zeros, a TIFF header, one directory with one entry, tag 0x0112 SHORT.
  const std::array<unsigned char, 32> exif{
      'E', 'x', 'i', 'f', 0,    0, 'M', 'M', 0, 42, 0, 0, 0,
      8,   0,   1,   1,   0x12, 0, 3,   0,   0, 0,  1, 0, static_cast<unsigned char>(orientation),
      0,   0,   0,   0,   0,    0};
  jpeg_write_marker(&info, JPEG_APP0 + 1, exif.data(), exif.size());
  for (int y = 0; y < picture.height; ++y) {
    auto* row =
        const_cast<JSAMPROW>(picture.values.data() +
                             static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width));
    jpeg_write_scanlines(&info, &row, 1);
  }
  jpeg_finish_compress(&info);
  std::string file(reinterpret_cast<char*>(bytes), size);
  std::free(bytes);
  jpeg_destroy_compress(&info);
  return file;
}

TEST(ReadPhoto, ReadsWhatPngHolds) {
  const GreyRaster picture = ramp(61, 40);
  EXPECT_EQ(*read_photo(*write_png(picture)), picture);
}

TEST(ReadPhoto, TurnsAJpegUprightAsExifSays) {
  const GreyRaster picture = ramp(64, 32);
  // Where the stored top left corner shows: Exif 2.3, table of tag 0x0112.
  struct Case {
    int orientation;
    bool right, bottom, on_its_side;
  };
  for (const Case c : {Case{1, false, false, false},
                       {2, true, false, false},
                       {3, true, true, false},
                       {4, false, true, false},
                       {5, false, false, true},
                       {6, true, false, true},
                       {7, true, true, true},
                       {8, false, true, true}}) {
    const auto read = read_photo(jpeg_of(picture, c.orientation));
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->width, c.on_its_side ? 32 : 64) << c.orientation;
    const int x = c.right ? read->width - 1 : 0;
    const int y = c.bottom ? read->height - 1 : 0;
    EXPECT_NEAR(read->at(x, y), picture.at(0, 0), 6) << c.orientation;
    // The stored row runs on along the other axis when the picture lies on its side.
    const int u = c.on_its_side ? x : read->width - 1 - x;
    const int v = c.on_its_side ? read->height - 1 - y : y;
    EXPECT_NEAR(read->at(u, v), picture.at(63, 0), 6) << c.orientation;
  }
}

TEST(ReadPhoto, RefusesWhatIsCutShort) {
  for (const std::string& whole : {*write_png(ramp(300, 200)), jpeg_of(ramp(300, 200), 1)}) {
    for (const std::size_t size : {whole.size() - 40, whole.size() / 2, std::size_t{20}}) {
      const auto read = read_photo(std::string_view(whole).substr(0, size));
      ASSERT_FALSE(read) << size;
      EXPECT_EQ(read.error().code, ErrorCode::invalid_input);
      EXPECT_FALSE(read.error().remedy.empty());
    }
  }
}

TEST(ReadPhoto, RefusesOtherFormsAndNothing) {
  for (const char* bytes : {"", "GIF89a", "<svg/>", "\xFF\xD8"}) {
    EXPECT_EQ(read_photo(bytes).error().code, ErrorCode::unsupported);
  }
}

TEST(ReadPhoto, RefusesABombBeforeTakingItsMemory) {
  // The header of a PNG of 60000 x 60000 pixels, its length and check sum as written by hand.
  std::string bomb = *write_png(ramp(16, 16));
  const unsigned char size[] = {0, 0, 0xEA, 0x60, 0, 0, 0xEA, 0x60};
  bomb.replace(16, 8, reinterpret_cast<const char*>(size), 8);
  std::uint32_t crc = 0xFFFFFFFF;  // ISO/IEC 15948, annex D
  for (std::size_t i = 12; i < 29; ++i) {
    crc ^= static_cast<unsigned char>(bomb[i]);
    for (int k = 0; k < 8; ++k) crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
  }
  crc = ~crc;
  for (std::size_t i = 0; i < 4; ++i) bomb[29 + i] = static_cast<char>(crc >> (24 - 8 * i));
  EXPECT_EQ(read_photo(bomb).error().code, ErrorCode::too_large);
  std::string jpeg = jpeg_of(ramp(16, 16), 1);
  const std::size_t frame = jpeg.find("\xFF\xC0");
  jpeg.replace(frame + 5, 4, "\xEA\x60\xEA\x60");
  EXPECT_EQ(read_photo(jpeg).error().code, ErrorCode::too_large);
}

}  // namespace
}  // namespace film::formats
