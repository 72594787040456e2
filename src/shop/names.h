#pragma once

#include <optional>
#include <string_view>

#include "shop/decision.h"
#include "shop/film.h"
#include "shop/invoice.h"
#include "shop/job.h"
#include "shop/letterhead.h"
#include "shop/reading.h"
#include "shop/recut.h"
#include "shop/settings.h"
#include "shop/stock_ledger.h"
#include "shop/vehicle.h"
#include "shop/warranty.h"

namespace film::shop {

// The stable names of choices, as they stand in the store and in JSON ("gloss_paint").
std::string_view name_of(Finish value);
std::string_view name_of(Side value);
std::string_view name_of(Standing value);
std::string_view name_of(FilmUse value);
std::string_view name_of(Gloss value);
std::string_view name_of(JobState value);
std::string_view name_of(LengthUnit value);
std::string_view name_of(Concern value);
std::string_view name_of(Stage value);
std::string_view name_of(StockVerb value);
std::string_view name_of(RecutReason value);
std::string_view name_of(PaperSize value);
std::string_view name_of(Ruling value);
std::string_view name_of(PaymentKind value);
std::string_view name_of(pattern::EdgeKind value);
std::string_view name_of(pattern::Corner value);
std::string_view name_of(pattern::Grain value);

/// The choice of that name, if there is one: `parse<Finish>("glass")`.
template <class Choice>
std::optional<Choice> parse(std::string_view name);
template <>
std::optional<Finish> parse(std::string_view name);
template <>
std::optional<Side> parse(std::string_view name);
template <>
std::optional<Standing> parse(std::string_view name);
template <>
std::optional<pattern::Corner> parse(std::string_view name);
template <>
std::optional<FilmUse> parse(std::string_view name);
template <>
std::optional<Gloss> parse(std::string_view name);
template <>
std::optional<JobState> parse(std::string_view name);
template <>
std::optional<LengthUnit> parse(std::string_view name);
template <>
std::optional<Concern> parse(std::string_view name);
template <>
std::optional<Stage> parse(std::string_view name);
template <>
std::optional<StockVerb> parse(std::string_view name);
template <>
std::optional<RecutReason> parse(std::string_view name);
template <>
std::optional<pattern::EdgeKind> parse(std::string_view name);
template <>
std::optional<pattern::Grain> parse(std::string_view name);
template <>
std::optional<PaperSize> parse(std::string_view name);
template <>
std::optional<Ruling> parse(std::string_view name);
template <>
std::optional<PaymentKind> parse(std::string_view name);

}  // namespace film::shop
