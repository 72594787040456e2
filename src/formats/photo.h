#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "geometry/raster.h"

namespace film::formats {

inline constexpr std::size_t kMostPhotoPixels = 120'000'000;

/// What a picture's head says of it.
struct PhotoForm {
  bool jpeg = false;  ///< else a PNG
  int width = 0;      ///< as kept, before it is turned
  int height = 0;
  int orientation = 1;  ///< 1 to 8, as EXIF counts
};

/// Reads the head of a JPEG or PNG picture. Errors: as read_photo.
Result<PhotoForm> photo_form(std::string_view bytes);

/// Reads a JPEG or PNG picture as grey values, turned upright as its EXIF orientation asks, so that
/// its pixels are those a browser shows. The kind is told by the bytes, not by a name.
/// Errors: unsupported (neither form, or a variant the libraries do not read), invalid_input
/// (truncated or broken), too_large (past kMostPhotoPixels; told before memory is taken).
/// Source: ITU-T T.81 (JPEG) by libjpeg-turbo, ISO/IEC 15948 (PNG) by libpng; orientation: CIPA
/// DC-008 (Exif 2.3), tag 0x0112.
Result<GreyRaster> read_photo(std::string_view bytes);

/// The picture as PNG, as small as is quick. Errors: io, when the library reports one.
Result<std::string> write_png(const GreyRaster& picture);

}  // namespace film::formats
