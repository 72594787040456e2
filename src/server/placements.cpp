#include "server/placements.h"

#include "base/text.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kMostPieces = 10'000;
constexpr std::size_t kMostDefects = 1'000;
constexpr double kFarthest = 1e7;  // mm

}  // namespace

std::vector<exchange::LaidPiece> read_placements(Fields& fields, const Json& body,
                                                 const std::string& name) {
  std::vector<exchange::LaidPiece> pieces;
  if (!body.contains(name)) return pieces;
  for (const Json& entry : fields.array(name, 0, kMostPieces)) {
    Fields one(entry, format("{}[{}].", name, pieces.size()));
    exchange::LaidPiece piece;
    piece.item = one.text("piece", kLongestId);
    piece.copy = static_cast<int>(one.integer_or("copy", 0, 1'000'000, 0));
    piece.rotation_deg = one.number_or("turn_deg", -1e6, 1e6, 0);
    piece.move = {one.number_or("x_mm", -kFarthest, kFarthest, 0),
                  one.number_or("y_mm", -kFarthest, kFarthest, 0)};
    fields.take(one);
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

std::optional<std::vector<Box>> read_defects(Fields& fields, const Json& body) {
  if (!body.contains("defects")) return std::nullopt;
  std::vector<Box> defects;
  for (const Json& entry : fields.array("defects", 0, kMostDefects)) {
    Fields one(entry, format("defects[{}].", defects.size()));
    const Vec2 low{one.number_or("x_mm", -kFarthest, kFarthest, 0),
                   one.number_or("y_mm", -kFarthest, kFarthest, 0)};
    const Vec2 size{one.number_or("length_mm", 0.1, kFarthest, 0),
                    one.number_or("width_mm", 0.1, kFarthest, 0)};
    if (size.x <= 0 || size.y <= 0)
      one.refuse("", "a faulty place has no size", "Send both sides.");
    fields.take(one);
    defects.push_back({low, low + size});
  }
  return defects;
}

}  // namespace film::server
