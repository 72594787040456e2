// The knife's path and its files.

#include "base/text.h"
#include "server/api.h"
#include "server/encode.h"
#include "server/fields.h"
#include "server/problem.h"
#include "workbench/plan_job_cut.h"
#include "workbench/write_cut_file.h"

namespace film::server {
namespace {

constexpr std::size_t kLongestId = 100;

Result<workbench::CutOrder> read_request(const Request& request, const std::string& job) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  workbench::CutOrder order;
  order.job = job;
  order.film = fields.text_or("film", kLongestId, "");
  order.roll = fields.text_or("roll", kLongestId, "");
  order.profile = fields.text("profile", kLongestId);
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return order;
}

Response download(workbench::Workbench& workbench, const Call& call, workbench::CutForm form) {
  auto file = workbench::write_cut_file(workbench, call["job"], call.parameter("film"), form,
                                        call.parameter("roll"));
  if (!file) return problem(file.error());
  Response response;
  response.headers = {{"Content-Type", file->media_type},
                      {"Cache-Control", "no-store"},
                      {"Content-Disposition", format("attachment; filename=\"{}\"", file->name)}};
  response.body = std::move(file->bytes);
  return response;
}

}  // namespace

void Api::add_cut_routes() {
  router_.get("/api/v1/jobs/{job}/cut", {"film", "roll"}, [this](const Call& call) {
    const auto view = workbench::read_cut(workbench_, call["job"], call.parameter("film"),
                                          call.parameter("roll"));
    return view ? json_response(encode(*view)) : problem(view.error());
  });
  router_.post("/api/v1/jobs/{job}/cut", [this](const Call& call) {
    auto order = read_request(call.request, call["job"]);
    if (!order) return problem(order.error());
    order->who = call.caller.name;
    const auto view = workbench::plan_job_cut(workbench_, *order, {});
    return view ? json_response(encode(*view), 201) : problem(view.error());
  });
  const std::pair<const char*, workbench::CutForm> forms[] = {{"plt", workbench::CutForm::plt},
                                                              {"svg", workbench::CutForm::svg},
                                                              {"dxf", workbench::CutForm::dxf},
                                                              {"pdf", workbench::CutForm::pdf}};
  for (const auto& [ending, form] : forms) {
    router_.get(std::string("/api/v1/jobs/{job}/cut.") + ending, {"film", "roll"},
                [this, form = form](const Call& call) { return download(workbench_, call, form); });
  }
}

}  // namespace film::server
