#include "formats/dxf_read.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <span>
#include <utility>

#include "base/text.h"
#include "formats/detail/chains.h"
#include "formats/detail/dxf_groups.h"
#include "formats/detail/dxf_shapes.h"
#include "geometry/curves.h"

namespace film::formats {
namespace {

using detail::Chain;
using detail::DxfEntity;
using detail::DxfFile;

constexpr int kDeepest = 16;
constexpr std::size_t kMostCopies = 1'000'000;

/// Millimetres for a value of $INSUNITS; 0 where it names none. Source: DXF Reference, HEADER.
double mm_of(int units) {
  constexpr std::array<double, 21> kSizes{0,   25.4,    304.8,   1609344, 1,    10,   1000,
                                          1e6, 25.4e-6, 25.4e-3, 914.4,   1e-7, 1e-6, 1e-3,
                                          100, 1e4,     1e5,     1e12,    0,    0,    0};
  return units > 0 && units < 21 ? kSizes[static_cast<std::size_t>(units)] : 0;
}

/// Draws entities and, through INSERT, blocks in blocks.
class Drawer {
 public:
  Drawer(const DxfFile& file, const DrawingOptions& options) : file_(file), options_(options) {}

  Result<void> draw(const std::vector<DxfEntity>& entities, const Affine& map,
                    std::string_view outer_layer, int depth) {
    for (std::size_t i = 0; i < entities.size(); ++i) {
      const DxfEntity& entity = entities[i];
      // The vertices of a POLYLINE, and the attributes of an INSERT, follow it up to a SEQEND.
      std::size_t end = i + 1;
      if (entity.type == "POLYLINE") {
        while (end < entities.size() && entities[end].type == "VERTEX") ++end;
      }
      const auto vertices = std::span(entities).subspan(i + 1, end - i - 1);
      i = end - 1;
      const std::string_view layer =
          entity.text(8) == "0" && depth > 0 ? outer_layer : entity.text(8);
      if (is_hidden(entity, layer)) continue;
      if (auto done = draw_one(entity, vertices, map, layer, depth); !done) return done;
    }
    return {};
  }

  std::vector<Chain> chains;
  std::map<std::string, std::size_t> left_out;  // by reason

 private:
  bool is_hidden(const DxfEntity& entity, std::string_view layer) {
    if (entity.text(67) == "1") return true;  // drawn on a sheet of paper, not in the model
    if (file_.hidden_layers.count(layer) == 0 && entity.text(60) != "1") return false;
    ++left_out[format("on hidden layer \"{}\"", layer)];
    return true;
  }

  Result<void> draw_one(const DxfEntity& entity, std::span<const DxfEntity> vertices,
                        const Affine& map, std::string_view layer, int depth) {
    if (entity.type == "INSERT") return draw_block(entity, map, layer, depth);
    auto lines = detail::drawn(entity, vertices, map, options_.flatness.value);
    if (!lines && lines.error().code == ErrorCode::unsupported) {
      ++left_out[lines.error().what];
      return {};
    }
    if (!lines) return tl::unexpected(lines.error());
    if (lines->empty() && entity.type != "SEQEND" && entity.type != "ATTRIB") {
      ++left_out[std::string(entity.type)];
    }
    for (detail::DxfLine& line : *lines) {
      points_ += line.points.size();
      if (points_ > options_.most_points) {
        return fail(ErrorCode::too_large,
                    format("the drawing has more than {} points", options_.most_points),
                    entity.where(), "Simplify it or read it in parts");
      }
      chains.push_back({std::move(line.points), line.closed, std::string(layer), entity.where()});
    }
    return {};
  }

  Result<void> draw_block(const DxfEntity& entity, const Affine& map, std::string_view layer,
                          int depth) {
    const auto block = file_.blocks.find(entity.text(2));
    if (block == file_.blocks.end()) {
      return fail(ErrorCode::invalid_input, format("there is no block \"{}\"", entity.text(2)),
                  entity.where());
    }
    if (depth >= kDeepest) {
      return fail(ErrorCode::too_large, "blocks are nested too deep or hold themselves",
                  entity.where(), "Explode the blocks in the drawing program");
    }
    const auto plane = detail::own_plane(entity);
    if (!plane) {
      if (plane.error().code != ErrorCode::unsupported) return tl::unexpected(plane.error());
      ++left_out[plane.error().what];
      return {};
    }
    std::array<double, 8> v{};
    constexpr std::array<std::pair<int, double>, 8> kCodes{
        {{10, 0}, {20, 0}, {41, 1}, {42, 1}, {50, 0}, {44, 0}, {45, 0}, {0, 0}}};
    for (std::size_t k = 0; k + 1 < kCodes.size(); ++k) {
      const auto value = entity.number(kCodes[k].first, kCodes[k].second);
      if (!value) return tl::unexpected(value.error());
      v[k] = *value;
    }
    const auto base_x = block->second.head.number(10, 0);
    const auto base_y = block->second.head.number(20, 0);
    const auto columns = entity.whole(70, 1);
    const auto rows = entity.whole(71, 1);
    if (!base_x || !base_y || !columns || !rows) {
      return fail(ErrorCode::invalid_input, "a number of the block is broken", entity.where());
    }
    // Base point to the origin, scale, array, turn, move.
    Affine place = Affine::turn(v[4] * std::numbers::pi / 180);
    place.origin = {v[0], v[1]};
    const Affine scale{{v[2], 0}, {0, v[3]}, {-v[2] * *base_x, -v[3] * *base_y}};
    for (int row = 0; row < std::max(1, *rows); ++row) {
      for (int column = 0; column < std::max(1, *columns); ++column) {
        if (++copies_ > kMostCopies) {
          return fail(ErrorCode::too_large, "the drawing repeats its blocks too often",
                      entity.where(), "Explode the blocks in the drawing program");
        }
        const Affine cell{{1, 0}, {0, 1}, {column * v[5], row * v[6]}};
        const Affine inner = map.after(*plane).after(place).after(cell).after(scale);
        if (auto done = draw(block->second.entities, inner, layer, depth + 1); !done) return done;
      }
    }
    return {};
  }

  const DxfFile& file_;
  const DrawingOptions& options_;
  std::size_t points_ = 0;
  std::size_t copies_ = 0;
};

}  // namespace

Result<DrawnLoops> read_dxf(std::string_view bytes, const DrawingOptions& options) {
  const auto file = detail::split_dxf(bytes);
  if (!file) return tl::unexpected(file.error());
  const double mm = options.mm_per_unit.value_or(mm_of(file->units.value_or(0)));
  if (!(mm > 0) || !std::isfinite(mm)) {
    return fail(ErrorCode::invalid_input, "the drawing does not say its units ($INSUNITS)", {},
                "Give them: --units mm or --units in");
  }
  Drawer drawer(*file, options);
  const Affine map{{mm, 0}, {0, mm}, {}};
  if (auto drawn = drawer.draw(file->entities, map, "0", 0); !drawn) {
    return tl::unexpected(drawn.error());
  }
  auto loops = detail::joined(std::move(drawer.chains), options);
  if (!loops) return loops;
  loops->mm_per_unit = mm;
  for (const auto& [reason, count] : drawer.left_out) {
    loops->notes.push_back(format("left out {}: {}", count, reason));
  }
  return loops;
}

}  // namespace film::formats
