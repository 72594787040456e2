// Glass and lamps: places and their limits, films that match, what a job measured and signed.

#include "base/text.h"
#include "exchange/limits_json.h"
#include "server/api.h"
#include "server/fields.h"
#include "server/json.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/acting.h"
#include "workbench/job_glass.h"
#include "workbench/limits.h"
#include "workbench/match_glass.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;

Json encode(const glazing::Ranged& range) {
  return {{"value", range.value}, {"low", range.low}, {"high", range.high}};
}

template <class T>
Json or_null(const std::optional<T>& value) {
  return value ? Json(*value) : Json();
}

Json encode(const glazing::Xyz& light) {
  const glazing::LinearRgb rgb = glazing::linear_rgb(light);
  return Json::array({rgb.r, rgb.g, rgb.b});
}

Json encode(const glazing::WindowLook& look) {
  return {{"through", encode(look.through)},
          {"out", encode(look.back_through)},
          {"mirrored", encode(look.mirrored)},
          {"grey", look.grey}};
}

Json encode(const glazing::WindowLimit& row) {
  return {{"position", exchange::word_for(row.position)},
          {"kind", exchange::word_for(row.kind)},
          {"least", or_null(row.least)},
          {"tolerance", or_null(row.tolerance)},
          {"most_reflectance", or_null(row.most_reflectance)},
          {"condition", row.condition},
          {"exemption", row.exemption},
          {"text", row.text},
          {"source", row.source},
          {"date_read", row.date_read},
          {"confidence", exchange::word_for(row.confidence)},
          {"note", row.note}};
}

Json encode(const glazing::Ruling& ruling) {
  return {{"verdict", exchange::word_for(ruling.verdict)},
          {"reason", ruling.reason},
          {"limit", ruling.limit ? encode(*ruling.limit) : Json()}};
}

Json encode_heat(const std::optional<glazing::HeatGain>& heat) {
  if (!heat) return {};
  return {{"gain", heat->gain}, {"rejected", heat->rejected}};
}

Json encode(const workbench::MatchLine& line) {
  return {{"films", line.match.films},
          {"visible", encode(line.match.visible)},
          {"apart", encode(line.match.apart)},
          {"within_doubt", line.match.within_doubt},
          {"by_day", std::max(line.match.through_difference, line.match.outside_difference)},
          {"colour", line.match.colour_difference},
          {"look", encode(line.match.look)},
          {"reflectance", line.reflectance},
          {"standing", encode_heat(line.standing)},
          {"moving", encode_heat(line.moving)},
          {"infrared_stopped", or_null(line.infrared_stopped)},
          {"ultraviolet", or_null(line.ultraviolet)},
          {"ruling", encode(line.ruling)}};
}

Json encode(const shop::GlassReading& reading) {
  return {{"transmittance", reading.transmittance},
          {"uncertainty", reading.uncertainty},
          {"meter", reading.meter},
          {"who", reading.who},
          {"at", reading.at}};
}

Json encode(const workbench::JobWindow& window) {
  return {{"panel", window.panel},
          {"name", window.name},
          {"position", window.position ? Json(exchange::word_for(*window.position)) : Json()},
          {"film", window.film},
          {"before", window.before ? encode(*window.before) : Json()},
          {"after", window.after ? encode(*window.after) : Json()},
          {"visible", window.visible ? encode(*window.visible) : Json()},
          {"computed", window.computed},
          {"ruling", encode(window.ruling)}};
}

Json encode(const workbench::JobGlass& glass) {
  Json windows = Json::array();
  for (const auto& window : glass.windows) windows.push_back(encode(window));
  Json lamps = Json::array();
  for (const auto& lamp : glass.lamps) {
    lamps.push_back({{"panel", lamp.panel},
                     {"name", lamp.name},
                     {"film", lamp.film},
                     {"reflector", lamp.reflector},
                     {"left", lamp.left}});
  }
  Json open = Json::array();
  for (const auto& each : glass.open) {
    open.push_back({{"panel", each.panel},
                    {"concern", shop::name_of(each.concern)},
                    {"refused", each.refused},
                    {"caution", shop::caution_for(each.concern)}});
  }
  Json decisions = Json::array();
  for (const auto& each : glass.decisions) {
    decisions.push_back({{"panel", each.panel},
                         {"concern", shop::name_of(each.concern)},
                         {"go_ahead", each.go_ahead},
                         {"signed_by", each.signed_by},
                         {"basis", each.basis},
                         {"at", each.at}});
  }
  return {{"place", glass.place},
          {"place_name", glass.place_name},
          {"no_advice", glazing::no_advice()},
          {"lamp_caution", glazing::lamp_caution()},
          {"windows", std::move(windows)},
          {"lamps", std::move(lamps)},
          {"open", std::move(open)},
          {"decisions", std::move(decisions)}};
}

Response job_glass(workbench::Workbench& workbench, const std::string& job) {
  const auto glass = workbench::glass_of_job(workbench, job);
  return glass ? json_response(encode(*glass)) : problem(glass.error());
}

