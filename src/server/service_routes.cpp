// For operators: alive, ready, counted, described.

#include "server/api.h"
#include "server/api_page.h"
#include "server/json.h"
#include "server/problem.h"
#include "workbench/browse.h"

namespace film::server {
namespace {

Response text(std::string body, std::string type) {
  Response response;
  response.headers = {{"Content-Type", std::move(type)}, {"Cache-Control", "no-store"}};
  response.body = std::move(body);
  return response;
}

}  // namespace

void Api::add_service_routes() {
  router_.get("/healthz", [](const Call&) { return text("alive\n", "text/plain; charset=utf-8"); });
  router_.get("/readyz", [this](const Call&) {
    const auto ready = workbench::check_ready(workbench_);
    return ready ? text("ready\n", "text/plain; charset=utf-8") : problem(ready.error());
  });
  router_.get("/metrics", [this](const Call&) {
    return text(metrics_.text({tasks_.running(), started_.seconds(), options_.version}),
                "text/plain; version=0.0.4; charset=utf-8");
  });
  router_.get("/api/v1/openapi.yaml", [this](const Call&) {
    std::string yaml = files_.plain("/api/v1/openapi.yaml");
    if (yaml.empty()) {
      return problem(404, "not_found", "this program was built without its description", "", "");
    }
    return text(std::move(yaml), "application/yaml");
  });
  router_.get("/api/v1/reference", [this](const Call&) {
    return text(api_page(files_.plain("/api/v1/openapi.yaml")), "text/html; charset=utf-8");
  });
}

}  // namespace film::server
