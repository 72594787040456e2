// What goes onto a vehicle, how it is found, and what comes back.

#include "base/text.h"
#include "server/api.h"
#include "server/fields.h"
#include "server/json.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/acting.h"
#include "workbench/claims.h"
#include "workbench/inspect_job.h"
#include "workbench/install_piece.h"
#include "workbench/trace.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestNote = 2000;

Json encode(const shop::InstalledPiece& piece) {
  return {{"number", piece.number}, {"event", piece.event},   {"job", piece.job},
          {"panel", piece.panel},   {"piece", piece.piece},   {"film", piece.film},
          {"lot", piece.lot},       {"source", piece.source}, {"run", piece.run},
          {"who", piece.who},       {"at", piece.at},         {"replaces", piece.replaces},
          {"reason", piece.reason}};
}

Json encode(const workbench::TracedPiece& traced) {
  Json piece = encode(traced.piece);
  piece["panel_name"] = traced.panel_name;
  piece["film_name"] = traced.film_name;
  piece["replaced_by"] = traced.replaced_by;
  return piece;
}

Json encode(const shop::Inspection& inspection) {
  Json findings = Json::array();
  for (const shop::Finding& each : inspection.findings) {
    findings.push_back(
        {{"item", each.item}, {"good", each.good}, {"note", each.note}, {"photo", each.photo}});
  }
  return {{"findings", std::move(findings)},
          {"passed", shop::passed(inspection)},
          {"who", inspection.who},
          {"at", inspection.at}};
}

Json encode(const shop::Certificate& certificate) {
  Json terms = Json::array();
  for (const shop::FilmTerm& term : certificate.terms) {
    terms.push_back({{"film", term.film}, {"name", term.name}, {"months", term.months}});
  }
  return {{"id", certificate.id},
          {"job", certificate.job},
          {"terms", std::move(terms)},
          {"issued_by", certificate.issued_by},
          {"issued", certificate.issued}};
}

Json encode(const shop::ClaimRuling& ruling) {
  return {{"ruling", shop::name_of(ruling.ruling)},
          {"reason", ruling.reason},
          {"recut", ruling.recut},
          {"who", ruling.who},
          {"at", ruling.at}};
}

Json encode(const shop::ClaimRecord& record) {
  Json rulings = Json::array();
  for (const shop::ClaimRuling& ruling : record.rulings) rulings.push_back(encode(ruling));
  const shop::Claim& claim = record.claim;
  return {{"id", claim.id},
          {"job", claim.job},
          {"piece", claim.piece},
          {"what", claim.what},
          {"reported_by", claim.reported_by},
          {"photos", claim.photos},
          {"who", claim.who},
          {"at", claim.at},
          {"rulings", std::move(rulings)},
          {"recuts", record.recuts}};
}

Json encode(const shop::Photo& photo) {
  return {{"panel", photo.panel}, {"about", photo.about},
          {"hash", photo.hash},   {"href", "/api/v1/photos/" + photo.hash},
          {"type", photo.type},   {"who", photo.who},
          {"at", photo.at}};
}

template <class T>
Json list(const std::vector<T>& values) {
  Json all = Json::array();
  for (const T& value : values) all.push_back(encode(value));
  return all;
}

Json encode(const workbench::JobTrace& trace) {
  Json items = Json::array();
  for (const shop::CheckItem& item : shop::inspection_list()) {
    items.push_back({{"item", item.id}, {"text", item.text}, {"german", item.german}});
  }
  Json hand_overs = Json::array();
  for (const shop::HandOver& each : trace.hand_overs) {
    hand_overs.push_back({{"given_by", each.given_by},
                          {"received_by", each.received_by},
                          {"declined", each.declined},
                          {"note", each.note},
                          {"at", each.at}});
  }
  return {{"job", trace.job.id},
          {"title", trace.job.title},
          {"customer", trace.job.customer},
          {"state", shop::name_of(trace.job.state)},
          {"vehicle", trace.job.vehicle},
          {"vehicle_name", trace.vehicle_name},
          {"pieces", list(trace.pieces)},
          {"checklist", std::move(items)},
          {"inspections", list(trace.inspections)},
          {"hand_overs", std::move(hand_overs)},
          {"certificates", list(trace.certificates)},
          {"claims", list(trace.claims)},
          {"photos", list(trace.photos)},
          {"steps",
           {{"pieces", trace.steps.pieces},
            {"inspection", trace.steps.inspection},
            {"hand_over", trace.steps.hand_over}}}};
}

