// Jobs, their history, pieces and papers.

#include "base/text.h"
#include "host/thread_executor.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "shop/names.h"
#include "workbench/browse.h"
#include "workbench/make_pieces.h"
#include "workbench/move_job.h"
#include "workbench/open_job.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;
constexpr std::size_t kLongestText = 480;

Result<workbench::NewJob> read_new_job(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::NewJob job;
  job.title = fields.text("title", 480);
  job.customer = fields.text_or("customer", 480, "");
  job.vehicle = fields.text("vehicle", kLongestId);
  std::size_t index = 0;
  for (const Json& entry : fields.array("scope", 1, 1000)) {
    Fields item(entry, format("scope[{}].", index++));
    job.scope.push_back({item.text("panel", kLongestId), item.text("film", kLongestId)});
    fields.take(item);
  }
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return job;
}

Result<workbench::JobMove> read_move(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::JobMove move;
  move.job = job;
  const auto to = shop::parse<shop::JobState>(fields.text("to", kLongestId));
  if (to) {
    move.to = *to;
  } else {
    fields.refuse("to", "there is no such state", "Use one of the job's moves.");
  }
  move.reason = fields.lines_or("reason", 2000, "");
  move.revision = fields.integer_if("revision");
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return move;
}

Result<workbench::JobList> read_list(const Call& call) {
  workbench::JobList list;
  list.text = call.parameter("q");
  if (list.text.size() > kLongestText) {
    return fail(ErrorCode::invalid_input, "the text to look for is too long", "q",
                format("Use at most {} bytes.", kLongestText));
  }
  if (const std::string state = call.parameter("state"); !state.empty()) {
    list.state = shop::parse<shop::JobState>(state);
    if (!list.state) {
      return fail(ErrorCode::invalid_input, "there is no such state", "state",
                  "Use the state of a job.");
    }
  }
  list.before = call.parameter("before");
  const auto most = number_parameter(call.parameter("most"), "most", 1, 200, 200);
  if (!most) return Failure(most.error());
  list.most = static_cast<std::size_t>(*most);
  return list;
}

Response job_answer(workbench::Workbench& workbench, const std::string& id, int status = 200) {
  const auto view = workbench::job(workbench, id);
  return view ? json_response(encode(*view), status) : problem(view.error());
}

Response piece_list(workbench::Workbench& workbench, const std::string& job, std::size_t threads) {
  host::ThreadExecutor executor(threads);
  const auto made = workbench::make_pieces(workbench, job, Context({}, {}, &executor));
  if (!made) return problem(made.error());
  Json pieces = Json::array();
  for (const auto& piece : made->pieces) pieces.push_back(encode(piece));
  Json failures = Json::array();
  for (const auto& failure : made->failures) {
    failures.push_back({{"panel", failure.panel}, {"problem", encode(failure.error)}});
  }
  return json_response({{"pieces", std::move(pieces)}, {"failures", std::move(failures)}});
}

}  // namespace

void Api::add_job_routes() {
  router_.get("/api/v1/jobs", {"q", "state", "before", "most"}, [this](const Call& call) {
    const auto list = read_list(call);
    if (!list) return problem(list.error());
    const auto page = workbench::jobs(workbench_, *list);
    if (!page) return problem(page.error());
    Json all = Json::array();
    for (const auto& view : page->jobs) all.push_back(encode(view));
    return json_response({{"jobs", std::move(all)}, {"next", page->next}});
  });
  router_.post("/api/v1/jobs", [this](const Call& call) {
    const auto order = read_new_job(call.request);
    if (!order) return problem(order.error());
    const auto job = workbench::open_job(workbench_, *order, call.caller.name);
    return job ? job_answer(workbench_, job->id, 201) : problem(job.error());
  });
  router_.get("/api/v1/jobs/{job}",
              [this](const Call& call) { return job_answer(workbench_, call["job"]); });
  router_.post("/api/v1/jobs/{job}/state", [this](const Call& call) {
    const auto move = read_move(call.request, call["job"]);
    if (!move) return problem(move.error());
    const auto job = workbench::move_job(workbench_, *move, call.caller.name);
    return job ? job_answer(workbench_, job->id) : problem(job.error());
  });
  router_.get("/api/v1/jobs/{job}/history", [this](const Call& call) {
    const auto entries = workbench::history(workbench_, call["job"]);
    if (!entries) return problem(entries.error());
    Json all = Json::array();
    for (const auto& entry : *entries) all.push_back(encode(entry));
    return json_response({{"entries", std::move(all)}});
  });
  router_.get("/api/v1/jobs/{job}/pieces", [this](const Call& call) {
    return piece_list(workbench_, call["job"], options_.threads);
  });
}

}  // namespace film::server
