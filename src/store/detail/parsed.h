#pragma once

#include <string>
#include <utility>

#include "base/result.h"
#include "shop/names.h"
#include "store/detail/sql.h"

namespace film::store::detail {

/// The choice stored under that name; throws Damaged when there is none.
template <class Choice>
Choice parsed(const std::string& name) {
  const auto choice = shop::parse<Choice>(name);
  if (!choice) throw Damaged("'" + name + "' is no value that the book knows");
  return *choice;
}

/// What was read back from a stored document; throws Damaged when it cannot be read.
template <class T>
T kept(Result<T> read) {
  if (!read) throw Damaged(read.error().message());
  return std::move(*read);
}

}  // namespace film::store::detail
