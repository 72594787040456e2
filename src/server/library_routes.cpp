// Versions of vehicles, library files, and edits of prepared pieces.

#include <cmath>

#include "base/text.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/vehicle_library.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestName = 100;
constexpr std::size_t kLongestNote = 2000;
constexpr std::size_t kMostEdits = 500;
constexpr double kFar = 1e5;  // mm

Json encode(const workbench::VehicleVersion& version) {
  Json choices = Json::array();
  for (const shop::Standing choice : version.choices) choices.push_back(shop::name_of(choice));
  return {{"version", version.version},   {"based_on", version.based_on},
          {"author", version.author},     {"note", version.note},
          {"made", version.made},         {"standing", shop::name_of(version.standing)},
          {"panels", version.panels},     {"jobs", version.jobs},
          {"choices", std::move(choices)}};
}

Response version_list(workbench::Workbench& workbench, const std::string& vehicle) {
  const auto versions = workbench::vehicle_versions(workbench, vehicle);
  if (!versions) return problem(versions.error());
  Json all = Json::array();
  for (const auto& version : *versions) all.push_back(encode(version));
  return json_response({{"versions", std::move(all)}});
}

/// A choice by name, or none when the field is not there.
template <class Choice>
std::optional<Choice> choice_if(Fields& fields, const std::string& name) {
  const std::string text = fields.text_or(name, kLongestName, "");
  const auto choice = shop::parse<Choice>(text);
  if (!text.empty() && !choice) {
    fields.refuse(name, format("the field '{}' knows no '{}'", name, text),
                  "Use one of its choices.");
  }
  return choice;
}

std::optional<double> number_if(Fields& fields, const std::string& name) {
  const double number = fields.number_or(name, -kFar, kFar, std::nan(""));
  return std::isnan(number) ? std::nullopt : std::optional(number);
}

pattern::EdgeEdit read_edit(Fields& fields) {
  pattern::EdgeEdit edit;
  edit.edge = fields.text("edge", kLongestName);
  const auto x = number_if(fields, "divide_x");
  const auto y = number_if(fields, "divide_y");
  if (x && y) edit.divide_at = Vec2{*x, *y};
  edit.join_next = fields.integer_or("join_next", 0, 1, 0) == 1;
  edit.kind = choice_if<pattern::EdgeKind>(fields, "kind");
  if (const auto allowance = number_if(fields, "allowance_mm")) edit.allowance = Mm{*allowance};
  edit.corner = choice_if<pattern::Corner>(fields, "corner");
  if (auto name = fields.text_or("name", kLongestName, ""); !name.empty()) {
    edit.name = std::move(name);
  }
  return edit;
}

std::vector<pattern::EdgeEdit> read_edits(Fields& fields) {
  std::vector<pattern::EdgeEdit> edits;
  std::size_t index = 0;
  for (const Json& entry : fields.array("edits", 0, kMostEdits)) {
    Fields item(entry, format("edits[{}].", index++));
    edits.push_back(read_edit(item));
    fields.take(item);
  }
  return edits;
}

Response preview(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const auto edits = read_edits(fields);
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto edited = workbench::edit_job_piece(workbench, call["job"], call["piece"], edits);
  if (!edited) return problem(edited.error());
  Json tucks = Json::array();
  for (const pattern::Tuck& tuck : edited->tucks) {
    tucks.push_back({{"edge", tuck.edge},
                     {"length_mm", tuck.length},
                     {"surplus_mm", tuck.surplus},
                     {"lack_mm", tuck.lack},
                     {"slits", tuck.slits}});
  }
  return json_response({{"piece", server::encode(edited->piece)}, {"tucks", std::move(tucks)}});
}

Response keep(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const auto edits = read_edits(fields);
  const std::string author = fields.text_or("author", kLongestName, "");
  const std::string note = fields.lines("note", kLongestNote);
  const auto standing = choice_if<shop::Standing>(fields, "standing");
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto version =
      workbench::keep_job_piece(workbench, call["job"], call["piece"], edits, author, note,
                                standing.value_or(shop::Standing::accepted));
  return version ? json_response({{"version", *version}}, 201) : problem(version.error());
}

Response stand(workbench::Workbench& workbench, const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return problem(body.error());
  Fields fields(*body, "");
  const auto version = fields.integer_or("version", 1, 1'000'000, 0);
  const auto standing = choice_if<shop::Standing>(fields, "standing");
  if (!standing) fields.refuse("standing", "the field 'standing' is missing", "Send one.");
  if (auto sound = fields.done(); !sound) return problem(sound.error());
  const auto done =
      workbench::set_standing(workbench, call["vehicle"], static_cast<int>(version), *standing);
  return done ? version_list(workbench, call["vehicle"]) : problem(done.error());
}

Response library_file(workbench::Workbench& workbench, const std::string& vehicle) {
  auto bytes = workbench::export_vehicle(workbench, vehicle);
  if (!bytes) return problem(bytes.error());
  Response response;
  response.headers = {{"Content-Type", "application/zip"},
                      {"Cache-Control", "no-store"},
                      {"Content-Disposition", "attachment; filename=\"vehicle.zip\""}};
  response.body = std::move(*bytes);
  return response;
}

Response import_file(workbench::Workbench& workbench, const Call& call) {
  const auto numbering =
      call.parameter("numbers") == "new" ? workbench::Numbering::renew : workbench::Numbering::keep;
  const auto imported =
      workbench::import_vehicle(workbench, call.request.body, "library", numbering);
  if (!imported) return problem(imported.error());
  Json lines = Json::array();
  for (const auto& line : imported->lines) {
    lines.push_back({{"in_file", line.in_file}, {"version", line.here}, {"added", line.added}});
  }
  return json_response({{"vehicle", imported->vehicle}, {"versions", std::move(lines)}}, 201);
}

}  // namespace

void Api::add_library_routes() {
  router_.get("/api/v1/vehicles/{vehicle}/versions",
              [this](const Call& call) { return version_list(workbench_, call["vehicle"]); });
  router_.post("/api/v1/vehicles/{vehicle}/versions",
               [this](const Call& call) { return stand(workbench_, call); });
  router_.get("/api/v1/vehicles/{vehicle}/library.zip",
              [this](const Call& call) { return library_file(workbench_, call["vehicle"]); });
  router_.add("POST", "/api/v1/library", {"numbers"},
              [this](const Call& call) { return import_file(workbench_, call); });
  router_.post("/api/v1/jobs/{job}/pieces/{piece}/preview",
               [this](const Call& call) { return preview(workbench_, call); });
  router_.post("/api/v1/jobs/{job}/pieces/{piece}",
               [this](const Call& call) { return keep(workbench_, call); });
}

}  // namespace film::server
