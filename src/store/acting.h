#pragma once

#include <string>

namespace film::store {

/// Says who makes the changes of this thread, from here to the end of the scope: the name stands
/// in the audit trail. Inner scopes go before outer ones.
class Acting {
 public:
  explicit Acting(std::string who);
  ~Acting();
  Acting(const Acting&) = delete;
  Acting& operator=(const Acting&) = delete;

  /// Who it is now; "" when nobody said.
  static const std::string& who();

 private:
  std::string before_;
};

}  // namespace film::store
