#include "exchange/piece_json.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <utility>

#include <nlohmann/json.hpp>

#include "base/text.h"
#include "exchange/detail/json_place.h"
#include "pattern/edges.h"

namespace film::exchange {
namespace {

using detail::Place;
using detail::Refusal;
using detail::refuse;
using detail::text_or;
using detail::Word;
using nlohmann::json;
using pattern::Asymmetry;
using pattern::Corner;
using pattern::EdgeKind;
using pattern::Grain;
using pattern::Piece;

constexpr std::string_view kForm = "filmwright pieces";
constexpr int kVersion = 1;
constexpr std::size_t kMostBytes = 200'000'000;
constexpr std::size_t kMostPoints = 10'000'000;
constexpr std::size_t kMostPieces = 10'000;

constexpr std::array<Word<EdgeKind>, 5> kKinds{{{"gap", EdgeKind::gap},
                                                {"hem", EdgeKind::hem},
                                                {"cutout", EdgeKind::cutout},
                                                {"seal", EdgeKind::seal},
                                                {"seam", EdgeKind::seam}}};
constexpr std::array<Word<Corner>, 4> kCorners{{{"closed", Corner::closed},
                                                {"round", Corner::round},
                                                {"notch", Corner::notch},
                                                {"slit", Corner::slit}}};
constexpr std::array<Word<Grain>, 3> kGrains{
    {{"along", Grain::along}, {"square", Grain::square}, {"free", Grain::free}}};

constexpr std::array<Word<Asymmetry::Effect>, 2> kEffects{
    {{"removes", Asymmetry::Effect::removes}, {"adds", Asymmetry::Effect::adds}}};

template <class Words, class Value>
std::string_view word_for(const Words& words, Value value) {
  for (const auto& word : words) {
    if (word.value == value) return word.text;
  }
  return {};
}

// ---- writing

std::string json_text(std::string_view text) {
  return json(text).dump(-1, ' ', false, json::error_handler_t::replace);
}

std::string number(double value) { return json(value + 0.0).dump(); }  // + 0.0: no "-0.0"

std::string points_text(const std::vector<Vec2>& points) {
  std::string text = "[";
  for (const Vec2 p : points) {
    if (text.size() > 1) text += ",";
    text += "[" + number(p.x) + "," + number(p.y) + "]";
  }
  return text + "]";
}

/// [first,\n second] with every item on its own line.
template <class Items, class Text>
std::string list_text(const Items& items, const std::string& indent, const Text& text) {
  if (items.empty()) return "[]";
  std::string out = "[";
  for (const auto& item : items) {
    out += (out.size() > 1 ? ",\n" : "\n") + indent + "  " + text(item);
  }
  return out + "\n" + indent + "]";
}

std::string polygon_text(const Polygon& polygon, const std::string& indent) {
  return "{\"outer\": " + points_text(polygon.outer) + ",\n" + indent +
         " \"holes\": " + list_text(polygon.holes, indent, points_text) + "}";
}

std::string edge_text(const pattern::EdgeStretch& edge) {
  return format(
      "{{\"name\": {}, \"kind\": \"{}\", \"ring\": {}, \"first\": {}, \"allowance\": {}, "
      "\"corner\": \"{}\"}}",
      json_text(edge.name), word_for(kKinds, edge.kind), edge.ring, edge.first,
      number(edge.allowance.value), word_for(kCorners, edge.corner));
}

std::string label_text(const pattern::Label& label) {
  return format("{{\"text\": {}, \"at\": [{}, {}], \"turn_rad\": {}}}", json_text(label.text),
                number(label.at.x), number(label.at.y), number(label.turn.radians));
}

std::string asymmetry_text(const Asymmetry& asymmetry) {
  return format(
      "{{\"name\": {}, \"effect\": \"{}\", \"kind\": \"{}\", \"allowance\": {}, \"outline\": {}}}",
      json_text(asymmetry.name), word_for(kEffects, asymmetry.effect),
      word_for(kKinds, asymmetry.kind), number(asymmetry.allowance.value),
      points_text(asymmetry.outline));
}

/// What a piece has to do with others; most have nothing and then nothing is written.
std::string kinship_text(const Piece& piece, const std::string& in) {
  std::string text;
  if (piece.follows) text += in + "\"follows\": true,\n";
  if (!piece.asymmetries.empty()) {
    text += in + "\"asymmetries\": " + list_text(piece.asymmetries, in, asymmetry_text) + ",\n";
  }
  if (!piece.part_of.empty()) {
    text += in +
            format("\"part_of\": {},\n{}\"laid\": {},\n", json_text(piece.part_of), in, piece.laid);
  }
  return text;
}

std::string piece_text(const Piece& piece) {
  const std::string in = "      ";
  return "{\n" + in + "\"id\": " + json_text(piece.id) + ",\n" + in +
         "\"name\": " + json_text(piece.name) + ",\n" + in + "\"zone\": " + json_text(piece.zone) +
         ",\n" + in + "\"grain\": \"" + std::string(word_for(kGrains, piece.grain)) + "\",\n" + in +
         "\"twin_of\": " + json_text(piece.twin_of) + ",\n" + kinship_text(piece, in) + in +
         "\"edges\": " + list_text(piece.edges, in, edge_text) + ",\n" + in +
         "\"fold\": " + polygon_text(piece.fold, in) + ",\n" + in +
         "\"cut\": " + polygon_text(piece.cut, in) + ",\n" + in +
         "\"slits\": " + list_text(piece.slits, in, points_text) + ",\n" + in +
         "\"labels\": " + list_text(piece.labels, in, label_text) + "\n    }";
}

// ---- reading

Vec2 point(const Place& place) {
  if (place.size() != 2) refuse("a point is a list of two numbers", place.path);
  return {place.item(0).number(), place.item(1).number()};
}

std::vector<Vec2> points(const Place& place, std::size_t& budget) {
  const std::size_t count = place.size();
  if (count > budget) {
    refuse(format("there are more than {} points", kMostPoints), place.path,
           "Split the file or simplify its outlines", ErrorCode::too_large);
  }
  budget -= count;
  std::vector<Vec2> points;
  points.reserve(count);
  for (std::size_t i = 0; i < count; ++i) points.push_back(point(place.item(i)));
  return points;
}

/// Rings must be as they are written: stretches count their points.
Polygon polygon(const Place& place, std::size_t& budget) {
  Polygon given{points(place.at("outer"), budget), {}};
  if (const auto holes = place.find("holes")) {
    for (std::size_t h = 0; h < holes->size(); ++h) {
      given.holes.push_back(points(holes->item(h), budget));
    }
  }
  const auto checked = make_polygon(given.outer, given.holes);
  if (!checked) {
    refuse(checked.error().what, place.path + " " + checked.error().where, checked.error().remedy);
  }
  if (*checked != given) {
    refuse("a ring repeats a point or runs the wrong way", place.path,
           "Outlines run counter-clockwise, holes clockwise, no point twice");
  }
  return given;
}

pattern::EdgeStretch edge(const Place& place) {
  pattern::EdgeStretch edge;
  edge.name = place.at("name").text();
  if (const auto kind = place.find("kind")) edge.kind = kind->word(kKinds);
  if (const auto ring = place.find("ring")) edge.ring = ring->index();
  edge.first = place.at("first").index();
  if (const auto allowance = place.find("allowance")) edge.allowance = Mm{allowance->number()};
  if (const auto corner = place.find("corner")) edge.corner = corner->word(kCorners);
  return edge;
}

Asymmetry asymmetry(const Place& place, std::size_t& budget) {
  Asymmetry asymmetry;
  asymmetry.name = place.at("name").text();
  if (asymmetry.name.empty()) refuse("an asymmetry needs a name", place.path);
  asymmetry.effect = place.at("effect").word(kEffects);
  const Place outline = place.at("outline");
  asymmetry.outline = points(outline, budget);
  if (const auto checked = make_polygon(asymmetry.outline); !checked) {
    refuse(checked.error().what, outline.path + " " + checked.error().where);
  }
  if (const auto kind = place.find("kind")) asymmetry.kind = kind->word(kKinds);
  if (const auto allowance = place.find("allowance")) {
    asymmetry.allowance = Mm{allowance->number()};
  }
  return asymmetry;
}

void read_kinship(const Place& place, std::size_t& budget, Piece& piece) {
  piece.twin_of = text_or(place, "twin_of", "");
  piece.part_of = text_or(place, "part_of", "");
  if (const auto follows = place.find("follows")) piece.follows = follows->truth();
  if (const auto laid = place.find("laid")) piece.laid = laid->index();
  if (const auto all = place.find("asymmetries")) {
    for (std::size_t a = 0; a < all->size(); ++a) {
      piece.asymmetries.push_back(asymmetry(all->item(a), budget));
    }
  }
  if (piece.follows && piece.twin_of.empty()) {
    refuse("a piece that follows names the one it mirrors in \"twin_of\"", place.path);
  }
}

Piece piece(const Place& place, std::size_t& budget) {
  Piece piece;
  piece.id = place.at("id").text();
  piece.name = text_or(place, "name", piece.id);
  piece.zone = text_or(place, "zone", "");
  read_kinship(place, budget, piece);
  if (const auto grain = place.find("grain")) piece.grain = grain->word(kGrains);
  piece.fold = polygon(place.at("fold"), budget);
  const auto cut = place.find("cut");
  piece.cut = cut ? polygon(*cut, budget) : piece.fold;
  if (const auto edges = place.find("edges")) {
    for (std::size_t e = 0; e < edges->size(); ++e) piece.edges.push_back(edge(edges->item(e)));
  } else {
    piece.edges = pattern::divide(piece.fold);
  }
  if (const auto checked = pattern::check_edges(piece); !checked) {
    refuse(checked.error().what, place.path + " " + checked.error().where);
  }
  if (const auto slits = place.find("slits")) {
    for (std::size_t s = 0; s < slits->size(); ++s) {
      piece.slits.push_back(points(slits->item(s), budget));
      if (piece.slits.back().size() < 2) refuse("a slit needs two points", slits->item(s).path);
    }
  }
  if (const auto labels = place.find("labels")) {
    for (std::size_t l = 0; l < labels->size(); ++l) {
      const Place label = labels->item(l);
      const auto turn = label.find("turn_rad");
      piece.labels.push_back(
          {label.at("text").text(), point(label.at("at")), Angle{turn ? turn->number() : 0}});
    }
  }
  return piece;
}

std::vector<Piece> pieces(const json& document) {
  const Place root{document, ""};
  if (const auto version = root.find("version"); version && version->number() > kVersion) {
    refuse("the file has a later version of the form", "version",
           "Read it with a newer version of this program", ErrorCode::unsupported);
  }
  if (const auto units = root.find("units"); units && units->text() != "mm") {
    refuse(format("units are \"{}\"; pieces are in mm", units->text()), "units");
  }
  std::size_t budget = kMostPoints;
  std::vector<Piece> all;
  if (!root.find("pieces")) {
    all.push_back(piece(root, budget));
    return all;
  }
  const Place list = root.at("pieces");
  if (list.size() > kMostPieces) {
    refuse(format("there are more than {} pieces", kMostPieces), list.path, "Split the file",
           ErrorCode::too_large);
  }
  for (std::size_t i = 0; i < list.size(); ++i) all.push_back(piece(list.item(i), budget));
  std::vector<std::string> ids;
  for (const Piece& p : all) ids.push_back(p.id);
  std::sort(ids.begin(), ids.end());
  if (const auto twice = std::adjacent_find(ids.begin(), ids.end()); twice != ids.end()) {
    refuse(format("two pieces have the id \"{}\"", *twice), list.path);
  }
  return all;
}

}  // namespace

std::string write_pieces(const std::vector<Piece>& pieces) {
  return format("{{\n  \"form\": \"{}\",\n  \"version\": {},\n  \"units\": \"mm\",\n", kForm,
                kVersion) +
         "  \"pieces\": " + list_text(pieces, "  ", piece_text) + "\n}\n";
}

bool holds_pieces(std::string_view bytes) {
  const json document = json::parse(bytes, nullptr, false);
  return document.is_object() && document.contains("form") && document["form"] == kForm;
}

Result<std::vector<Piece>> read_pieces(std::string_view bytes, std::string_view name) {
  const auto placed = [name](Error error) {
    error.where = error.where.empty() ? std::string(name) : format("{} {}", name, error.where);
    return tl::unexpected(std::move(error));
  };
  if (bytes.size() > kMostBytes) {
    return fail(ErrorCode::too_large, format("the file is larger than {} MB", kMostBytes / 1000000),
                std::string(name));
  }
  try {
    return pieces(json::parse(bytes));
  } catch (const Refusal& refusal) {
    return placed(refusal.error);
  } catch (const json::parse_error& error) {
    const std::size_t at = std::min(error.byte, bytes.size());
    const auto line =
        1 + std::count(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(at), '\n');
    return fail(ErrorCode::invalid_input, "this is not JSON or it was cut off",
                format("{} line {}", name, line));
  } catch (const json::exception& error) {
    return fail(ErrorCode::invalid_input, format("the JSON cannot be used ({})", error.what()),
                std::string(name));
  }
}

}  // namespace film::exchange