Json encode(const workbench::LotTrace& trace) {
  Json vehicles = Json::array();
  for (const workbench::LotVehicle& each : trace.vehicles) {
    vehicles.push_back({{"job", each.job.id},
                        {"title", each.job.title},
                        {"customer", each.job.customer},
                        {"vehicle", each.job.vehicle},
                        {"vehicle_name", each.vehicle_name},
                        {"pieces", list(each.pieces)}});
  }
  return {{"lot", trace.lot}, {"vehicles", std::move(vehicles)}, {"next", trace.next}};
}

Result<workbench::PieceLaid> read_laid(const Request& request, const std::string& job,
                                       std::string& who) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::PieceLaid laid;
  laid.event = fields.text("event", kLongestId);
  laid.job = job;
  laid.panel = fields.text("panel", kLongestId);
  laid.piece = fields.text_or("piece", kLongestId, "");
  laid.source = fields.text_or("source", kLongestId, "");
  laid.lot = fields.text_or("lot", kLongestId, "");
  laid.at = fields.text_or("at", 20, "");
  laid.replaces = fields.integer_or("replaces", 0, INT64_C(1) << 53, 0);
  laid.reason = fields.lines_or("reason", kLongestNote, "");
  who = fields.text_or("who", 240, workbench::Acting::who());
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return laid;
}

Result<shop::Inspection> read_inspection(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Inspection inspection;
  inspection.job = job;
  inspection.who = fields.text_or("who", 240, workbench::Acting::who());
  std::size_t index = 0;
  for (const Json& entry : fields.array("findings", 1, 100)) {
    Fields item(entry, format("findings[{}].", index++));
    shop::Finding finding;
    finding.item = item.text("item", kLongestId);
    finding.good = item.flag("good");
    finding.note = item.lines_or("note", kLongestNote, "");
    finding.photo = item.text_or("photo", kLongestId, "");
    inspection.findings.push_back(std::move(finding));
    fields.take(item);
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return inspection;
}

Result<shop::HandOver> read_hand_over(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::HandOver hand_over;
  hand_over.job = job;
  hand_over.received_by = fields.text("received_by", 240);
  hand_over.declined = fields.lines_or("declined", kLongestNote, "");
  hand_over.note = fields.lines_or("note", kLongestNote, "");
  hand_over.given_by = fields.text_or("given_by", 240, workbench::Acting::who());
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return hand_over;
}

Result<shop::Claim> read_claim(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::Claim claim;
  claim.piece = fields.integer_if("piece").value_or(0);
  claim.what = fields.lines("what", kLongestNote);
  claim.reported_by = fields.text("reported_by", 240);
  claim.who = fields.text_or("who", 240, workbench::Acting::who());
  if (body->contains("photos")) {
    for (const Json& photo : fields.array("photos", 0, 20)) {
      if (photo.is_string()) {
        claim.photos.push_back(photo.get<std::string>());
      } else {
        fields.refuse("photos", "a photo is not named by its hash", "Send the photo first.");
      }
    }
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return claim;
}

Result<shop::ClaimRuling> read_ruling(const Request& request, const std::string& claim) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  shop::ClaimRuling ruling;
  ruling.claim = claim;
  if (const auto named = shop::parse<shop::Ruling>(fields.text("ruling", kLongestId))) {
    ruling.ruling = *named;
  } else {
    fields.refuse("ruling", "there is no such ruling", "Use warranty, goodwill or declined.");
  }
  ruling.reason = fields.lines("reason", kLongestNote);
  ruling.recut = fields.flag("recut");
  ruling.who = fields.text_or("who", 240, workbench::Acting::who());
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return ruling;
}

Response job_trace(workbench::Workbench& workbench, const std::string& job) {
  const auto trace = workbench::trace_job(workbench, job);
  return trace ? json_response(encode(*trace)) : problem(trace.error());
}

Response lot_trace(workbench::Workbench& workbench, const Call& call) {
  const auto after = number_parameter(call.parameter("after"), "after", 0, INT64_C(1) << 53, 0);
  if (!after) return problem(after.error());
  const auto trace = workbench::trace_lot(workbench, call.parameter("lot"), *after);
  return trace ? json_response(encode(*trace)) : problem(trace.error());
}

Response photo_bytes(workbench::Workbench& workbench, const std::string& hash) {
  auto bytes = workbench::read_photo(workbench, hash);
  if (!bytes) return problem(bytes.error());
  const std::string_view type = shop::photo_type(*bytes);
  if (type.empty()) {
    return problem({ErrorCode::not_found, "there is no such photo", "photo " + hash, ""});
  }
  Response response;
  response.headers = {{"Content-Type", std::string(type)},
                      {"Cache-Control", "private, max-age=31536000, immutable"},
                      {"X-Content-Type-Options", "nosniff"}};
  response.body = std::move(*bytes);
  return response;
}

}  // namespace

