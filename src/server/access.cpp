#include "server/access.h"

#include <algorithm>

namespace film::server {
namespace {

using shop::Role;

const Access kAnyone{true, false, {}};
const Access kThisMachine{false, true, {Role::lead}};
const Access kEveryone{
    false, false, {Role::lead, Role::cutter, Role::installer, Role::desk, Role::reader}};
const Access kWorkers{false, false, {Role::lead, Role::cutter, Role::installer, Role::desk}};
const Access kShopFloor{false, false, {Role::lead, Role::cutter, Role::installer}};
const Access kCutting{false, false, {Role::lead, Role::cutter}};
const Access kCounter{false, false, {Role::lead, Role::desk}};
const Access kLead{false, false, {Role::lead}};

}  // namespace

bool Access::allows(Role role) const {
  return anyone || std::find(roles.begin(), roles.end(), role) != roles.end();
}

// By page of the API; within one, reading before changing.
const std::vector<AccessLine>& access_table() {
  static const std::vector<AccessLine> kTable{
      {"GET", "/healthz", kAnyone},
      {"GET", "/readyz", kAnyone},
      {"GET", "/metrics", kThisMachine},
      {"GET", "/api/v1/openapi.yaml", kAnyone},
      {"GET", "/api/v1/reference", kAnyone},

      {"GET", "/api/v1/session", kAnyone},
      {"POST", "/api/v1/session", kAnyone},
      {"DELETE", "/api/v1/session", kAnyone},
      {"POST", "/api/v1/session/password", kEveryone},
      {"POST", "/api/v1/first-start", kAnyone},
      {"GET", "/api/v1/shared/{token}", kAnyone},
      {"GET", "/api/v1/shared/{token}/quote.pdf", kAnyone},

      {"GET", "/api/v1/people", kEveryone},
      {"POST", "/api/v1/people", kLead},
      {"POST", "/api/v1/people/{person}", kLead},
      {"POST", "/api/v1/people/{person}/password", kLead},
      {"GET", "/api/v1/audit", kLead},

      {"GET", "/api/v1/customers", kEveryone},
      {"GET", "/api/v1/customers/{customer}", kEveryone},
      {"POST", "/api/v1/customers", kCounter},
      {"POST", "/api/v1/customers/{customer}", kCounter},
      {"POST", "/api/v1/customers/{customer}/vehicles", kCounter},
      {"POST", "/api/v1/customer-vehicles/{vehicle}", kCounter},
      {"GET", "/api/v1/vins/{vin}", kEveryone},
      {"GET", "/api/v1/jobs/{job}/customer", kEveryone},
      {"POST", "/api/v1/jobs/{job}/customer", kCounter},

      {"GET", "/api/v1/shop", kEveryone},
      {"GET", "/api/v1/films", kEveryone},
      {"GET", "/api/v1/rolls", kEveryone},
      {"GET", "/api/v1/profiles", kEveryone},

      {"GET", "/api/v1/stock", kEveryone},
      {"POST", "/api/v1/rolls", kWorkers},
      {"GET", "/api/v1/rolls/{roll}/ledger", kEveryone},
      {"POST", "/api/v1/rolls/{roll}/ledger", kWorkers},
      {"POST", "/api/v1/rolls/{roll}/check", kWorkers},
      {"POST", "/api/v1/rolls/{roll}/defects", kShopFloor},
      {"POST", "/api/v1/supplies", kCounter},
      {"POST", "/api/v1/offcuts", kShopFloor},
      {"GET", "/api/v1/runs/{run}/rests", kEveryone},
      {"GET", "/api/v1/jobs/{job}/lots", kEveryone},
      {"GET", "/api/v1/jobs/{job}/pieces/{piece}/places", kEveryone},
      {"GET", "/api/v1/jobs/{job}/recuts", kEveryone},
      {"POST", "/api/v1/jobs/{job}/recuts", kShopFloor},
      {"GET", "/api/v1/recuts/{recut}.plt", kShopFloor},

      {"GET", "/api/v1/vehicles", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}/model.glb", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}/studies", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}/panels/{panel}/study", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}/versions", kEveryone},
      {"GET", "/api/v1/vehicles/{vehicle}/library.zip", kEveryone},
      {"POST", "/api/v1/vehicles/{vehicle}/versions", kCutting},
      {"POST", "/api/v1/library", kCutting},
      {"GET", "/api/v1/marker-board.pdf", kEveryone},
      {"POST", "/api/v1/photo-outlines", kShopFloor},

