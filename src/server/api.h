#pragma once

#include <string>

#include "host/stop.h"
#include "server/doorkeeper.h"
#include "server/http.h"
#include "server/metrics.h"
#include "server/models.h"
#include "server/router.h"
#include "server/study_runs.h"
#include "server/tasks.h"
#include "server/web_files.h"
#include "workbench/workbench.h"

namespace film::server {

/// Answers every request: the API of docs/formats/openapi.yaml under /api/v1, the page's files, and
/// what operators ask for (/healthz, /readyz, /metrics). Thread-safe.
class Api {
 public:
  struct Options {
    std::size_t threads = 2;  ///< for studies in the background
    std::string version;
    Place place;
  };

  Api(workbench::Workbench& workbench, std::vector<EmbeddedFile> files, Options options);
  ~Api();
  Api(const Api&) = delete;
  Api& operator=(const Api&) = delete;

  [[nodiscard]] Response answer(const Request& request);
  /// For what was no request.
  [[nodiscard]] static Response refuse(int status, std::string_view what);

  /// What the first start asks for; empty when there are people already.
  [[nodiscard]] const std::string& first_start_token() const { return door_.first_start_token(); }
  /// Method and pattern of every route, for the tests of the tables that describe them.
  [[nodiscard]] std::vector<std::pair<std::string, std::string>> routes() const {
    return router_.routes();
  }

  /// Begins to study what the newest job needs, so that its pages open at once.
  void warm_up();
  /// Stops all work and waits for it.
  void close();

 private:
  // One function for each part of the API, each in its own source.
  void add_book_routes();
  void add_study_routes();
  void add_job_routes();
  void add_library_routes();
  void add_layout_routes();
  void add_edit_routes();
  void add_cut_routes();
  void add_card_routes();
  void add_glass_routes();
  void add_plan_routes();
  void add_photo_routes();
  void add_installation_routes();
  void add_paper_routes();
  void add_search_routes();
  void add_run_routes();
  void add_offer_routes();
  void add_quote_routes();
  void add_hours_routes();
  void add_task_routes();
  void add_people_routes();
  void add_stock_routes();
  void add_customer_routes();
  void add_service_routes();

  [[nodiscard]] Response route(const Request& request);

  workbench::Workbench& workbench_;
  const Options options_;
  const host::Stopwatch started_;
  WebFiles files_;
  Metrics metrics_;
  Tasks tasks_;
  StudyRuns studies_;
  Models models_;
  Doorkeeper door_;
  Router router_;
};

}  // namespace film::server
