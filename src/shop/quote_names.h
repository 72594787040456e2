#pragma once

#include "shop/names.h"
#include "shop/quote.h"
#include "shop/worked.h"

namespace film::shop {

// The stable names of choices in quotes and records of hours, as shop/names.h has them for others.
std::string_view name_of(QuoteState value);
std::string_view name_of(FilmBasis value);
std::string_view name_of(PriceKind value);
std::string_view name_of(Measure value);
std::string_view name_of(Task value);

template <>
std::optional<QuoteState> parse(std::string_view name);
template <>
std::optional<FilmBasis> parse(std::string_view name);
template <>
std::optional<PriceKind> parse(std::string_view name);
template <>
std::optional<Measure> parse(std::string_view name);
template <>
std::optional<Task> parse(std::string_view name);

}  // namespace film::shop
