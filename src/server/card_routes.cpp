// Installers' cards: what to do on each panel, and what was done.

#include "exchange/laying_json.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "workbench/cards.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestText = 2000;

Json encode_said(const shop::CardEvent& event) {
  return {{"id", event.id},     {"panel", event.panel}, {"word", shop::name_of(event.word)},
          {"text", event.text}, {"who", event.who},     {"at", event.at}};
}

Json encode_on(const shop::InstalledPiece& piece) {
  return {{"number", piece.number}, {"event", piece.event},   {"piece", piece.piece},
          {"lot", piece.lot},       {"source", piece.source}, {"who", piece.who},
          {"at", piece.at}};
}

Json encode_cards(const workbench::Cards& cards) {
  Json lines = Json::array();
  for (const auto& line : cards.lines) {
    Json on = Json::array();
    for (const auto& piece : line.on) on.push_back(encode_on(piece));
    Json said = Json::array();
    for (const auto& event : line.said) said.push_back(encode_said(event));
    lines.push_back({{"panel", line.panel},
                     {"film", line.film},
                     {"on", std::move(on)},
                     {"said", std::move(said)}});
  }
  Json sources = Json::array();
  for (const auto& source : cards.sources) {
    sources.push_back({{"id", source.id},
                       {"film", source.film},
                       {"lot", source.lot},
                       {"offcut", source.offcut},
                       {"area_mm2", source.area}});
  }
  return {{"job", cards.job.id}, {"lines", std::move(lines)}, {"sources", std::move(sources)}};
}

/// What of a study an installer needs on a tablet: no mesh.
Json encode_card(const workbench::Study& study) {
  return {{"panel", study.panel},
          {"film", study.film},
          {"piece", encode(study.piece)},
          {"laying", Json::parse(exchange::write_laying(study.laying))},
          {"stretch_most", study.report.peak_stretch},
          {"finger_share", study.report.finger_area / std::max(study.report.area, 1.0)},
          {"mark_share", study.report.mark_area / std::max(study.report.area, 1.0)},
          {"notes", study.notes}};
}

struct Report {
  std::string word;
  workbench::PieceLaid laid;
  shop::CardEvent event;
};

Result<Report> read_report(const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  Report report;
  report.word = fields.text("word", kLongestId);
  report.event.id = fields.text("id", kLongestId);
  report.event.job = call["job"];
  report.event.panel = fields.text("panel", kLongestId);
  report.event.text = fields.text_or("text", kLongestText, "");
  report.event.at = fields.text_or("at", kLongestId, workbench::now());
  report.event.who = call.caller.name;
  report.laid.source = fields.text_or("source", kLongestId, "");
  report.laid.lot = fields.text_or("lot", kLongestId, "");
  report.laid.event = report.event.id;
  report.laid.job = report.event.job;
  report.laid.panel = report.event.panel;
  report.laid.at = report.event.at;
  report.laid.reason = report.event.text;
  if (report.word != "laid") {
    if (const auto word = shop::card_word(report.word); word && *word != shop::CardWord::photo) {
      report.event.word = *word;
    } else {
      fields.refuse("word", "is none of laid, note and recut", "Send one of them.");
    }
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return report;
}

}  // namespace

void Api::add_card_routes() {
  router_.get("/api/v1/jobs/{job}/cards", [this](const Call& call) {
    const auto cards = workbench::cards(workbench_, call["job"]);
    return cards ? json_response(encode_cards(*cards)) : problem(cards.error());
  });
  router_.get("/api/v1/jobs/{job}/cards/{panel}", [this](const Call& call) {
    const auto study = workbench::card_study(workbench_, call["job"], call["panel"], Context());
    return study ? json_response(encode_card(**study)) : problem(study.error());
  });
  router_.post("/api/v1/jobs/{job}/card-events", [this](const Call& call) {
    const auto report = read_report(call);
    if (!report) return problem(report.error());
    if (report->word == "laid") {
      const auto piece = workbench::lay_on_card(workbench_, report->laid, report->event.who);
      return piece ? json_response(encode_on(*piece)) : problem(piece.error());
    }
    const auto said = workbench::say_on_card(workbench_, report->event);
    return said ? json_response(encode_said(*said)) : problem(said.error());
  });
  router_.add("POST", "/api/v1/jobs/{job}/card-photos", {"id", "panel", "text", "at"},
              [this](const Call& call) {
                const std::string at = call.parameter("at");
                const shop::CardEvent event{call.parameter("id"),
                                            call["job"],
                                            call.parameter("panel"),
                                            shop::CardWord::photo,
                                            call.parameter("text"),
                                            call.caller.name,
                                            at.empty() ? workbench::now() : at};
                const auto said = workbench::photo_on_card(workbench_, event, call.request.body);
                return said ? json_response(encode_said(*said)) : problem(said.error());
              });
}

}  // namespace film::server
