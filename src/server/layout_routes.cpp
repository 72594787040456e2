// Laying a job's pieces out on a roll.

#include "host/priority.h"
#include "host/thread_executor.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "workbench/browse.h"
#include "workbench/lay_out_job.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;

struct LayoutRequest {
  workbench::LayoutOrder order;
  std::size_t threads = 1;
};

Result<LayoutRequest> read_request(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  LayoutRequest read;
  read.order.job = job;
  read.order.film = fields.text_or("film", kLongestId, "");
  read.order.roll = fields.text_or("roll", kLongestId, "");
  read.order.from_all = fields.truth_or("from_all", false);
  read.order.seconds = fields.number_or("seconds", 0.1, 3600, 20);
  read.order.seed = static_cast<std::uint64_t>(fields.integer_or("seed", 0, INT64_MAX, 1));
  read.threads = static_cast<std::size_t>(fields.integer_or("threads", 1, 64, 1));
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return read;
}

Result<void> run(workbench::Workbench& workbench, LayoutRequest request, TaskVoice& voice) {
  host::give_way();
  host::ThreadExecutor executor(request.threads);
  const Context context([&voice] { return voice.stopped(); },
                        [&voice](const Progress& progress) { voice.report(progress); }, &executor);
  request.order.on_better = [&voice](const layout::Problem& problem,
                                     const layout::Solution& better) {
    voice.tell("layout",
               [&](double seconds) { return text_of(encode_live(problem, better, seconds)); });
  };
  const auto view = workbench::lay_out_job(workbench, request.order, context);
  if (!view) return Failure(view.error());
  return {};
}

}  // namespace

void Api::add_layout_routes() {
  router_.get("/api/v1/jobs/{job}/layout", {"film", "roll"}, [this](const Call& call) {
    const auto view = workbench::read_layout(workbench_, call["job"], call.parameter("film"),
                                             call.parameter("roll"));
    return view ? json_response(encode(*view)) : problem(view.error());
  });
  router_.post("/api/v1/jobs/{job}/layout", [this](const Call& call) {
    auto request = read_request(call.request, call["job"]);
    if (!request) return problem(request.error());
    // The main film by name, so that one job and film has one task.
    const auto job = workbench::job(workbench_, call["job"]);
    if (!job) return problem(job.error());
    if (request->order.film.empty()) request->order.film = shop::films_of(job->job).front();
    if (auto sound = workbench::check_order(workbench_, request->order); !sound) {
      return problem(sound.error());
    }
    const std::string film = request->order.film;
    request->order.who = call.caller.name;
    const auto task = tasks_.start("layout", call["job"], film,
                                   [this, request = std::move(*request)](TaskVoice& voice) {
                                     return run(workbench_, request, voice);
                                   });
    return task ? json_response(encode(*task), 202) : problem(task.error());
  });
}

}  // namespace film::server
