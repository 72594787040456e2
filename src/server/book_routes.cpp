// The shop, its vehicles, films, rolls and plotters.

#include "server/api.h"
#include "server/encode.h"
#include "server/problem.h"
#include "workbench/browse.h"

namespace film::server {
namespace {

template <class Record>
Response list(const Result<std::vector<Record>>& records, const char* name) {
  if (!records) return problem(records.error());
  Json all = Json::array();
  for (const Record& record : *records) all.push_back(encode(record));
  return json_response({{name, std::move(all)}});
}

Response vehicle_list(workbench::Workbench& workbench) {
  const auto vehicles = workbench::vehicles(workbench);
  if (!vehicles) return problem(vehicles.error());
  Json all = Json::array();
  for (const auto& vehicle : *vehicles) {
    all.push_back({{"id", vehicle.id},
                   {"name", vehicle.name},
                   {"version", vehicle.version},
                   {"panel_count", vehicle.panels}});
  }
  return json_response({{"vehicles", std::move(all)}});
}

Response model(const Result<std::shared_ptr<const std::string>>& bytes) {
  if (!bytes) return problem(bytes.error());
  Response response;
  response.headers = {{"Content-Type", "model/gltf-binary"}, {"Cache-Control", "no-cache"}};
  response.body = **bytes;
  return response;
}

}  // namespace

void Api::add_book_routes() {
  router_.get("/api/v1/shop", [this](const Call&) {
    const auto settings = workbench::shop_settings(workbench_);
    return settings ? json_response(encode(*settings, options_.version))
                    : problem(settings.error());
  });
  router_.get("/api/v1/vehicles", [this](const Call&) { return vehicle_list(workbench_); });
  router_.get("/api/v1/vehicles/{vehicle}", [this](const Call& call) {
    const auto vehicle = workbench_.vehicle(call["vehicle"]);
    return vehicle ? json_response(encode(**vehicle)) : problem(vehicle.error());
  });
  router_.get("/api/v1/vehicles/{vehicle}/model.glb",
              [this](const Call& call) { return model(models_.glb(workbench_, call["vehicle"])); });
  router_.get("/api/v1/films",
              [this](const Call&) { return list(workbench::films(workbench_), "films"); });
  router_.get("/api/v1/rolls",
              [this](const Call&) { return list(workbench::rolls(workbench_), "rolls"); });
  router_.get("/api/v1/profiles",
              [this](const Call&) { return list(workbench::profiles(workbench_), "profiles"); });
}

}  // namespace film::server