Response place_list(const workbench::Workbench& workbench) {
  const auto tables = workbench::limit_tables(workbench.folder() / "limits");
  if (!tables) return problem(tables.error());
  Json places = Json::array();
  for (const auto& place : workbench::places_in(*tables)) {
    Json rows = Json::array();
    for (const auto& row : tables->windows) {
      if (row.place == place.id) rows.push_back(encode(row));
    }
    places.push_back(
        {{"id", place.id}, {"name", place.name}, {"read", place.read}, {"rows", std::move(rows)}});
  }
  return json_response({{"as_of", tables->as_of},
                        {"no_advice", glazing::no_advice()},
                        {"places", std::move(places)}});
}

/// The value of a word, or its first choice after a refusal.
template <class T>
T choice(Fields& fields, const char* name, const Result<T>& value) {
  if (value) return *value;
  fields.refuse(name, value.error().what, value.error().remedy);
  return T{};
}

Result<workbench::MatchOrder> read_match(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::MatchOrder order;
  order.front.transmittance = fields.number_or("front", 0.001, 1, 0.75);
  order.target.transmittance = fields.number_or("behind", 0.001, 1, 0.2);
  order.front.tint =
      choice(fields, "front_tint", exchange::tint_of(fields.text_or("front_tint", 20, "green")));
  order.target.tint =
      choice(fields, "behind_tint", exchange::tint_of(fields.text_or("behind_tint", 20, "grey")));
  order.most_films = static_cast<std::size_t>(fields.integer_or("most_films", 1, 2, 2));
  order.glass_tolerance = fields.number_or("glass_tolerance", 0, 0.5, 0.02);
  order.meter_error = fields.number_or("meter_error", 0, 0.5, 0.02);
  order.place = fields.text_or("place", kLongestId, "");
  order.position = choice(fields, "position",
                          exchange::position_of(fields.text_or("position", 20, "front_side")));
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return order;
}

Response match(workbench::Workbench& workbench, const Request& request) {
  const auto order = read_match(request);
  if (!order) return problem(order.error());
  const auto report = workbench::match_glass(workbench, *order);
  if (!report) return problem(report.error());
  Json lines = Json::array();
  for (const auto& line : report->lines) lines.push_back(encode(line));
  return json_response(
      {{"behind", encode(report->answer.target_visible)},
       {"behind_look", encode(report->answer.target_look)},
       {"standing", {{"he", report->standing.outside}, {"hi", report->standing.inside}}},
       {"moving", {{"he", report->moving.outside}, {"hi", report->moving.inside}}},
       {"matches", std::move(lines)},
       {"notes", report->notes},
       {"no_advice", glazing::no_advice()}});
}

Result<shop::GlassReading> read_reading(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::GlassReading reading;
  reading.panel = fields.text("panel", kLongestId);
  const auto stage = shop::parse<shop::Stage>(fields.text("stage", 20));
  if (stage) {
    reading.stage = *stage;
  } else {
    fields.refuse("stage", "a reading is taken before or after", "Use before or after.");
  }
  reading.transmittance = fields.number_or("transmittance", 0, 1, -1);
  reading.uncertainty = fields.number_or("uncertainty", 0, 1, 0.02);
  reading.meter = fields.text_or("meter", 480, "");
  reading.who = fields.text_or("who", 240, workbench::Acting::who());
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return reading;
}

Result<shop::Decision> read_decision(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Decision decision;
  decision.panel = fields.text("panel", kLongestId);
  const auto concern = shop::parse<shop::Concern>(fields.text("concern", 20));
  if (concern) {
    decision.concern = *concern;
  } else {
    fields.refuse("concern", "there is no such concern", "Use lamp, reflector or sensor.");
  }
  const std::string word = fields.text("decision", 20);
  if (word != "go_ahead" && word != "refuse") {
    fields.refuse("decision", "a decision is for or against", "Use go_ahead or refuse.");
  }
  decision.go_ahead = word == "go_ahead";
  decision.signed_by = fields.text("signed_by", 240);
  decision.basis = fields.lines("basis", 2000);
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return decision;
}

Result<std::string> read_place(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  std::string place = fields.text("place", kLongestId);
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return place;
}

}  // namespace

void Api::add_glass_routes() {
  router_.get("/api/v1/glass/places", [this](const Call&) { return place_list(workbench_); });
  router_.post("/api/v1/glass/match",
               [this](const Call& call) { return match(workbench_, call.request); });
  router_.get("/api/v1/jobs/{job}/glass",
              [this](const Call& call) { return job_glass(workbench_, call["job"]); });
  router_.post("/api/v1/jobs/{job}/glass/place", [this](const Call& call) {
    const auto place = read_place(call.request);
    if (!place) return problem(place.error());
    const auto done = workbench::choose_place(workbench_, call["job"], *place, call.caller.name);
    return done ? job_glass(workbench_, call["job"]) : problem(done.error());
  });
  router_.post("/api/v1/jobs/{job}/glass/readings", [this](const Call& call) {
    const auto reading = read_reading(call.request);
    if (!reading) return problem(reading.error());
    const auto done = workbench::record_reading(workbench_, call["job"], *reading);
    return done ? job_glass(workbench_, call["job"]) : problem(done.error());
  });
  router_.post("/api/v1/jobs/{job}/glass/decisions", [this](const Call& call) {
    const auto decision = read_decision(call.request);
    if (!decision) return problem(decision.error());
    const auto done =
        workbench::record_decision(workbench_, call["job"], *decision, call.caller.name);
    return done ? job_glass(workbench_, call["job"]) : problem(done.error());
  });
}

}  // namespace film::server
