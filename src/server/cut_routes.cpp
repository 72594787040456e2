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

struct CutRequest {
  std::string profile;
  std::string film;
};

Result<CutRequest> read_request(const Request& request) {
  const auto body = body_of(request.body);
  if (!body) return Failure(body.error());
  Fields fields(*body, "");
  CutRequest read{fields.text("profile", kLongestId), fields.text_or("film", kLongestId, "")};
  if (auto sound = fields.done(); !sound) return Failure(sound.error());
  return read;
}

Response download(workbench::Workbench& workbench, const Call& call, workbench::CutForm form) {
  auto file = workbench::write_cut_file(workbench, call["job"], call.parameter("film"), form);
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
  router_.get("/api/v1/jobs/{job}/cut", {"film"}, [this](const Call& call) {
    const auto view = workbench::read_cut(workbench_, call["job"], call.parameter("film"));
    return view ? json_response(encode(*view)) : problem(view.error());
  });
  router_.post("/api/v1/jobs/{job}/cut", [this](const Call& call) {
    const auto order = read_request(call.request);
    if (!order) return problem(order.error());
    const auto view =
        workbench::plan_job_cut(workbench_, call["job"], order->film, order->profile, {});
    return view ? json_response(encode(*view), 201) : problem(view.error());
  });
  const std::pair<const char*, workbench::CutForm> forms[] = {{"plt", workbench::CutForm::plt},
                                                              {"svg", workbench::CutForm::svg},
                                                              {"dxf", workbench::CutForm::dxf},
                                                              {"pdf", workbench::CutForm::pdf}};
  for (const auto& [ending, form] : forms) {
    router_.get(std::string("/api/v1/jobs/{job}/cut.") + ending, {"film"},
                [this, form = form](const Call& call) { return download(workbench_, call, form); });
  }
}

}  // namespace film::server
