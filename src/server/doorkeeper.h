#pragma once

#include <string>
#include <variant>

#include "server/access.h"
#include "server/http.h"
#include "server/throttle.h"
#include "workbench/workbench.h"

namespace film::server {

/// How the server is reached.
struct Place {
  bool loopback = true;        ///< it listens on this machine only
  std::string public_address;  ///< "https://shop.example": a proxy with TLS stands before it

  [[nodiscard]] bool secure() const { return public_address.starts_with("https://"); }
};

/// Knows who asks and what they may do: sessions by cookie, the first start, the demo shop's
/// people. Thread-safe.
class Doorkeeper {
 public:
  Doorkeeper(workbench::Workbench& workbench, Place place);

  /// Who asks for the route, or why not.
  [[nodiscard]] std::variant<Caller, Response> admit(const Request& request,
                                                     std::string_view pattern) const;

  /// The token that the first start asks for; empty when there are people already.
  [[nodiscard]] const std::string& first_start_token() const { return first_start_token_; }
  /// Whether nobody needs a password here: the demo shop, reached from this machine only.
  [[nodiscard]] bool is_open_demo() const;
  [[nodiscard]] const Place& place() const { return place_; }

  /// Answers sign-in, sign-out, the first start and changes of the own password.
  [[nodiscard]] Response session(const Request& request) const;
  [[nodiscard]] Response sign_in(const Request& request);
  [[nodiscard]] Response sign_out(const Request& request) const;
  [[nodiscard]] Response make_owner(const Request& request);
  [[nodiscard]] Response change_password(const Request& request, const Caller& caller);

 private:
  [[nodiscard]] std::string cookie_name() const;
  [[nodiscard]] std::string token_of(const Request& request) const;
  [[nodiscard]] std::string cookie(const std::string& token) const;
  [[nodiscard]] bool is_this_machine(const Request& request) const;

  workbench::Workbench& workbench_;
  const Place place_;
  std::string first_start_token_;
  Throttle by_name_{5};
  Throttle by_peer_{20};
};

}  // namespace film::server
