#include "exchange/stock_json.h"

#include <nlohmann/json.hpp>

#include "exchange/detail/json_place.h"

namespace film::exchange {
namespace {

using detail::Place;
using Json = nlohmann::json;

Json ring_json(const Ring& ring) {
  Json points = Json::array();
  for (const Vec2 p : ring) points.push_back({p.x, p.y});
  return points;
}

Ring ring_of(const Place& place) {
  Ring ring;
  for (std::size_t i = 0; i < place.size(); ++i) {
    const Place point = place.item(i);
    if (point.size() != 2) detail::refuse("a point is [x, y]", point.path);
    ring.push_back({point.item(0).number(), point.item(1).number()});
  }
  return ring;
}

/// What `make` makes of the document.
template <class Make>
auto read(std::string_view json, Make make) -> Result<decltype(make(std::declval<Place>()))> {
  const Json root = Json::parse(json, nullptr, false);
  if (root.is_discarded()) {
    return fail(ErrorCode::invalid_input, "the text is not JSON", "", "Write JSON.");
  }
  try {
    return make(Place{root, ""});
  } catch (const detail::Refusal& refusal) {
    return tl::unexpected(refusal.error);
  }
}

}  // namespace

std::string write_outline(const Polygon& outline) {
  Json root;
  root["outline"] = ring_json(outline.outer);
  root["holes"] = Json::array();
  for (const Ring& hole : outline.holes) root["holes"].push_back(ring_json(hole));
  return root.dump();
}

Result<Polygon> read_outline(std::string_view json) {
  auto rings = read(json, [](const Place& root) {
    Polygon polygon;
    polygon.outer = ring_of(root.at("outline"));
    if (const auto holes = root.find("holes")) {
      for (std::size_t i = 0; i < holes->size(); ++i) {
        polygon.holes.push_back(ring_of(holes->item(i)));
      }
    }
    return polygon;
  });
  if (!rings) return rings;
  return make_polygon(std::move(rings->outer), std::move(rings->holes));
}

std::string write_defects(const std::vector<shop::RollDefect>& defects) {
  Json list = Json::array();
  for (const shop::RollDefect& defect : defects) {
    list.push_back({{"from_core", defect.from_core.value},
                    {"length", defect.length.value},
                    {"low", defect.low.value},
                    {"high", defect.high.value},
                    {"note", defect.note}});
  }
  return list.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Result<std::vector<shop::RollDefect>> read_defects(std::string_view json) {
  return read(json, [](const Place& root) {
    std::vector<shop::RollDefect> defects;
    for (std::size_t i = 0; i < root.size(); ++i) {
      const Place entry = root.item(i);
      defects.push_back({Mm{entry.at("from_core").number()}, Mm{entry.at("length").number()},
                         Mm{entry.at("low").number()}, Mm{entry.at("high").number()},
                         detail::text_or(entry, "note", "")});
    }
    return defects;
  });
}

}  // namespace film::exchange