      {"GET", "/api/v1/jobs", kEveryone},
      {"GET", "/api/v1/jobs/{job}", kEveryone},
      {"GET", "/api/v1/jobs/{job}/history", kEveryone},
      {"GET", "/api/v1/jobs/{job}/papers", kEveryone},
      {"GET", "/api/v1/jobs/{job}/papers/{paper}.pdf", kEveryone},
      {"POST", "/api/v1/jobs", kCounter},
      {"POST", "/api/v1/jobs/{job}/state", kWorkers},
      {"GET", "/api/v1/jobs/{job}/links", kCounter},
      {"POST", "/api/v1/jobs/{job}/links", kCounter},
      {"DELETE", "/api/v1/jobs/{job}/links/{link}", kCounter},

      {"GET", "/api/v1/search", kEveryone},
      {"GET", "/api/v1/claims/{claim}/report.pdf", kEveryone},
      {"GET", "/api/v1/letterhead", kEveryone},
      {"POST", "/api/v1/letterhead", kLead},
      {"GET", "/api/v1/jobs/{job}/invoices", kWorkers},
      {"POST", "/api/v1/jobs/{job}/invoices", kCounter},
      {"POST", "/api/v1/jobs/{job}/payments", kCounter},
      {"GET", "/api/v1/export/{table}.csv", kCounter},
      {"POST", "/api/v1/import/{table}", kLead},
      {"GET", "/api/v1/price-list", kCounter},
      {"POST", "/api/v1/price-list", kLead},
      {"GET", "/api/v1/vehicles/{vehicle}/proposals", kEveryone},
      {"POST", "/api/v1/offers/price", kCounter},
      {"GET", "/api/v1/quotes", kCounter},
      {"GET", "/api/v1/quotes/{quote}", kCounter},
      {"GET", "/api/v1/quotes/{quote}/versions", kCounter},
      {"GET", "/api/v1/quotes/{quote}/paper.pdf", kEveryone},
      {"POST", "/api/v1/quotes", kCounter},
      {"POST", "/api/v1/quotes/{quote}", kCounter},
      {"POST", "/api/v1/quotes/{quote}/send", kCounter},
      {"POST", "/api/v1/quotes/{quote}/accept", kCounter},
      {"POST", "/api/v1/quotes/{quote}/decline", kCounter},
      {"POST", "/api/v1/quotes/{quote}/renew", kCounter},
      {"GET", "/api/v1/hours", kCounter},
      {"GET", "/api/v1/jobs/{job}/hours", kEveryone},
      {"POST", "/api/v1/jobs/{job}/hours", kWorkers},

