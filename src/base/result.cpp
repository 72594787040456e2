#include "base/result.h"

namespace film {

std::string_view name_of(ErrorCode code) {
  switch (code) {
    case ErrorCode::invalid_input: return "invalid_input";
    case ErrorCode::unsupported: return "unsupported";
    case ErrorCode::not_found: return "not_found";
    case ErrorCode::conflict: return "conflict";
    case ErrorCode::too_large: return "too_large";
    case ErrorCode::cancelled: return "cancelled";
    case ErrorCode::io: return "io";
  }
  return "unknown";
}

std::string Error::message() const {
  std::string text = where.empty() ? what : where + ": " + what;
  if (!remedy.empty()) text += ". " + remedy;
  return text;
}

}  // namespace film
