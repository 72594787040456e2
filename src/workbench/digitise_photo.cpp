#include "workbench/digitise_photo.h"

#include "base/text.h"
#include "formats/photo.h"
#include "pattern/edges.h"

namespace film::workbench {
namespace {

Failure named(Error error, const std::string& file) {
  error.where = error.where.empty() ? file : format("{}: {}", file, error.where);
  return Failure(std::move(error));
}

std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    switch (c) {
      case '&': safe += "&amp;"; break;
      case '<': safe += "&lt;"; break;
      case '"': safe += "&quot;"; break;
      default: safe += c;
    }
  }
  return safe;
}

}  // namespace

Result<PhotoPieces> digitise_photo(std::string_view bytes, const digitise::Options& options,
                                   const std::string& name, const std::string& file,
                                   const Context& context) {
  const auto photo = formats::read_photo(bytes);
  if (!photo) return named(photo.error(), file);
  auto traced = digitise::digitise(*photo, options, context);
  if (!traced) return named(traced.error(), file);
  PhotoPieces result{photo->width, photo->height, {}, std::move(*traced)};
  for (const digitise::Outline& outline : result.traced.outlines) {
    const std::size_t number = result.pieces.size() + 1;
    pattern::Piece piece = pattern::piece_from_outline(
        number == 1 ? name : format("{} {}", name, number), outline.polygon);
    piece.name = piece.id;
    result.pieces.push_back(std::move(piece));
  }
  return result;
}

Result<std::string> marker_board(const documents::MarkerBoardOptions& options) {
  return documents::write_marker_board(options);
}

std::string traced_over_photo(const PhotoPieces& pieces, const std::string& photo_file) {
  std::string svg = format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\">\n"
      "<image href=\"{2}\" width=\"{0}\" height=\"{1}\"/>\n"
      "<path fill=\"#ff009040\" fill-rule=\"evenodd\" stroke=\"#ff0090\" stroke-width=\"{3:.1f}\" "
      "d=\"",
      pieces.width, pieces.height, escaped(photo_file), pieces.width / 1000.0);
  for (const digitise::Outline& outline : pieces.traced.outlines) {
    for (const Ring& ring : outline.in_photo) {
      char step = 'M';
      for (const Vec2 p : ring) {
        svg += format("{}{:.1f} {:.1f}", step, p.x, p.y);
        step = 'L';
      }
      svg += 'Z';
    }
  }
  return svg + "\"/>\n</svg>\n";
}

}  // namespace film::workbench
