#include "server/problem.h"

#include "server/json.h"

namespace film::server {
namespace {

int status_of(ErrorCode code) {
  switch (code) {
    case ErrorCode::invalid_input: return 400;
    case ErrorCode::unsupported: return 422;
    case ErrorCode::not_found: return 404;
    case ErrorCode::conflict: return 409;
    case ErrorCode::too_large: return 413;
    case ErrorCode::cancelled: return 503;
    case ErrorCode::io: return 503;
  }
  return 500;
}

}  // namespace

Response problem(const Error& error) {
  return problem(status_of(error.code), name_of(error.code), error.what, error.where, error.remedy);
}

Response problem(int status, std::string_view code, std::string_view message,
                 std::string_view where, std::string_view remedy) {
  Response response;
  response.status = status;
  response.headers = {{"Content-Type", "application/problem+json"}, {"Cache-Control", "no-store"}};
  response.body =
      text_of({{"code", code}, {"message", message}, {"where", where}, {"remedy", remedy}});
  return response;
}

}  // namespace film::server
