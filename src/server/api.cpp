#include "server/api.h"

#include "server/encode.h"
#include "server/guard.h"
#include "server/problem.h"
#include "workbench/browse.h"

namespace film::server {
namespace {

constexpr std::string_view kPrefix = "/api/v1";

bool is_of_api(std::string_view target) {
  return target.starts_with("/api/") || target == "/api" || target.starts_with("/healthz") ||
         target.starts_with("/readyz") || target.starts_with("/metrics");
}

std::string_view code_of(int status) {
  if (status == 413 || status == 431) return "too_large";
  return status == 500 ? "failed" : "invalid_input";
}

}  // namespace

Api::Api(workbench::Workbench& workbench, std::vector<EmbeddedFile> files, Options options)
    : workbench_(workbench),
      options_(std::move(options)),
      files_(std::move(files)),
      tasks_([](const TaskView& task) { return text_of(encode(task)); }),
      studies_(workbench, options_.threads),
      door_(workbench, options_.place) {
  add_book_routes();
  add_study_routes();
  add_job_routes();
  add_library_routes();
  add_layout_routes();
  add_edit_routes();
  add_cut_routes();
  add_card_routes();
  add_glass_routes();
  add_plan_routes();
  add_photo_routes();
  add_installation_routes();
  add_paper_routes();
  add_search_routes();
  add_run_routes();
  add_stock_routes();
  add_offer_routes();
  add_quote_routes();
  add_hours_routes();
  add_task_routes();
  add_people_routes();
  add_customer_routes();
  add_service_routes();
}

Api::~Api() { close(); }

void Api::close() {
  tasks_.close();
  studies_.close();
}

void Api::warm_up() {
  const auto known = workbench::jobs(workbench_, {"", std::nullopt, "", 1});
  if (!known || known->jobs.empty()) return;
  const shop::Job& newest = known->jobs.front().job;
  for (const std::string& film : shop::films_of(newest)) {
    (void)studies_.lines(newest.vehicle, film);  // its errors come again when someone asks
  }
}

Response Api::route(const Request& request) {
  if (auto refusal = refuse_stranger(request, door_.place())) return std::move(*refusal);
  if (is_of_api(request.target)) {
    return router_.answer(request, [this](const Request& asked, std::string_view pattern) {
      return door_.admit(asked, pattern);
    });
  }
  if (auto path = path_segments(request.target); !path) return problem(path.error());
  if (request.method == "GET") return files_.answer(request);
  return problem(405, "method_not_allowed", request.method + " is not done here", request.target,
                 "Use GET.");
}

Response Api::answer(const Request& request) {
  const host::Stopwatch watch;
  Response response = route(request);
  add_security_headers(response);
  const std::string pattern = router_.pattern_of(request);
  metrics_.count(pattern.empty() ? "page" : pattern, response.status, watch.seconds());
  return response;
}

Response Api::refuse(int status, std::string_view what) {
  Response response = problem(status, code_of(status), what, "request", "");
  add_security_headers(response);
  return response;
}

}  // namespace film::server
