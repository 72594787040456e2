#include "exchange/quote_json.h"

#include "exchange/detail/offer_json.h"
#include "shop/quote_names.h"

namespace film::exchange {
namespace {

using detail::bounded;
using detail::only;
using detail::OrderedJson;
using detail::Place;
using detail::read_if;

constexpr std::size_t kMostBytes = std::size_t{8} << 20;
constexpr std::size_t kMostEntries = 2000;

std::size_t bounded_size(const Place& place) {
  const std::size_t size = place.size();
  if (size > kMostEntries) detail::refuse("the list is too long", place.path);
  return size;
}

template <class Choice>
Choice choice_of(const Place& place) {
  const auto choice = shop::parse<Choice>(place.text());
  if (!choice) detail::refuse(format("\"{}\" is not known here", place.text()), place.path);
  return *choice;
}

// The pieces of a big vehicle take more film than a Place's lengths go to, in mm.
double length_at(const Place& place, const char* key) {
  const Place found = place.at(key);
  if (!found.value.is_number()) detail::refuse("a number was expected", found.path);
  const double length = found.value.get<double>();
  if (!(length >= 0 && length < 1e9)) detail::refuse("the number is out of bounds", found.path);
  return length;
}

shop::FilmCut read_cut(const Place& place) {
  only(place, {"stock", "offcut", "pieces", "length", "width"});
  return {place.at("stock").text(), place.at("offcut").truth(), place.at("pieces").index(),
          length_at(place, "length"), length_at(place, "width")};
}

shop::FilmAmount read_film(const Place& place) {
  only(place, {"film", "name", "pieces", "area", "needed", "basis", "length", "roll_width",
               "in_stock", "cuts"});
  shop::FilmAmount film;
  film.film = place.at("film").text();
  film.name = place.at("name").text();
  film.pieces = place.at("pieces").index();
  film.area = bounded(place.at("area"));
  film.needed = bounded(place.at("needed"));
  film.basis = choice_of<shop::FilmBasis>(place.at("basis"));
  film.length = length_at(place, "length");
  film.roll_width = length_at(place, "roll_width");
  film.in_stock = length_at(place, "in_stock");
  if (const auto cuts = place.find("cuts")) {
    for (std::size_t i = 0; i < bounded_size(*cuts); ++i) {
      film.cuts.push_back(read_cut(cuts->item(i)));
    }
  }
  return film;
}

shop::WorkNeed read_work(const Place& place) {
  only(place, {"films", "minutes", "covered_area", "coated_area", "notes"});
  shop::WorkNeed work;
  const Place films = place.at("films");
  for (std::size_t i = 0; i < bounded_size(films); ++i) {
    work.films.push_back(read_film(films.item(i)));
  }
  const Place minutes = place.at("minutes");
  only(minutes, {"expected", "low", "high"});
  work.laying = {bounded(minutes.at("expected")), bounded(minutes.at("low")),
                 bounded(minutes.at("high"))};
  work.covered_area = bounded(place.at("covered_area"));
  work.coated_area = bounded(place.at("coated_area"));
  const Place notes = place.at("notes");
  for (std::size_t i = 0; i < bounded_size(notes); ++i) work.notes.push_back(notes.item(i).text());
  return work;
}

shop::PriceLine read_line(const Place& place) {
  only(place, {"kind", "film", "name", "quantity", "measure", "net", "discount", "cost", "tax"});
  shop::PriceLine line;
  line.kind = choice_of<shop::PriceKind>(place.at("kind"));
  line.film = place.at("film").text();
  line.name = place.at("name").text();
  line.quantity = bounded(place.at("quantity"));
  line.measure = choice_of<shop::Measure>(place.at("measure"));
  line.net = Money{bounded(place.at("net"))};
  line.discount = Money{bounded(place.at("discount"))};
  line.cost = Money{bounded(place.at("cost"))};
  line.tax = shop::Rate{bounded(place.at("tax"))};
  return line;
}

shop::Price read_price(const Place& place) {
  only(place, {"lines", "net", "discount", "taxes", "total", "deposit", "cost", "margin", "thin"});
  shop::Price price;
  const Place lines = place.at("lines");
  for (std::size_t i = 0; i < bounded_size(lines); ++i) {
    price.lines.push_back(read_line(lines.item(i)));
  }
  price.net = Money{bounded(place.at("net"))};
  price.discount = Money{bounded(place.at("discount"))};
  const Place taxes = place.at("taxes");
  for (std::size_t i = 0; i < bounded_size(taxes); ++i) {
    const Place tax = taxes.item(i);
    only(tax, {"rate", "base", "tax"});
    price.taxes.push_back({shop::Rate{bounded(tax.at("rate"))}, Money{bounded(tax.at("base"))},
                           Money{bounded(tax.at("tax"))}});
  }
  price.total = Money{bounded(place.at("total"))};
  price.deposit = Money{bounded(place.at("deposit"))};
  price.cost = Money{bounded(place.at("cost"))};
  price.margin = shop::Rate{bounded(place.at("margin"))};
  price.thin = place.at("thin").truth();
  return price;
}

shop::Alternative read_offer(const Place& place) {
  only(place, {"name", "package", "look", "scope", "coating", "discount", "discount_amount", "work",
               "price"});
  shop::Alternative offer;
  offer.name = place.at("name").text();
  read_if(place, "package", offer.package);
  read_if(place, "look", offer.look);
  const Place scope = place.at("scope");
  for (std::size_t i = 0; i < bounded_size(scope); ++i) {
    const Place item = scope.item(i);
    only(item, {"panel", "film"});
    offer.scope.push_back({item.at("panel").text(), item.at("film").text()});
  }
  offer.coating = place.at("coating").truth();
  offer.discount.share = shop::Rate{bounded(place.at("discount"))};
  read_if(place, "discount_amount", offer.discount.amount);
  offer.work = read_work(place.at("work"));
  offer.price = read_price(place.at("price"));
  return offer;
}

shop::Quote read(const Place& place) {
  only(place, {"id",         "version",  "state",       "revision",
               "title",      "customer", "vehicle",     "vehicle_version",
               "note",       "language", "currency",    "price_list",
               "created",    "sent",     "valid_until", "decided",
               "decided_by", "job",      "chosen",      "offers"});
  shop::Quote quote;
  quote.id = place.at("id").text();
  const auto number = [&place](const char* key) {
    const std::int64_t value = bounded(place.at(key));
    if (value < 0 || value > 1'000'000) {
      detail::refuse("the number is out of bounds", place.at(key).path);
    }
    return static_cast<int>(value);
  };
  quote.version = number("version");
  quote.state = choice_of<shop::QuoteState>(place.at("state"));
  quote.revision = bounded(place.at("revision"));
  quote.title = place.at("title").text();
  read_if(place, "customer", quote.customer);
  quote.vehicle = place.at("vehicle").text();
  quote.vehicle_version = number("vehicle_version");
  read_if(place, "note", quote.note);
  const auto language = shop::language_of(place.at("language").text());
  if (!language) detail::refuse("this language is not known here", place.at("language").path);
  quote.language = *language;
  quote.currency = place.at("currency").text();
  quote.price_list = bounded(place.at("price_list"));
  read_if(place, "created", quote.created);
  read_if(place, "sent", quote.sent);
  read_if(place, "valid_until", quote.valid_until);
  read_if(place, "decided", quote.decided);
  read_if(place, "decided_by", quote.decided_by);
  read_if(place, "job", quote.job);
  quote.chosen = place.at("chosen").index();
  const Place offers = place.at("offers");
  for (std::size_t i = 0; i < bounded_size(offers); ++i) {
    quote.offers.push_back(read_offer(offers.item(i)));
  }
  return quote;
}

OrderedJson json_of(const shop::WorkNeed& work) {
  OrderedJson films = OrderedJson::array();
  for (const shop::FilmAmount& film : work.films) {
    OrderedJson cuts = OrderedJson::array();
    for (const shop::FilmCut& cut : film.cuts) {
      cuts.push_back({{"stock", cut.stock},
                      {"offcut", cut.offcut},
                      {"pieces", cut.pieces},
                      {"length", cut.length},
                      {"width", cut.width}});
    }
    films.push_back({{"film", film.film},
                     {"name", film.name},
                     {"pieces", film.pieces},
                     {"area", film.area},
                     {"needed", film.needed},
                     {"basis", shop::name_of(film.basis)},
                     {"length", film.length},
                     {"roll_width", film.roll_width},
                     {"in_stock", film.in_stock},
                     {"cuts", std::move(cuts)}});
  }
  return {
      {"films", std::move(films)},
      {"minutes",
       {{"expected", work.laying.expected}, {"low", work.laying.low}, {"high", work.laying.high}}},
      {"covered_area", work.covered_area},
      {"coated_area", work.coated_area},
      {"notes", work.notes}};
}

OrderedJson json_of(const shop::Price& price) {
  OrderedJson lines = OrderedJson::array();
  for (const shop::PriceLine& line : price.lines) {
    lines.push_back({{"kind", shop::name_of(line.kind)},
                     {"film", line.film},
                     {"name", line.name},
                     {"quantity", line.quantity},
                     {"measure", shop::name_of(line.measure)},
                     {"net", line.net.minor},
                     {"discount", line.discount.minor},
                     {"cost", line.cost.minor},
                     {"tax", line.tax.millionths}});
  }
  OrderedJson taxes = OrderedJson::array();
  for (const shop::TaxLine& tax : price.taxes) {
    taxes.push_back(
        {{"rate", tax.rate.millionths}, {"base", tax.base.minor}, {"tax", tax.tax.minor}});
  }
  return {{"lines", std::move(lines)},
          {"net", price.net.minor},
          {"discount", price.discount.minor},
          {"taxes", std::move(taxes)},
          {"total", price.total.minor},
          {"deposit", price.deposit.minor},
          {"cost", price.cost.minor},
          {"margin", price.margin.millionths},
          {"thin", price.thin}};
}

OrderedJson json_of(const shop::Alternative& offer) {
  OrderedJson scope = OrderedJson::array();
  for (const shop::ScopeItem& item : offer.scope) {
    scope.push_back({{"panel", item.panel}, {"film", item.film}});
  }
  return {{"name", offer.name},
          {"package", offer.package},
          {"look", offer.look},
          {"scope", std::move(scope)},
          {"coating", offer.coating},
          {"discount", offer.discount.share.millionths},
          {"discount_amount", offer.discount.amount.minor},
          {"work", json_of(offer.work)},
          {"price", json_of(offer.price)}};
}

std::string text_of(const OrderedJson& json) {
  return json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

}  // namespace

Result<shop::Quote> read_quote(std::string_view bytes) {
  try {
    const nlohmann::json document = detail::parsed_document(bytes, kMostBytes);
    shop::Quote quote = read(Place{document, ""});
    if (auto sound = shop::check(quote); !sound) return Failure(sound.error());
    return quote;
  } catch (const detail::Refusal& refusal) {
    return Failure(refusal.error);
  }
}

std::string write_quote(const shop::Quote& quote) {
  OrderedJson offers = OrderedJson::array();
  for (const shop::Alternative& offer : quote.offers) offers.push_back(json_of(offer));
  return text_of({{"id", quote.id},
                  {"version", quote.version},
                  {"state", shop::name_of(quote.state)},
                  {"revision", quote.revision},
                  {"title", quote.title},
                  {"customer", quote.customer},
                  {"vehicle", quote.vehicle},
                  {"vehicle_version", quote.vehicle_version},
                  {"note", quote.note},
                  {"language", shop::code_of(quote.language)},
                  {"currency", quote.currency},
                  {"price_list", quote.price_list},
                  {"created", quote.created},
                  {"sent", quote.sent},
                  {"valid_until", quote.valid_until},
                  {"decided", quote.decided},
                  {"decided_by", quote.decided_by},
                  {"job", quote.job},
                  {"chosen", quote.chosen},
                  {"offers", std::move(offers)}});
}

std::string write_work(const shop::WorkNeed& work) { return text_of(json_of(work)); }

std::string write_price(const shop::Price& price) { return text_of(json_of(price)); }

}  // namespace film::exchange
