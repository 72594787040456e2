#include "shop/warranty.h"

#include "shop/detail/text_fields.h"

namespace film::shop {

Result<void> check(const FilmTerm& term) {
  if (auto sound = detail::check({{term.film, "film"}, {term.name, "name"}}); !sound) return sound;
  if (term.months < 0 || term.months > 600) {
    return fail(ErrorCode::invalid_input, format("a term of {} months", term.months), "months",
                "Terms are 0 to 600 months.");
  }
  return {};
}

Result<void> check(const Claim& claim) {
  return detail::check({{claim.job, "job"},
                        {claim.what, "what", 4, 2000},
                        {claim.reported_by, "reported_by", 2, 240},
                        {claim.who, "who"}});
}

Result<void> check(const ClaimRuling& ruling) {
  return detail::check(
      {{ruling.claim, "claim"}, {ruling.reason, "reason", 4, 2000}, {ruling.who, "who"}});
}

}  // namespace film::shop
