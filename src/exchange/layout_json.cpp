#include "exchange/layout_json.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "geometry/predicates.h"

namespace film::exchange {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostBytes = std::size_t{200} << 20;
constexpr std::size_t kMostPoints = 100'000;  // of one outline
constexpr int kVersion = 1;

/// Ends a reading; turned into an Error at the edge of this file and nowhere else.
struct Refused {
  Error error;
};

[[noreturn]] void refuse(std::string what, std::string where,
                         ErrorCode code = ErrorCode::invalid_input) {
  throw Refused{Error{code, std::move(what), std::move(where), {}}};
}

const Json& field(const Json& object, const char* key, const std::string& where) {
  const auto at = object.find(key);
  if (at == object.end()) refuse(format("`{}` is missing", key), where);
  return *at;
}

double number(const Json& value, const std::string& where) {
  if (!value.is_number()) refuse("a number is expected", where);
  const auto number = value.get<double>();
  if (!std::isfinite(number)) refuse("a finite number is expected", where);
  return number;
}

double number_or(const Json& object, const char* key, double otherwise, const std::string& where) {
  const auto at = object.find(key);
  return at == object.end() || at->is_null() ? otherwise : number(*at, where + " " + key);
}

std::string text_or(const Json& object, const char* key, const std::string& where) {
  const auto at = object.find(key);
  if (at == object.end() || at->is_null()) return {};
  if (!at->is_string()) refuse(format("`{}` must be a text", key), where);
  return at->get<std::string>();
}

/// Ids may be texts or whole numbers in files; inside they are texts.
std::string id_of(const Json& value, const std::string& where) {
  if (value.is_string()) return value.get<std::string>();
  if (value.is_number_integer()) return value.dump();
  refuse("an id must be a text or a whole number", where);
}

/// A text that is a whole number is written as one, as it came.
Json id_json(const std::string& id) {
  long long whole = 0;
  const auto [end, error] = std::from_chars(id.data(), id.data() + id.size(), whole);
  if (error == std::errc{} && end == id.data() + id.size() && std::to_string(whole) == id) {
    return whole;
  }
  return id;
}

Ring ring_of(const Json& points, const std::string& where) {
  if (!points.is_array()) refuse("an outline must be a list of [x, y]", where);
  if (points.size() > kMostPoints) {
    refuse(format("{} points are past the limit of {}", points.size(), kMostPoints), where,
           ErrorCode::too_large);
  }
  Ring ring;
  for (const Json& point : points) {
    const std::string at = where + format(" point {}", ring.size());
    if (!point.is_array() || point.size() != 2) refuse("a point must be [x, y]", at);
    ring.push_back({number(point[0], at), number(point[1], at)});
  }
  return ring;
}

/// Takes out repeated points and corners at which the outline turns straight back.
Ring without_spikes(Ring ring) {
  for (std::size_t i = 0; i < ring.size() && ring.size() > 3;) {
    const std::size_t n = ring.size();
    const Vec2 before = ring[(i + n - 1) % n];
    const Vec2 after = ring[(i + 1) % n];
    const bool repeated = ring[i] == after;
    const bool back =
        orientation(before, ring[i], after) == 0 && dot(before - ring[i], after - ring[i]) > 0;
    if (!repeated && !back) {
      ++i;
      continue;
    }
    ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
    i = i > 1 ? i - 2 : 0;  // what was clear before may be a spike now
  }
  return ring;
}

Polygon polygon_of(const Json& outline, const Json* holes, const std::string& where) {
  std::vector<Ring> inner;
  if (holes != nullptr && !holes->is_null()) {
    if (!holes->is_array()) refuse("holes must be a list of outlines", where);
    for (const Json& hole : *holes) {
      inner.push_back(without_spikes(ring_of(hole, where + format(" hole {}", inner.size() + 1))));
    }
  }
  auto polygon = make_polygon(without_spikes(ring_of(outline, where)), std::move(inner));
  if (!polygon) {
    Error error = polygon.error();
    error.where = where + ": " + error.where;
    throw Refused{std::move(error)};
  }
  return *std::move(polygon);
}

const Json* find(const Json& object, const char* key) {
  const auto at = object.find(key);
  return at == object.end() ? nullptr : &*at;
}

int quantity_of(const Json& object, const char* key, const std::string& where) {
  const Json* value = find(object, key);
  if (value == nullptr) return 1;
  if (!value->is_number_integer() || value->get<std::int64_t>() < 0 ||
      value->get<std::int64_t>() > 1'000'000) {
    refuse(format("`{}` must be a whole number from 0 to a million", key), where);
  }
  return value->get<int>();
}

std::vector<Angle> turns_of(const Json& object, const char* key, const std::string& where) {
  std::vector<Angle> turns;
  const Json* list = find(object, key);
  if (list == nullptr || list->is_null()) return turns;
  if (!list->is_array() || list->empty()) {
    refuse(format("`{}` must be a list of degrees; leave it out for any angle", key), where);
  }
  for (const Json& degrees : *list) {
    turns.push_back(Angle::from_degrees(number(degrees, where + " " + key)));
  }
  return turns;
}

const Json& list_of(const Json& object, const char* key) {
  const Json& list = field(object, key, "file");
  if (!list.is_array()) refuse(format("`{}` must be a list", key), "file");
  return list;
}

layout::Problem read_benchmark(const Json& file) {
  layout::Problem problem;
  problem.name = text_or(file, "name", "file");
  problem.strip.width = number(field(file, "strip_height", "file"), "strip_height");
  for (const Json& entry : list_of(file, "items")) {
    std::string where = format("item {}", problem.items.size());
    if (!entry.is_object()) refuse("an item must be an object", where);
    layout::Item item;
    item.id = id_of(field(entry, "id", where), where);
    where = "item " + item.id;
    item.quantity = quantity_of(entry, "demand", where);
    item.turns = turns_of(entry, "allowed_orientations", where);
    const Json& shape = field(entry, "shape", where);
    if (!shape.is_object()) refuse("`shape` must be an object", where);
    const std::string type = text_or(shape, "type", where);
    if (type == "simple_polygon") {
      item.shape = polygon_of(field(shape, "data", where), nullptr, where);
    } else if (type == "polygon") {
      const Json& data = field(shape, "data", where);
      if (!data.is_object()) refuse("`data` must hold outer and inner", where);
      item.shape = polygon_of(field(data, "outer", where), find(data, "inner"), where);
    } else {
      refuse(format("shapes of type `{}` are not read", type), where, ErrorCode::unsupported);
    }
    problem.items.push_back(std::move(item));
  }
  return problem;
}

layout::Strip read_strip(const Json& json) {
  if (!json.is_object()) refuse("`strip` must be an object", "file");
  layout::Strip strip;
  strip.width = number(field(json, "width", "strip"), "strip width");
  strip.gap = number_or(json, "gap", 0, "strip");
  strip.maximum_length = number_or(json, "maximum_length", strip.maximum_length, "strip");
  strip.frame = number_or(json, "frame", 0, "strip");
  if (const Json* margins = find(json, "margins")) {
    if (!margins->is_object()) refuse("`margins` must be an object", "strip");
    strip.margins = {
        number_or(*margins, "start", 0, "margins"), number_or(*margins, "end", 0, "margins"),
        number_or(*margins, "low", 0, "margins"), number_or(*margins, "high", 0, "margins")};
  }
  if (const Json* defects = find(json, "defects")) {
    if (!defects->is_array()) refuse("`defects` must be a list of outlines", "strip");
    for (const Json& defect : *defects) {
      strip.defects.push_back(
          polygon_of(defect, nullptr, format("defect {}", strip.defects.size() + 1)));
    }
  }
  return strip;
}

layout::Item read_piece(const Json& entry, std::size_t index) {
  std::string where = format("piece {}", index);
  if (!entry.is_object()) refuse("a piece must be an object", where);
  layout::Item item;
  item.id = id_of(field(entry, "id", where), where);
  where = "piece " + item.id;
  item.quantity = quantity_of(entry, "quantity", where);
  item.turns = turns_of(entry, "turns_deg", where);
  item.group = text_or(entry, "zone", where);
  item.priority = static_cast<int>(number_or(entry, "priority", 0, where));
  item.shape = polygon_of(field(entry, "outline", where), find(entry, "holes"), where);
  return item;
}

layout::Grouping read_grouping(const Json& file) {
  const std::string grouping = text_or(file, "zones", "file");
  if (grouping == "in_turn") return layout::Grouping::in_turn;
  if (!grouping.empty() && grouping != "free") refuse("`zones` is free or in_turn", "file");
  return layout::Grouping::free;
}

layout::Problem read_own(const Json& file) {
  layout::Problem problem;
  problem.name = text_or(file, "name", "file");
  problem.units = text_or(file, "units", "file");
  problem.grouping = read_grouping(file);
  problem.strip = read_strip(field(file, "strip", "file"));
  for (const Json& entry : list_of(file, "pieces")) {
    problem.items.push_back(read_piece(entry, problem.items.size()));
  }
  return problem;
}

layout::Stock read_stock(const Json& entry, double gap, std::size_t index) {
  std::string where = format("stock {}", index);
  if (!entry.is_object()) refuse("a roll or offcut must be an object", where);
  layout::Stock stock;
  stock.id = id_of(field(entry, "id", where), where);
  where = "stock " + stock.id;
  stock.film = text_or(entry, "film", where);
  stock.price = number_or(entry, "price", 1, where);
  if (const Json* outline = find(entry, "outline")) {
    stock.offcut = true;
    stock.strip = layout::strip_of_offcut(polygon_of(*outline, nullptr, where), gap);
  } else {
    stock.strip = read_strip(entry);
    stock.strip.gap = gap;
  }
  return stock;
}

StockJob read_job(const Json& file) {
  StockJob job;
  job.name = text_or(file, "name", "file");
  job.grouping = read_grouping(file);
  const double gap = number_or(file, "gap", 0, "file");
  if (const Json* terms = find(file, "terms")) {
    if (!terms->is_object()) refuse("`terms` must be an object", "file");
    layout::Terms& t = job.terms;
    t.handling = number_or(*terms, "handling", t.handling, "terms");
    t.least_rest = number_or(*terms, "least_rest", t.least_rest, "terms");
    t.offcut_worth = number_or(*terms, "offcut_worth", t.offcut_worth, "terms");
    t.usual_use = number_or(*terms, "usual_use", t.usual_use, "terms");
  }
  for (const Json& entry : list_of(file, "stock")) {
    job.stocks.push_back(read_stock(entry, gap, job.stocks.size()));
  }
  for (const Json& entry : list_of(file, "pieces")) {
    job.demands.push_back({read_piece(entry, job.demands.size()), text_or(entry, "film", "piece")});
  }
  return job;
}

Json ring_json(const Ring& ring) {
  Json points = Json::array();
  for (const Vec2 p : ring) points.push_back({p.x, p.y});
  return points;
}

Json holes_json(const Polygon& polygon) {
  Json holes = Json::array();
  for (const Ring& hole : polygon.holes) holes.push_back(ring_json(hole));
  return holes;
}

Json parsed(std::string_view bytes) {
  if (bytes.size() > kMostBytes) {
    refuse(format("{} bytes are past the limit of {}", bytes.size(), kMostBytes), "file",
           ErrorCode::too_large);
  }
  Json json = Json::parse(bytes, nullptr, false);
  if (json.is_discarded()) refuse("this is not JSON, or it is cut short", "file");
  if (!json.is_object()) refuse("the file must hold one object", "file");
  return json;
}

LaidPiece read_laid(const Json& entry, std::size_t index) {
  std::string where = format("placement {}", index);
  if (!entry.is_object()) refuse("a placement must be an object", where);
  LaidPiece piece;
  piece.item = id_of(field(entry, "item", where), where);
  piece.copy = entry.contains("copy") ? quantity_of(entry, "copy", where) : 0;
  where += format(" ({})", piece.item);
  piece.rotation_deg = number_or(entry, "rotation_deg", 0, where);
  if (const Json* move = find(entry, "move")) piece.move = ring_of(Json::array({*move}), where)[0];
  piece.outline = polygon_of(field(entry, "outline", where), find(entry, "holes"), where);
  piece.label = text_or(entry, "label", where);
  piece.zone = text_or(entry, "zone", where);
  if (const Json* slits = find(entry, "slits")) {
    if (!slits->is_array()) refuse("`slits` must be a list of lines", where);
    for (const Json& slit : *slits) piece.slits.push_back(ring_of(slit, where));
  }
  return piece;
}

LayoutSheet read_sheet(const Json& file) {
  LayoutSheet sheet;
  if (number_or(file, "version", kVersion, "file") > kVersion) {
    refuse("the file is of a later version of the form", "file", ErrorCode::unsupported);
  }
  sheet.name = text_or(file, "name", "file");
  if (file.contains("units")) sheet.units = text_or(file, "units", "file");
  sheet.width = number(field(file, "width", "file"), "width");
  sheet.length = number(field(file, "length", "file"), "length");
  sheet.density_pct = number_or(file, "density_pct", 0, "file");
  for (const Json& entry : list_of(file, "placements")) {
    sheet.pieces.push_back(read_laid(entry, sheet.pieces.size()));
  }
  if (const Json* unplaced = find(file, "unplaced")) {
    if (!unplaced->is_array()) refuse("`unplaced` must be a list", "file");
    for (const Json& line : *unplaced) {
      if (!line.is_string()) refuse("`unplaced` must hold texts", "file");
      sheet.unplaced.push_back(line.get<std::string>());
    }
  }
  return sheet;
}

Json sheet_json(const LayoutSheet& sheet) {
  Json file;
  file["version"] = kVersion;
  file["name"] = sheet.name;
  file["units"] = sheet.units;
  file["width"] = sheet.width;
  file["length"] = sheet.length;
  file["density_pct"] = sheet.density_pct;
  file["placements"] = Json::array();
  for (const LaidPiece& piece : sheet.pieces) {
    Json entry;
    entry["item"] = id_json(piece.item);
    entry["copy"] = piece.copy;
    entry["rotation_deg"] = piece.rotation_deg;
    entry["move"] = {piece.move.x, piece.move.y};
    entry["outline"] = ring_json(piece.outline.outer);
    entry["holes"] = holes_json(piece.outline);
    entry["label"] = piece.label;
    entry["zone"] = piece.zone;
    if (!piece.slits.empty()) {
      entry["slits"] = Json::array();
      for (const Polyline& slit : piece.slits) entry["slits"].push_back(ring_json(slit));
    }
    file["placements"].push_back(std::move(entry));
  }
  file["unplaced"] = sheet.unplaced;
  return file;
}

}  // namespace