void Api::add_installation_routes() {
  router_.get("/api/v1/jobs/{job}/installation",
              [this](const Call& call) { return job_trace(workbench_, call["job"]); });
  router_.post("/api/v1/jobs/{job}/installed", [this](const Call& call) {
    std::string who;
    const auto laid = read_laid(call.request, call["job"], who);
    if (!laid) return problem(laid.error());
    const auto piece = workbench::install_piece(workbench_, *laid, who);
    return piece ? json_response(encode(*piece), 201) : problem(piece.error());
  });
  router_.post("/api/v1/jobs/{job}/inspections", [this](const Call& call) {
    const auto inspection = read_inspection(call.request, call["job"]);
    if (!inspection) return problem(inspection.error());
    const auto kept = workbench::inspect_job(workbench_, *inspection);
    return kept ? json_response(encode(*kept), 201) : problem(kept.error());
  });
  router_.post("/api/v1/jobs/{job}/hand-over", [this](const Call& call) {
    const auto hand_over = read_hand_over(call.request, call["job"]);
    if (!hand_over) return problem(hand_over.error());
    const auto certificate = workbench::hand_over_job(workbench_, *hand_over);
    return certificate ? json_response(encode(*certificate), 201) : problem(certificate.error());
  });
  router_.post("/api/v1/jobs/{job}/certificates", [this](const Call& call) {
    const auto certificate =
        workbench::issue_certificate(workbench_, call["job"], workbench::Acting::who());
    return certificate ? json_response(encode(*certificate), 201) : problem(certificate.error());
  });
  router_.add("POST", "/api/v1/jobs/{job}/photos", {"about", "panel"}, [this](const Call& call) {
    shop::Photo photo;
    photo.job = call["job"];
    photo.panel = call.parameter("panel");
    photo.about = call.parameter("about");
    photo.who = workbench::Acting::who();
    const auto kept = workbench::keep_photo(workbench_, photo, call.request.body);
    return kept ? json_response(encode(*kept), 201) : problem(kept.error());
  });
  router_.get("/api/v1/photos/{photo}",
              [this](const Call& call) { return photo_bytes(workbench_, call["photo"]); });
  router_.get("/api/v1/claims", [this](const Call&) {
    const auto claims = workbench::claims(workbench_);
    return claims ? json_response({{"claims", list(*claims)}}) : problem(claims.error());
  });
  router_.post("/api/v1/claims", [this](const Call& call) {
    const auto claim = read_claim(call.request);
    if (!claim) return problem(claim.error());
    const auto opened = workbench::open_claim(workbench_, *claim);
    return opened ? json_response(encode(shop::ClaimRecord{*opened, {}, {}}), 201)
                  : problem(opened.error());
  });
  router_.post("/api/v1/claims/{claim}/rulings", [this](const Call& call) {
    const auto ruling = read_ruling(call.request, call["claim"]);
    if (!ruling) return problem(ruling.error());
    const auto kept = workbench::rule_claim(workbench_, *ruling);
    return kept ? json_response(encode(*kept), 201) : problem(kept.error());
  });
  router_.get("/api/v1/lots", {"lot", "after"},
              [this](const Call& call) { return lot_trace(workbench_, call); });
}

}  // namespace film::server
