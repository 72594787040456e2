// Search, and tables in and out.

#include "base/text.h"
#include "server/api.h"
#include "server/json.h"
#include "server/problem.h"
#include "workbench/acting.h"
#include "workbench/csv_tables.h"
#include "workbench/search.h"

namespace film::server {
namespace {

std::string_view word_for(workbench::FoundKind kind) {
  switch (kind) {
    case workbench::FoundKind::job: return "job";
    case workbench::FoundKind::lot: return "lot";
    case workbench::FoundKind::piece: return "piece";
    case workbench::FoundKind::claim: return "claim";
    case workbench::FoundKind::customer: return "customer";
    case workbench::FoundKind::vehicle: return "vehicle";
    case workbench::FoundKind::quote: return "quote";
  }
  return "";
}

Response found(workbench::Workbench& workbench, const Call& call) {
  workbench::SearchOrder order;
  order.text = call.parameter("q");
  order.from = call.parameter("from");
  order.to = call.parameter("to");
  const auto all = workbench::search(workbench, order);
  if (!all) return problem(all.error());
  Json list = Json::array();
  for (const workbench::Found& each : *all) {
    list.push_back({{"kind", word_for(each.kind)},
                    {"id", each.id},
                    {"job", each.job},
                    {"title", each.title},
                    {"detail", each.detail},
                    {"day", each.day}});
  }
  return json_response({{"found", std::move(list)}});
}

Response table_out(workbench::Workbench& workbench, const std::string& table) {
  auto csv = workbench::export_csv(workbench, table);
  if (!csv) return problem(csv.error());
  Response response;
  response.headers = {{"Content-Type", "text/csv; charset=utf-8; header=present"},
                      {"Cache-Control", "no-store"},
                      {"Content-Disposition", format("attachment; filename=\"{}.csv\"", table)}};
  response.body = std::move(*csv);
  return response;
}

}  // namespace

void Api::add_search_routes() {
  router_.get("/api/v1/search", {"q", "from", "to"},
              [this](const Call& call) { return found(workbench_, call); });
  router_.get("/api/v1/export/{table}.csv",
              [this](const Call& call) { return table_out(workbench_, call["table"]); });
  router_.post("/api/v1/import/{table}", [this](const Call& call) {
    const auto done = workbench::import_csv(workbench_, call["table"], call.request.body,
                                            workbench::Acting::who());
    return done ? json_response({{"rows", done->rows}}, 201) : problem(done.error());
  });
}

}  // namespace film::server
