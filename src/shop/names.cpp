#include "shop/names.h"

#include "shop/detail/named.h"

namespace film::shop {
namespace {

using detail::name_in;
using detail::Named;
using detail::value_in;
using pattern::Corner;
using pattern::EdgeKind;
using pattern::Grain;

constexpr Named<Finish> kFinishes[] = {
    {Finish::gloss_paint, "gloss_paint"}, {Finish::matte_paint, "matte_paint"},
    {Finish::gloss_black, "gloss_black"}, {Finish::bare_plastic, "bare_plastic"},
    {Finish::chrome, "chrome"},           {Finish::lamp, "lamp"},
    {Finish::reflector, "reflector"},     {Finish::glass, "glass"},
    {Finish::rubber, "rubber"},
};
constexpr Named<Side> kSides[] = {
    {Side::left, "left"}, {Side::right, "right"}, {Side::centre, "centre"}};
constexpr Named<Standing> kStandings[] = {{Standing::accepted, "accepted"},
                                          {Standing::proposed, "proposed"},
                                          {Standing::declined, "declined"},
                                          {Standing::removed, "removed"}};
constexpr Named<FilmUse> kUses[] = {{FilmUse::paint, "paint"},
                                    {FilmUse::trim, "trim"},
                                    {FilmUse::lamp, "lamp"},
                                    {FilmUse::glass, "glass"}};
constexpr Named<Gloss> kGlosses[] = {
    {Gloss::gloss, "gloss"}, {Gloss::satin, "satin"}, {Gloss::matte, "matte"}};
constexpr Named<JobState> kStates[] = {
    {JobState::scoped, "scoped"},           {JobState::laid_out, "laid_out"},
    {JobState::cut_planned, "cut_planned"}, {JobState::released, "released"},
    {JobState::installing, "installing"},   {JobState::inspected, "inspected"},
    {JobState::handed_over, "handed_over"}, {JobState::cancelled, "cancelled"}};
constexpr Named<LengthUnit> kUnits[] = {{LengthUnit::mm, "mm"}, {LengthUnit::inch, "in"}};
constexpr Named<Concern> kConcerns[] = {
    {Concern::lamp, "lamp"}, {Concern::reflector, "reflector"}, {Concern::sensor, "sensor"}};
constexpr Named<Stage> kStages[] = {{Stage::before, "before"}, {Stage::after, "after"}};
constexpr Named<StockVerb> kStockVerbs[] = {{StockVerb::received, "received"},
                                            {StockVerb::cut, "cut"},
                                            {StockVerb::returned, "returned"},
                                            {StockVerb::written_off, "written_off"},
                                            {StockVerb::counted, "counted"}};
constexpr Named<RecutReason> kRecutReasons[] = {
    {RecutReason::crease, "crease"},   {RecutReason::torn, "torn"},
    {RecutReason::dirt, "dirt"},       {RecutReason::misplaced, "misplaced"},
    {RecutReason::miscut, "miscut"},   {RecutReason::flawed, "flawed"},
    {RecutReason::damaged, "damaged"}, {RecutReason::lifted, "lifted"},
    {RecutReason::aged, "aged"}};
constexpr Named<PaperSize> kPaperSizes[] = {{PaperSize::a4, "a4"}, {PaperSize::letter, "letter"}};
constexpr Named<Ruling> kRulings[] = {
    {Ruling::warranty, "warranty"}, {Ruling::goodwill, "goodwill"}, {Ruling::declined, "declined"}};
constexpr Named<PaymentKind> kPayments[] = {{PaymentKind::deposit, "deposit"},
                                            {PaymentKind::payment, "payment"},
                                            {PaymentKind::refund, "refund"}};
constexpr Named<EdgeKind> kEdges[] = {{EdgeKind::gap, "gap"},
                                      {EdgeKind::hem, "hem"},
                                      {EdgeKind::cutout, "cutout"},
                                      {EdgeKind::seal, "seal"},
                                      {EdgeKind::seam, "seam"}};
constexpr Named<Corner> kCorners[] = {{Corner::closed, "closed"},
                                      {Corner::round, "round"},
                                      {Corner::notch, "notch"},
                                      {Corner::slit, "slit"}};
constexpr Named<Grain> kGrains[] = {
    {Grain::along, "along"}, {Grain::square, "square"}, {Grain::free, "free"}};

}  // namespace

std::string_view name_of(Finish value) { return name_in<Finish>(kFinishes, value); }
std::string_view name_of(Side value) { return name_in<Side>(kSides, value); }
std::string_view name_of(Standing value) { return name_in<Standing>(kStandings, value); }
std::string_view name_of(FilmUse value) { return name_in<FilmUse>(kUses, value); }
std::string_view name_of(Gloss value) { return name_in<Gloss>(kGlosses, value); }
std::string_view name_of(JobState value) { return name_in<JobState>(kStates, value); }
std::string_view name_of(LengthUnit value) { return name_in<LengthUnit>(kUnits, value); }
std::string_view name_of(Concern value) { return name_in<Concern>(kConcerns, value); }
std::string_view name_of(Stage value) { return name_in<Stage>(kStages, value); }
std::string_view name_of(StockVerb value) { return name_in<StockVerb>(kStockVerbs, value); }
std::string_view name_of(RecutReason value) { return name_in<RecutReason>(kRecutReasons, value); }
std::string_view name_of(PaperSize value) { return name_in<PaperSize>(kPaperSizes, value); }
std::string_view name_of(Ruling value) { return name_in<Ruling>(kRulings, value); }
std::string_view name_of(PaymentKind value) { return name_in<PaymentKind>(kPayments, value); }
std::string_view name_of(EdgeKind value) { return name_in<EdgeKind>(kEdges, value); }
std::string_view name_of(Corner value) { return name_in<Corner>(kCorners, value); }
std::string_view name_of(Grain value) { return name_in<Grain>(kGrains, value); }

template <>
std::optional<Finish> parse<Finish>(std::string_view name) {
  return value_in<Finish>(kFinishes, name);
}
template <>
std::optional<Side> parse<Side>(std::string_view name) {
  return value_in<Side>(kSides, name);
}
template <>
std::optional<Standing> parse<Standing>(std::string_view name) {
  return value_in<Standing>(kStandings, name);
}
template <>
std::optional<Corner> parse<Corner>(std::string_view name) {
  return value_in<Corner>(kCorners, name);
}
template <>
std::optional<FilmUse> parse<FilmUse>(std::string_view name) {
  return value_in<FilmUse>(kUses, name);
}
template <>
std::optional<Gloss> parse<Gloss>(std::string_view name) {
  return value_in<Gloss>(kGlosses, name);
}
template <>
std::optional<JobState> parse<JobState>(std::string_view name) {
  return value_in<JobState>(kStates, name);
}
template <>
std::optional<LengthUnit> parse<LengthUnit>(std::string_view name) {
  return value_in<LengthUnit>(kUnits, name);
}
template <>
std::optional<Concern> parse<Concern>(std::string_view name) {
  return value_in<Concern>(kConcerns, name);
}
template <>
std::optional<Stage> parse<Stage>(std::string_view name) {
  return value_in<Stage>(kStages, name);
}
template <>
std::optional<StockVerb> parse<StockVerb>(std::string_view name) {
  return value_in<StockVerb>(kStockVerbs, name);
}
template <>
std::optional<RecutReason> parse<RecutReason>(std::string_view name) {
  return value_in<RecutReason>(kRecutReasons, name);
}
template <>
std::optional<PaperSize> parse<PaperSize>(std::string_view name) {
  return value_in<PaperSize>(kPaperSizes, name);
}
template <>
std::optional<Ruling> parse<Ruling>(std::string_view name) {
  return value_in<Ruling>(kRulings, name);
}
template <>
std::optional<PaymentKind> parse<PaymentKind>(std::string_view name) {
  return value_in<PaymentKind>(kPayments, name);
}
template <>
std::optional<EdgeKind> parse<EdgeKind>(std::string_view name) {
  return value_in<EdgeKind>(kEdges, name);
}
template <>
std::optional<Grain> parse<Grain>(std::string_view name) {
  return value_in<Grain>(kGrains, name);
}

}  // namespace film::shop
