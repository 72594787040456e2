#include "shop/quote_names.h"

#include "shop/detail/named.h"

namespace film::shop {
namespace {

using detail::name_in;
using detail::Named;
using detail::value_in;

constexpr Named<QuoteState> kStates[] = {
    {QuoteState::draft, "draft"},       {QuoteState::sent, "sent"},
    {QuoteState::accepted, "accepted"}, {QuoteState::declined, "declined"},
    {QuoteState::expired, "expired"},   {QuoteState::replaced, "replaced"}};
constexpr Named<FilmBasis> kBases[] = {{FilmBasis::layout, "layout"}, {FilmBasis::area, "area"}};
constexpr Named<PriceKind> kKinds[] = {{PriceKind::film, "film"},
                                       {PriceKind::laying, "laying"},
                                       {PriceKind::preparation, "preparation"},
                                       {PriceKind::coating, "coating"},
                                       {PriceKind::consumables, "consumables"}};
constexpr Named<Measure> kMeasures[] = {{Measure::square_millimetre, "mm2"},
                                        {Measure::minute, "minute"},
                                        {Measure::vehicle, "vehicle"}};
constexpr Named<Task> kTasks[] = {{Task::preparation, "preparation"},
                                  {Task::laying, "laying"},
                                  {Task::coating, "coating"},
                                  {Task::other, "other"}};

}  // namespace

std::string_view name_of(QuoteState value) { return name_in<QuoteState>(kStates, value); }
std::string_view name_of(FilmBasis value) { return name_in<FilmBasis>(kBases, value); }
std::string_view name_of(PriceKind value) { return name_in<PriceKind>(kKinds, value); }
std::string_view name_of(Measure value) { return name_in<Measure>(kMeasures, value); }
std::string_view name_of(Task value) { return name_in<Task>(kTasks, value); }

template <>
std::optional<QuoteState> parse<QuoteState>(std::string_view name) {
  return value_in<QuoteState>(kStates, name);
}
template <>
std::optional<FilmBasis> parse<FilmBasis>(std::string_view name) {
  return value_in<FilmBasis>(kBases, name);
}
template <>
std::optional<PriceKind> parse<PriceKind>(std::string_view name) {
  return value_in<PriceKind>(kKinds, name);
}
template <>
std::optional<Measure> parse<Measure>(std::string_view name) {
  return value_in<Measure>(kMeasures, name);
}
template <>
std::optional<Task> parse<Task>(std::string_view name) {
  return value_in<Task>(kTasks, name);
}

}  // namespace film::shop
