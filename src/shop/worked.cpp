#include "shop/worked.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"

namespace film::shop {

Result<void> check(const Worked& worked) {
  const auto refuse = [](std::string what, std::string field, std::string remedy) {
    return fail(ErrorCode::invalid_input, std::move(what), "hours " + std::move(field),
                std::move(remedy));
  };
  if (worked.job.empty()) return refuse("time without a job", "job", "Say which job.");
  if (worked.who.empty() || worked.who.size() > 200) {
    return refuse("time without a person", "who", "Say who worked.");
  }
  if (worked.minutes < 1 || worked.minutes > 1440) {
    return refuse(format("{} minutes", worked.minutes), "minutes",
                  "One record is of 1 to 1440 minutes.");
  }
  if (worked.task == Task::laying && worked.piece.empty()) {
    return refuse("laying without a piece", "piece", "Say which piece was laid.");
  }
  if (worked.note.size() > 2000) return refuse("a note that is too long", "note", "Shorten it.");
  if (!std::all_of(worked.amounts.begin(), worked.amounts.end(),
                   [](double amount) { return std::isfinite(amount) && amount >= 0; })) {
    return refuse("an amount that is no number", "amounts", "Amounts are numbers from 0.");
  }
  return {};
}

}  // namespace film::shop
