// A hand on the roll: what an edited layout breaks, making room in it, keeping it.

#include "host/priority.h"
#include "host/thread_executor.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/placements.h"
#include "server/problem.h"
#include "workbench/browse.h"
#include "workbench/edit_layout.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::int64_t kMostPieces = 10'000;
constexpr double kFarthestSettling = 500;  // mm

struct EditRequest {
  workbench::LayoutEdit edit;
  std::optional<std::size_t> moved;
  double settle_within = 0;  // mm
  std::vector<std::size_t> kept;
  std::vector<exchange::LaidPiece> locked;
  double seconds = 20;
  std::size_t threads = 1;
  std::string who;
};

Result<EditRequest> read_request(const Call& call) {
  const auto body = body_of(call.request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  EditRequest read;
  read.who = call.caller.name;
  read.edit.job = call["job"];
  read.edit.film = fields.text_or("film", kLongestId, "");
  read.edit.of = fields.text("sheet", kLongestId);
  read.edit.pieces = read_placements(fields, *body, "placements");
  read.edit.defects = read_defects(fields, *body);
  if (body->contains("moved")) {
    read.moved = static_cast<std::size_t>(fields.integer_or("moved", 0, kMostPieces, 0));
  }
  read.settle_within = fields.number_or("settle_mm", 0, kFarthestSettling, 0);
  if (body->contains("kept")) {
    for (const Json& index : fields.array("kept", 0, kMostPieces)) {
      if (index.is_number_unsigned()) {
        read.kept.push_back(index.get<std::size_t>());
      } else {
        fields.refuse("kept", "must hold indices of placements", "Count from 0.");
      }
    }
  }
  read.locked = read_placements(fields, *body, "locked");
  read.seconds = fields.number_or("seconds", 0.1, 3600, 20);
  read.threads = static_cast<std::size_t>(fields.integer_or("threads", 1, 64, 1));
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return read;
}

Result<void> squeeze(workbench::Workbench& workbench, const EditRequest& request,
                     TaskVoice& voice) {
  host::give_way();
  host::ThreadExecutor executor(request.threads);
  const Context context([&voice] { return voice.stopped(); },
                        [&voice](const Progress& progress) { voice.report(progress); }, &executor);
  workbench::SqueezeOrder order;
  order.edit = request.edit;
  order.locked = request.locked;
  order.seconds = request.seconds;
  order.who = request.who;
  order.on_better = [&voice](const layout::Problem& problem, const layout::Solution& better) {
    voice.tell("layout",
               [&](double seconds) { return text_of(encode_live(problem, better, seconds)); });
  };
  const auto view = workbench::squeeze_layout(workbench, order, context);
  if (!view) return Failure(view.error());
  return {};
}

Json encode(const workbench::EditCheck& check) {
  Json clashes = Json::array();
  for (const workbench::Clash& clash : check.clashes) {
    Json pieces = Json::array();
    for (const auto& [piece, copy] : clash.pieces) {
      pieces.push_back({{"piece", piece}, {"copy", copy}});
    }
    clashes.push_back({{"rule", layout::name_of(clash.rule)},
                       {"what", clash.what},
                       {"pieces", std::move(pieces)}});
  }
  return {{"length_mm", check.length},
          {"density", check.density},
          {"waste", 1 - check.density},
          {"clashes", std::move(clashes)}};
}

Json encode(const exchange::LayoutSheet& sheet) {
  Json placements = Json::array();
  for (const exchange::LaidPiece& piece : sheet.pieces) {
    placements.push_back({{"piece", piece.item},
                          {"copy", piece.copy},
                          {"turn_deg", piece.rotation_deg},
                          {"x_mm", piece.move.x},
                          {"y_mm", piece.move.y}});
  }
  return {{"length_mm", sheet.length},
          {"density", sheet.density_pct / 100},
          {"waste", 1 - sheet.density_pct / 100},
          {"placements", std::move(placements)},
          {"unplaced", sheet.unplaced}};
}

}  // namespace

void Api::add_edit_routes() {
  router_.post("/api/v1/jobs/{job}/layout/check", [this](const Call& call) {
    const auto request = read_request(call);
    if (!request) return problem(request.error());
    const auto check = workbench::check_edit(workbench_, request->edit, request->moved);
    if (!check) return problem(check.error());
    Json answer = encode(*check);
    if (request->moved && request->settle_within > 0 && !check->clashes.empty()) {
      const auto place =
          workbench::settle(workbench_, request->edit, *request->moved, request->settle_within);
      if (!place) return problem(place.error());
      if (*place) answer["free"] = {{"x_mm", (*place)->x}, {"y_mm", (*place)->y}};
    }
    return json_response(answer);
  });
  router_.post("/api/v1/jobs/{job}/layout/room", [this](const Call& call) {
    const auto request = read_request(call);
    if (!request) return problem(request.error());
    const auto sheet =
        workbench::make_room_for(workbench_, request->edit, request->kept, Context());
    return sheet ? json_response(encode(*sheet)) : problem(sheet.error());
  });
  router_.post("/api/v1/jobs/{job}/layout/keep", [this](const Call& call) {
    const auto request = read_request(call);
    if (!request) return problem(request.error());
    const auto view = workbench::keep_edit(workbench_, request->edit, call.caller.name);
    return view ? json_response(server::encode(*view)) : problem(view.error());
  });
  router_.post("/api/v1/jobs/{job}/layout/squeeze", [this](const Call& call) {
    auto request = read_request(call);
    if (!request) return problem(request.error());
    const auto job = workbench::job(workbench_, call["job"]);
    if (!job) return problem(job.error());
    if (request->edit.film.empty()) request->edit.film = shop::films_of(job->job).front();
    const std::string film = request->edit.film;
    // Of the same kind as a search from nothing: one of them at a time for each film.
    const auto task = tasks_.start("layout", call["job"], film,
                                   [this, request = std::move(*request)](TaskVoice& voice) {
                                     return squeeze(workbench_, request, voice);
                                   });
    return task ? json_response(server::encode(*task), 202) : problem(task.error());
  });
}

}  // namespace film::server
