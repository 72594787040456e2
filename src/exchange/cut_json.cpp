#include "exchange/cut_json.h"

#include <array>
#include <stdexcept>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using cutting::Contour;
using cutting::ContourKind;
using cutting::CutPlan;
using cutting::Phase;
using cutting::Stroke;
using Json = nlohmann::ordered_json;

constexpr int kVersion = 1;
constexpr std::array<const char*, 4> kKinds{"slit", "hole", "outline", "aid"};  // by ContourKind
// One letter a stretch, by Phase: travel, align, cut, swivel, overcut.
constexpr std::string_view kPhases = "tacso";

Json json_of(Vec2 p) { return {p.x, p.y}; }

Json json_of(std::span<const Vec2> points) {
  Json out = Json::array();
  for (const Vec2 p : points) out.push_back(json_of(p));
  return out;
}

Json json_of(const Stroke& stroke) {
  std::string phases;
  for (const Phase phase : stroke.phases) phases += kPhases[static_cast<std::size_t>(phase)];
  return {{"axis", json_of(stroke.axis)}, {"phases", phases}};
}

Json json_of(const Contour& contour) {
  Json strokes = Json::array();
  for (const Stroke& stroke : contour.strokes) strokes.push_back(json_of(stroke));
  return {
      {"shape", contour.shape},           {"kind", kKinds[static_cast<std::size_t>(contour.kind)]},
      {"frame", contour.frame},           {"drawn", json_of(contour.drawn)},
      {"drawn_mm", contour.drawn_length}, {"strokes", strokes}};
}

// What follows throws on a wrong form; read_cut_plan catches.

Vec2 point_from(const Json& json) { return {json.at(0).get<double>(), json.at(1).get<double>()}; }

Polyline points_from(const Json& json) {
  Polyline out;
  for (const Json& point : json) out.push_back(point_from(point));
  return out;
}

Stroke stroke_from(const Json& json) {
  Stroke stroke{points_from(json.at("axis")), {}};
  for (const char letter : json.at("phases").get<std::string>()) {
    const std::size_t phase = kPhases.find(letter);
    if (phase == std::string_view::npos) throw std::invalid_argument("an unknown phase");
    stroke.phases.push_back(static_cast<Phase>(phase));
  }
  if (stroke.axis.size() != stroke.phases.size() + 1 && !stroke.axis.empty()) {
    throw std::invalid_argument("a stroke whose phases do not match its points");
  }
  return stroke;
}

Contour contour_from(const Json& json, std::size_t shapes) {
  Contour contour;
  contour.shape = json.at("shape").get<std::size_t>();
  if (contour.shape >= shapes) throw std::invalid_argument("a contour of no piece");
  const auto kind = json.at("kind").get<std::string>();
  const auto* found = std::find(kKinds.begin(), kKinds.end(), kind);
  if (found == kKinds.end()) throw std::invalid_argument("an unknown kind of contour");
  contour.kind = static_cast<ContourKind>(found - kKinds.begin());
  contour.frame = json.at("frame").get<std::size_t>();
  contour.drawn = points_from(json.at("drawn"));
  contour.drawn_length = json.at("drawn_mm").get<double>();
  for (const Json& stroke : json.at("strokes")) contour.strokes.push_back(stroke_from(stroke));
  if (contour.drawn.size() < 2) throw std::invalid_argument("a contour without length");
  for (const Stroke& stroke : contour.strokes) {
    if (stroke.axis.empty()) throw std::invalid_argument("a stroke without points");
  }
  return contour;
}

CutPlan plan_from(const Json& json) {
  CutPlan plan;
  plan.pieces = json.at("pieces").get<std::vector<std::string>>();
  plan.home = point_from(json.at("home"));
  plan.media = {point_from(json.at("media").at(0)), point_from(json.at("media").at(1))};
  plan.frames = json.at("frames").get<std::size_t>();
  plan.look_back = json.at("look_back_mm").get<double>();
  plan.cut_mm = json.at("cut_mm").get<double>();
  plan.travel_mm = json.at("travel_mm").get<double>();
  plan.estimated = {json.at("estimated_seconds").get<double>()};
  plan.alignment = stroke_from(json.at("alignment"));
  for (const Json& contour : json.at("contours")) {
    plan.contours.push_back(contour_from(contour, plan.pieces.size()));
  }
  return plan;
}

}  // namespace

std::string write_cut_plan(const CutPlan& plan) {
  Json contours = Json::array();
  for (const Contour& contour : plan.contours) contours.push_back(json_of(contour));
  const Json json{{"form", "filmwright knife path"},
                  {"version", kVersion},
                  {"cut_mm", plan.cut_mm},
                  {"travel_mm", plan.travel_mm},
                  {"estimated_seconds", plan.estimated.value},
                  {"media", {json_of(plan.media.low), json_of(plan.media.high)}},
                  {"home", json_of(plan.home)},
                  {"frames", plan.frames},
                  {"look_back_mm", plan.look_back},
                  {"pieces", plan.pieces},
                  {"alignment", json_of(plan.alignment)},
                  {"contours", contours}};
  return json.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Result<CutPlan> read_cut_plan(std::string_view bytes, std::string_view name) {
  const Json json = Json::parse(bytes, nullptr, false);
  if (!json.is_object()) {
    return fail(ErrorCode::invalid_input, "not a JSON object", std::string(name));
  }
  try {
    if (json.at("version").get<int>() > kVersion) {
      return fail(ErrorCode::unsupported, "written by a later version", std::string(name));
    }
    return plan_from(json);
  } catch (const std::exception& error) {
    return fail(ErrorCode::invalid_input, error.what(), std::string(name),
                "See docs/formats/cut.md for the form of a knife path");
  }
}

}  // namespace film::exchange
