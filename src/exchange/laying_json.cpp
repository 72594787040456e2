#include "exchange/laying_json.h"

#include <cstddef>
#include <iterator>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "base/text.h"

namespace film::exchange {
namespace {

using Json = nlohmann::ordered_json;
using namespace surface;

Json json_of(Vec2 p) { return Json::array({p.x, p.y}); }
Json json_of(Vec3 p) { return Json::array({p.x, p.y, p.z}); }

Json json_of(const ReliefCut& cut);
Json json_of(const Seam& seam);
Json json_of(const SeamPart& part);
Json json_of(const Anchor& anchor);
Json json_of(const SlackCut& cut);
Json json_of(const Pull& pull);

template <class Points>
Json list_of(const Points& points) {
  Json list = Json::array();
  for (const auto& p : points) list.push_back(json_of(p));
  return list;
}

Vec2 vec2_of(const Json& j) { return {j.at(0).get<double>(), j.at(1).get<double>()}; }
Vec3 vec3_of(const Json& j) {
  return {j.at(0).get<double>(), j.at(1).get<double>(), j.at(2).get<double>()};
}

template <class Read>
auto vector_of(const Json& list, Read read) {
  std::vector<decltype(read(list))> result;
  for (const Json& item : list) result.push_back(read(item));
  return result;
}

double number(const Json& j, const char* key) { return j.at(key).get<double>(); }
Mm mm(const Json& j, const char* key) { return Mm{number(j, key)}; }
std::string text(const Json& j, const char* key) { return j.at(key).get<std::string>(); }

constexpr const char* kWhys[] = {"corner", "bay", "opening"};

Json json_of(const ReliefCut& cut) {
  return {{"on_panel", list_of(cut.on_panel)},  {"on_film", list_of(cut.on_film)},
          {"length_mm", cut.length.value},      {"opening_mm", cut.opening.value},
          {"visibility", cut.visibility},       {"surplus_mm2", cut.surplus},
          {"gain_mm2_per_cm", cut.gain_per_cm}, {"stretch_least", cut.least_stretch},
          {"stretch_most", cut.peak_stretch},   {"words", cut.words}};
}

ReliefCut relief_cut_of(const Json& j) {
  ReliefCut cut;
  cut.on_panel = vector_of(j.at("on_panel"), vec3_of);
  cut.on_film = vector_of(j.at("on_film"), vec2_of);
  cut.length = mm(j, "length_mm");
  cut.opening = mm(j, "opening_mm");
  cut.visibility = number(j, "visibility");
  cut.surplus = number(j, "surplus_mm2");
  cut.gain_per_cm = number(j, "gain_mm2_per_cm");
  cut.least_stretch = number(j, "stretch_least");
  cut.peak_stretch = number(j, "stretch_most");
  cut.words = text(j, "words");
  return cut;
}

Json json_of(const Seam& seam) {
  return {{"on_panel", list_of(seam.on_panel)},
          {"on_film", list_of(seam.on_film)},
          {"length_mm", seam.length.value},
          {"visibility", seam.visibility},
          {"words", seam.words}};
}

Seam seam_of(const Json& j) {
  return {vector_of(j.at("on_panel"), vec3_of), vector_of(j.at("on_film"), vec2_of),
          mm(j, "length_mm"), number(j, "visibility"), text(j, "words")};
}

Json json_of(const SeamPart& part) {
  return {{"area_mm2", part.area},
          {"fits", part.reach.fits},
          {"width_mm", part.reach.width.value},
          {"stretch_needed", part.reach.stretch_needed},
          {"over_share", part.over_share},
          {"stretch_least", part.least_stretch},
          {"stretch_most", part.peak_stretch}};
}

SeamPart seam_part_of(const Json& j) {
  SeamPart part;
  part.area = number(j, "area_mm2");
  part.reach.fits = j.at("fits").get<bool>();
  part.reach.width = mm(j, "width_mm");
  part.reach.stretch_needed = number(j, "stretch_needed");
  part.over_share = number(j, "over_share");
  part.least_stretch = number(j, "stretch_least");
  part.peak_stretch = number(j, "stretch_most");
  return part;
}

Json json_of(const Anchor& anchor) {
  return {{"on_film", json_of(anchor.on_film)}, {"on_panel", json_of(anchor.on_panel)}};
}

Json json_of(const SlackCut& cut) {
  return {{"why", kWhys[static_cast<std::size_t>(cut.why)]}, {"line", list_of(cut.line)}};
}

SlackCut slack_cut_of(const Json& j) {
  SlackCut cut;
  for (std::size_t k = 0; k < std::size(kWhys); ++k) {
    if (text(j, "why") == kWhys[k]) cut.why = static_cast<SlackCut::Why>(k);
  }
  cut.line = {vec2_of(j.at("line").at(0)), vec2_of(j.at("line").at(1))};
  return cut;
}

Json json_of(const Pull& pull) {
  return {{"from", json_of(pull.from)},
          {"to", json_of(pull.to)},
          {"at", json_of(pull.at)},
          {"direction", json_of(pull.direction)},
          {"amount_mm", pull.amount.value},
          {"stretch", pull.stretch},
          {"draws_back_mm", pull.draws_back.value},
          {"words", pull.words}};
}

Pull pull_of(const Json& j) {
  return {vec2_of(j.at("from")),      vec2_of(j.at("to")), vec3_of(j.at("at")),
          vec3_of(j.at("direction")), mm(j, "amount_mm"),  number(j, "stretch"),
          mm(j, "draws_back_mm"),     text(j, "words")};
}

Json json_of(const BulkPlan& bulk) {
  return {{"sheet", list_of(bulk.sheet)},
          {"length_mm", bulk.length.value},
          {"width_mm", bulk.width.value},
          {"anchors", list_of(bulk.anchors)},
          {"slack_cuts", list_of(bulk.slack_cuts)},
          {"pulls", list_of(bulk.pulls)},
          {"draws_back_along_mm", bulk.draws_back_along.value},
          {"draws_back_across_mm", bulk.draws_back_across.value},
          {"steps", bulk.steps}};
}

BulkPlan bulk_of(const Json& j) {
  BulkPlan bulk;
  for (std::size_t k = 0; k < bulk.sheet.size(); ++k) bulk.sheet[k] = vec2_of(j.at("sheet").at(k));
  bulk.length = mm(j, "length_mm");
  bulk.width = mm(j, "width_mm");
  bulk.anchors = vector_of(j.at("anchors"), [](const Json& a) {
    return Anchor{vec2_of(a.at("on_film")), vec3_of(a.at("on_panel"))};
  });
  bulk.slack_cuts = vector_of(j.at("slack_cuts"), slack_cut_of);
  bulk.pulls = vector_of(j.at("pulls"), pull_of);
  bulk.draws_back_along = mm(j, "draws_back_along_mm");
  bulk.draws_back_across = mm(j, "draws_back_across_mm");
  bulk.steps = j.at("steps").get<std::vector<std::string>>();
  return bulk;
}

Laying laying_of(const Json& j) {
  Laying laying;
  const Json& method = j.at("method");
  laying.method.choice = text(method, "choice") == "bulk" ? Choice::bulk : Choice::precut;
  laying.method.reasons = method.at("reasons").get<std::vector<std::string>>();
  const Json& relief = j.at("relief");
  laying.relief = {vector_of(relief.at("cuts"), relief_cut_of),
                   number(relief, "surplus_before_mm2"), number(relief, "surplus_after_mm2"),
                   text(relief, "words")};
  const Json& seams = j.at("seams");
  laying.seams.seams = vector_of(seams.at("lines"), seam_of);
  laying.seams.parts = vector_of(seams.at("parts"), seam_part_of);
  laying.seams.covered = seams.at("covered").get<bool>();
  laying.seams.words = text(seams, "words");
  if (!j.at("bulk").is_null()) laying.bulk = bulk_of(j.at("bulk"));
  return laying;
}

}  // namespace

std::string write_laying(const Laying& laying) {
  const Json json{{"method",
                   {{"choice", laying.method.choice == Choice::bulk ? "bulk" : "precut"},
                    {"reasons", laying.method.reasons}}},
                  {"relief",
                   {{"cuts", list_of(laying.relief.cuts)},
                    {"surplus_before_mm2", laying.relief.surplus_before},
                    {"surplus_after_mm2", laying.relief.surplus_after},
                    {"words", laying.relief.words}}},
                  {"seams",
                   {{"lines", list_of(laying.seams.seams)},
                    {"parts", list_of(laying.seams.parts)},
                    {"covered", laying.seams.covered},
                    {"words", laying.seams.words}}},
                  {"bulk", laying.bulk ? json_of(*laying.bulk) : Json()}};
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

Result<Laying> read_laying(std::string_view json) {
  try {
    return laying_of(Json::parse(json));
  } catch (const Json::exception& e) {
    return fail(ErrorCode::invalid_input, format("not a laying plan: {}", e.what()), "laying",
                "See docs/formats/laying.md for the keys");
  }
}

}  // namespace film::exchange