      {"GET", "/api/v1/jobs/{job}/pieces", kEveryone},
      {"POST", "/api/v1/jobs/{job}/pieces/{piece}/preview", kCutting},
      {"POST", "/api/v1/jobs/{job}/pieces/{piece}", kCutting},
      {"GET", "/api/v1/jobs/{job}/layout", kEveryone},
      {"POST", "/api/v1/jobs/{job}/layout", kCutting},
      {"POST", "/api/v1/jobs/{job}/layout/check", kCutting},
      {"POST", "/api/v1/jobs/{job}/layout/room", kCutting},
      {"POST", "/api/v1/jobs/{job}/layout/squeeze", kCutting},
      {"POST", "/api/v1/jobs/{job}/layout/keep", kCutting},
      {"GET", "/api/v1/jobs/{job}/cards", kEveryone},
      {"GET", "/api/v1/jobs/{job}/cards/{panel}", kEveryone},
      {"POST", "/api/v1/jobs/{job}/card-events", kShopFloor},
      {"POST", "/api/v1/jobs/{job}/card-photos", kShopFloor},
      {"GET", "/api/v1/jobs/{job}/cut", kEveryone},
      {"GET", "/api/v1/jobs/{job}/cut.plt", kCutting},
      {"GET", "/api/v1/jobs/{job}/cut.svg", kEveryone},
      {"GET", "/api/v1/jobs/{job}/cut.dxf", kEveryone},
      {"GET", "/api/v1/jobs/{job}/cut.pdf", kEveryone},
      {"POST", "/api/v1/jobs/{job}/cut", kCutting},
      {"GET", "/api/v1/jobs/{job}/run", kEveryone},
      {"POST", "/api/v1/jobs/{job}/run", kCutting},
      {"GET", "/api/v1/runs/{run}", kEveryone},
      {"POST", "/api/v1/runs/{run}/resume", kCutting},
      {"POST", "/api/v1/runs/{run}/confirm", kCutting},
      {"POST", "/api/v1/runs/{run}/give-up", kCutting},
      {"GET", "/api/v1/tasks/{task}", kEveryone},
      {"GET", "/api/v1/tasks/{task}/events", kEveryone},
      {"DELETE", "/api/v1/tasks/{task}", kCutting},

      {"GET", "/api/v1/plan", kEveryone},
      {"GET", "/api/v1/plan/today", kEveryone},
      {"GET", "/api/v1/plan/history", kEveryone},
      {"GET", "/api/v1/plan/workplace", kEveryone},
      {"GET", "/api/v1/plan/calendar/{secret}.ics", kAnyone},  // the secret is the key
      {"POST", "/api/v1/plan/workplace", kLead},
      {"POST", "/api/v1/plan/clock", kLead},
      {"POST", "/api/v1/plan/jobs", kCounter},
      {"POST", "/api/v1/plan/jobs/{job}/drop", kCounter},
      {"POST", "/api/v1/plan/promise", kCounter},
      {"POST", "/api/v1/plan/fits", kCounter},
      {"POST", "/api/v1/plan/rush", kCounter},
      {"POST", "/api/v1/plan/reports", kWorkers},
      {"POST", "/api/v1/plan/moves", kLead},
      {"POST", "/api/v1/plan/feeds", kWorkers},

      {"GET", "/api/v1/jobs/{job}/installation", kEveryone},
      {"GET", "/api/v1/photos/{photo}", kEveryone},
      {"POST", "/api/v1/jobs/{job}/photos", kWorkers},
      {"POST", "/api/v1/jobs/{job}/installed", kShopFloor},
      {"POST", "/api/v1/jobs/{job}/inspections", kShopFloor},
      {"POST", "/api/v1/jobs/{job}/hand-over", kCounter},
      {"POST", "/api/v1/jobs/{job}/certificates", kCounter},
      {"GET", "/api/v1/lots", kEveryone},
      {"GET", "/api/v1/claims", kEveryone},
      {"POST", "/api/v1/claims", kCounter},
      {"POST", "/api/v1/claims/{claim}/rulings", kLead},
      {"POST", "/api/v1/claims/{claim}/recuts", kShopFloor},

      {"GET", "/api/v1/glass/places", kEveryone},
      {"POST", "/api/v1/glass/match", kEveryone},
      {"GET", "/api/v1/jobs/{job}/glass", kEveryone},
      {"POST", "/api/v1/jobs/{job}/glass/place", kWorkers},
      {"POST", "/api/v1/jobs/{job}/glass/readings", kWorkers},
      {"POST", "/api/v1/jobs/{job}/glass/decisions", kCounter},
  };
  return kTable;
}

const Access* access_of(std::string_view method, std::string_view pattern) {
  for (const AccessLine& line : access_table()) {
    if (line.method == method && line.pattern == pattern) return &line.access;
  }
  return nullptr;
}

}  // namespace film::server