Result<layout::Problem> read_layout_problem(std::string_view bytes) {
  try {
    const Json file = parsed(bytes);
    layout::Problem problem = file.contains("pieces") ? read_own(file) : read_benchmark(file);
    if (auto fault = layout::fault_of(problem)) return tl::unexpected(*std::move(fault));
    return problem;
  } catch (const Refused& refused) {
    return tl::unexpected(refused.error);
  }
}

std::string write_layout_problem(const layout::Problem& problem) {
  Json file;
  file["name"] = problem.name;
  file["units"] = problem.units;
  const layout::Strip& strip = problem.strip;
  Json& s = file["strip"];
  s["width"] = strip.width;
  s["gap"] = strip.gap;
  const layout::Margins& m = strip.margins;
  s["margins"] = {{"start", m.start}, {"end", m.end}, {"low", m.low}, {"high", m.high}};
  if (std::isfinite(strip.maximum_length)) s["maximum_length"] = strip.maximum_length;
  if (strip.frame > 0) s["frame"] = strip.frame;
  s["defects"] = Json::array();
  for (const Polygon& defect : strip.defects) s["defects"].push_back(ring_json(defect.outer));
  if (problem.grouping == layout::Grouping::in_turn) file["zones"] = "in_turn";
  file["pieces"] = Json::array();
  for (const layout::Item& item : problem.items) {
    Json entry;
    entry["id"] = id_json(item.id);
    entry["quantity"] = item.quantity;
    if (!item.turns.empty()) {
      entry["turns_deg"] = Json::array();
      for (const Angle turn : item.turns) entry["turns_deg"].push_back(turn.degrees());
    }
    entry["zone"] = item.group;
    if (item.priority != 0) entry["priority"] = item.priority;
    entry["outline"] = ring_json(item.shape.outer);
    entry["holes"] = holes_json(item.shape);
    file["pieces"].push_back(std::move(entry));
  }
  return file.dump(1) + "\n";
}

