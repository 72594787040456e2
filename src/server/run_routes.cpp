// Cutting runs: a knife path on its way to the plotter.

#include "base/text.h"
#include "host/stop.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "workbench/acting.h"
#include "workbench/book_run.h"

namespace film::server {
namespace {

constexpr const char* kKind = "run";  // of the task that sends
constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestReason = 500;
constexpr std::int64_t kMostContours = 1'000'000;
/// A server that is asked to end waits this long for the contour that is being cut.
constexpr double kGraceSeconds = 30;

Result<std::vector<workbench::Finding>> read_findings(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  std::vector<workbench::Finding> findings;
  for (const char* name : {"cut", "uncut"}) {
    if (!body->contains(name)) continue;
    for (const Json& number : fields.array(name, 0, kMostContours)) {
      if (number.is_number_unsigned()) {
        findings.push_back({number.get<std::size_t>(), name == std::string_view("cut")});
      } else {
        fields.refuse(name, "must hold the indices of contours", "Take them from `doubtful`.");
      }
    }
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return findings;
}

Result<void> send(workbench::Workbench& workbench, const std::string& run,
                  const std::vector<workbench::Finding>& findings, TaskVoice& voice) {
  auto kept = workbench::open_book_run(workbench, run, workbench::Acting::who());
  if (!kept) return Failure(kept.error());
  if (auto settled = workbench::settle_run(*kept, findings); !settled) return settled;
  const host::Stopwatch watch;
  double asked_at = -1;
  spool::Control control;
  control.wish = [&] {
    if (!voice.stopped()) return spool::Wish::go_on;
    if (asked_at < 0) asked_at = watch.seconds();
    const bool late = host::interrupted() && watch.seconds() > asked_at + kGraceSeconds;
    return late ? spool::Wish::abandon : spool::Wish::pause;
  };
  control.heard = [&](const spool::Run& state) {
    const auto progress = workbench::progress_of(kept->plan, state);
    voice.report({"cutting", progress.mm > 0 ? progress.mm_cut / progress.mm : 1});
    voice.tell("run", [&](double) { return text_of(encode(progress, kept->plan)); });
  };
  return workbench::send_run(*kept, control);
}

}  // namespace

void Api::add_run_routes() {
  const auto shown = [this](const workbench::RunView& view) {
    Json value = encode(view);
    if (const auto task = tasks_.find_running(kKind, view.record.job, view.record.film)) {
      value["task"] = *task;
    }
    return value;
  };
  const auto begin = [this, shown](const std::string& id,
                                   std::vector<workbench::Finding> findings) -> Response {
    const auto view = workbench::read_book_run(workbench_, id);
    if (!view) return problem(view.error());
    const auto task = tasks_.start(kKind, view->record.job, view->record.film,
                                   [this, id, findings = std::move(findings)](TaskVoice& voice) {
                                     return send(workbench_, id, findings, voice);
                                   });
    if (!task) return problem(task.error());
    Json value = encode(*view);
    value["task"] = task->id;
    return json_response(value, 202);
  };

  router_.get("/api/v1/jobs/{job}/run", {"film", "roll"}, [this, shown](const Call& call) {
    const auto view = workbench::newest_run(workbench_, call["job"], call.parameter("film"),
                                            call.parameter("roll"));
    if (!view) return problem(view.error());
    Json answer = Json::object();
    if (*view) answer["run"] = shown(**view);
    return json_response(answer);
  });
  router_.post("/api/v1/jobs/{job}/run", [this, begin](const Call& call) {
    const auto body = body_of(call.request.body);
    if (!body) return problem(body.error());
    Fields fields(*body, "");
    const std::string film = fields.text_or("film", kLongestId, "");
    const std::string roll = fields.text_or("roll", kLongestId, "");
    if (auto sound = fields.done(); !sound) return problem(sound.error());
    const auto view =
        workbench::start_book_run(workbench_, call["job"], film, roll, call.caller.name);
    return view ? begin(view->record.id, {}) : problem(view.error());
  });
  router_.get("/api/v1/runs/{run}", [this, shown](const Call& call) {
    const auto view = workbench::read_book_run(workbench_, call["run"]);
    return view ? json_response(shown(*view)) : problem(view.error());
  });
  router_.post("/api/v1/runs/{run}/resume", [begin](const Call& call) {
    const auto findings = read_findings(call.request);
    return findings ? begin(call["run"], *findings) : problem(findings.error());
  });
  // Both are quick, and answer with the run as it is then.
  const auto settle = [this, shown](const std::string& run, auto step) -> Response {
    {
      auto kept = workbench::open_book_run(workbench_, run, workbench::Acting::who());
      if (!kept) return problem(kept.error());
      if (const Result<void> done = step(*kept); !done) return problem(done.error());
    }
    const auto view = workbench::read_book_run(workbench_, run);
    return view ? json_response(shown(*view)) : problem(view.error());
  };
  router_.post("/api/v1/runs/{run}/confirm",
               [settle](const Call& call) { return settle(call["run"], workbench::confirm_run); });
  router_.post("/api/v1/runs/{run}/give-up", [settle](const Call& call) {
    const auto body = body_of(call.request.body);
    if (!body) return problem(body.error());
    Fields fields(*body, "");
    const std::string reason = fields.text("reason", kLongestReason);
    if (auto sound = fields.done(); !sound) return problem(sound.error());
    return settle(call["run"],
                  [&](workbench::KeptRun& kept) { return workbench::give_up_run(kept, reason); });
  });
}

}  // namespace film::server