LayoutSheet make_sheet(const layout::Problem& problem, const layout::Solution& solution) {
  LayoutSheet sheet;
  sheet.name = problem.name;
  sheet.units = problem.units;
  sheet.width = problem.strip.width;
  sheet.length = solution.length;
  sheet.density_pct = 100 * solution.density;
  for (const layout::PlacedPiece& piece : solution.placements) {
    const layout::Item& item = problem.items[piece.item];
    sheet.pieces.push_back({item.id,
                            piece.copy,
                            Angle{piece.placement.turn}.degrees(),
                            piece.placement.move,
                            layout::outline_of(problem, piece),
                            item.id,
                            item.group,
                            {}});
  }
  for (const layout::Unplaced& piece : solution.unplaced) {
    sheet.unplaced.push_back(
        format("{} {}: {}", problem.items[piece.item].id, piece.copy, piece.reason));
  }
  return sheet;
}

std::string write_layout_sheet(const LayoutSheet& sheet) { return sheet_json(sheet).dump() + "\n"; }

bool holds_stock(std::string_view bytes) {
  if (bytes.size() > kMostBytes) return false;
  const Json json = Json::parse(bytes, nullptr, false);
  return json.is_object() && json.contains("stock");
}

Result<StockJob> read_stock_job(std::string_view bytes) {
  try {
    return read_job(parsed(bytes));
  } catch (const Refused& refused) {
    return tl::unexpected(refused.error);
  }
}

std::string write_allotment(const StockJob& job, const layout::Allotment& allotment) {
  Json file;
  file["version"] = kVersion;
  file["name"] = job.name;
  file["cost"] = allotment.cost;
  file["portions"] = Json::array();
  for (const layout::Portion& portion : allotment.portions) {
    Json entry;
    entry["stock"] = id_json(job.stocks[portion.stock].id);
    entry["film"] = job.stocks[portion.stock].film;
    entry["cost"] = portion.cost;
    entry["layout"] = sheet_json(make_sheet(portion.problem, portion.solution));
    file["portions"].push_back(std::move(entry));
  }
  file["left"] = Json::array();
  for (const layout::Left& left : allotment.left) {
    file["left"].push_back({{"item", id_json(job.demands[left.demand].item.id)},
                            {"copies", left.copies},
                            {"reason", left.reason}});
  }
  return file.dump() + "\n";
}

Result<LayoutSheet> read_layout_sheet(std::string_view bytes) {
  try {
    return read_sheet(parsed(bytes));
  } catch (const Refused& refused) {
    return tl::unexpected(refused.error);
  }
}

}  // namespace film::exchange
