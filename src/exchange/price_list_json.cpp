#include "exchange/price_list_json.h"

#include "exchange/detail/offer_json.h"
#include "shop/names.h"

namespace film::exchange {
namespace {

using detail::only;
using detail::OrderedJson;
using detail::Place;
using detail::read_if;

constexpr std::size_t kMostBytes = std::size_t{1} << 20;
constexpr std::size_t kMostEntries = 1000;

std::size_t bounded_size(const Place& place) {
  const std::size_t size = place.size();
  if (size > kMostEntries) detail::refuse("the list is too long", place.path);
  return size;
}

shop::Finish finish_of(const Place& place) {
  const auto finish = shop::parse<shop::Finish>(place.text());
  if (!finish) detail::refuse(format("\"{}\" is no finish", place.text()), place.path);
  return *finish;
}

std::vector<std::string> texts_if(const Place& place, const char* key) {
  std::vector<std::string> texts;
  const auto found = place.find(key);
  for (std::size_t i = 0; found && i < bounded_size(*found); ++i) {
    texts.push_back(found->item(i).text());
  }
  return texts;
}

std::vector<shop::PanelChoice> choices_if(const Place& place, const char* key) {
  std::vector<shop::PanelChoice> choices;
  const auto found = place.find(key);
  for (std::size_t i = 0; found && i < bounded_size(*found); ++i) {
    const Place item = found->item(i);
    only(item, {"zones", "finishes", "panels"});
    shop::PanelChoice choice{texts_if(item, "zones"), {}, texts_if(item, "panels")};
    const auto finishes = item.find("finishes");
    for (std::size_t k = 0; finishes && k < bounded_size(*finishes); ++k) {
      choice.finishes.push_back(finish_of(finishes->item(k)));
    }
    choices.push_back(std::move(choice));
  }
  return choices;
}

shop::Package read_package(const Place& place) {
  only(place, {"id", "name", "covers", "spares"});
  return {place.at("id").text(), place.at("name").text(), choices_if(place, "covers"),
          choices_if(place, "spares")};
}

shop::Look read_look(const Place& place) {
  only(place, {"id", "name", "rules"});
  shop::Look look{place.at("id").text(), place.at("name").text(), {}};
  const Place rules = place.at("rules");
  for (std::size_t i = 0; i < bounded_size(rules); ++i) {
    const Place item = rules.item(i);
    only(item, {"finish", "on_sensor", "panels", "film", "reason"});
    shop::FilmRule rule;
    rule.finish = finish_of(item.at("finish"));
    read_if(item, "on_sensor", rule.on_sensor);
    rule.panels = texts_if(item, "panels");
    read_if(item, "film", rule.film);
    rule.reason = item.at("reason").text();
    look.rules.push_back(std::move(rule));
  }
  return look;
}

void read_hours(const Place& place, hours::Belief& belief) {
  only(place, {"minutes", "doubt", "noise", "noise_worth", "pace"});
  if (const auto minutes = place.find("minutes")) {
    if (!minutes->value.is_object()) detail::refuse("an object was expected", minutes->path);
    for (const auto& [name, value] : minutes->value.items()) {
      const auto term = hours::term_of(name);
      if (!term) detail::refuse(format("\"{}\" is no term of the work", name), minutes->path);
      belief.minutes[static_cast<std::size_t>(*term)] =
          Place{value, minutes->path + "." + name}.number();
    }
  }
  read_if(place, "doubt", belief.doubt);
  read_if(place, "noise", belief.noise);
  read_if(place, "noise_worth", belief.noise_worth);
  read_if(place, "pace", belief.pace);
}

shop::PriceList read(const Place& place) {
  only(place, {"revision",
               "made",
               "who",
               "films",
               "other_film",
               "film_markup",
               "usual_waste",
               "hour",
               "hour_cost",
               "hours",
               "preparation_vehicle",
               "preparation_metre",
               "coating_metre",
               "coating_material",
               "consumables_vehicle",
               "consumables_metre",
               "material_markup",
               "tax",
               "deposit",
               "least_margin",
               "valid_days",
               "promise_chance",
               "packages",
               "looks"});
  shop::PriceList list;
  read_if(place, "revision", list.revision);
  read_if(place, "made", list.made);
  read_if(place, "who", list.who);
  const auto films = place.find("films");
  for (std::size_t i = 0; films && i < bounded_size(*films); ++i) {
    const Place item = films->item(i);
    only(item, {"film", "square_metre"});
    list.films.push_back({item.at("film").text(), Money{detail::bounded(item.at("square_metre"))}});
  }
  read_if(place, "other_film", list.other_film);
  read_if(place, "film_markup", list.film_markup);
  read_if(place, "usual_waste", list.usual_waste);
  read_if(place, "hour", list.hour);
  read_if(place, "hour_cost", list.hour_cost);
  if (const auto hours = place.find("hours")) read_hours(*hours, list.hours);
  read_if(place, "preparation_vehicle", list.preparation_vehicle);
  read_if(place, "preparation_metre", list.preparation_metre);
  read_if(place, "coating_metre", list.coating_metre);
  read_if(place, "coating_material", list.coating_material);
  read_if(place, "consumables_vehicle", list.consumables_vehicle);
  read_if(place, "consumables_metre", list.consumables_metre);
  read_if(place, "material_markup", list.material_markup);
  read_if(place, "tax", list.tax);
  read_if(place, "deposit", list.deposit);
  read_if(place, "least_margin", list.least_margin);
  read_if(place, "valid_days", list.valid_days);
  read_if(place, "promise_chance", list.promise_chance);
  const auto packages = place.find("packages");
  for (std::size_t i = 0; packages && i < bounded_size(*packages); ++i) {
    list.packages.push_back(read_package(packages->item(i)));
  }
  const auto looks = place.find("looks");
  for (std::size_t i = 0; looks && i < bounded_size(*looks); ++i) {
    list.looks.push_back(read_look(looks->item(i)));
  }
  return list;
}

OrderedJson json_of(const std::vector<shop::PanelChoice>& choices) {
  OrderedJson all = OrderedJson::array();
  for (const shop::PanelChoice& choice : choices) {
    OrderedJson finishes = OrderedJson::array();
    for (const shop::Finish finish : choice.finishes) finishes.push_back(shop::name_of(finish));
    all.push_back({{"zones", choice.zones}, {"finishes", finishes}, {"panels", choice.panels}});
  }
  return all;
}

OrderedJson json_of(const shop::Look& look) {
  OrderedJson rules = OrderedJson::array();
  for (const shop::FilmRule& rule : look.rules) {
    rules.push_back({{"finish", shop::name_of(rule.finish)},
                     {"on_sensor", rule.on_sensor},
                     {"panels", rule.panels},
                     {"film", rule.film},
                     {"reason", rule.reason}});
  }
  return {{"id", look.id}, {"name", look.name}, {"rules", std::move(rules)}};
}

OrderedJson json_of(const hours::Belief& belief) {
  OrderedJson minutes = OrderedJson::object();
  for (std::size_t k = 0; k < hours::kTerms; ++k) {
    minutes[std::string(hours::name_of(static_cast<hours::Term>(k)))] = belief.minutes[k];
  }
  return {{"minutes", std::move(minutes)},
          {"doubt", belief.doubt},
          {"noise", belief.noise},
          {"noise_worth", belief.noise_worth},
          {"pace", belief.pace}};
}

}  // namespace

Result<shop::PriceList> read_price_list(std::string_view bytes) {
  try {
    const nlohmann::json document = detail::parsed_document(bytes, kMostBytes);
    shop::PriceList list = read(Place{document, ""});
    if (auto sound = shop::check(list); !sound) return Failure(sound.error());
    return list;
  } catch (const detail::Refusal& refusal) {
    return Failure(refusal.error);
  }
}

std::string write_price_list(const shop::PriceList& list) {
  OrderedJson films = OrderedJson::array();
  for (const shop::FilmPrice& film : list.films) {
    films.push_back({{"film", film.film}, {"square_metre", film.square_metre.minor}});
  }
  OrderedJson packages = OrderedJson::array();
  for (const shop::Package& package : list.packages) {
    packages.push_back({{"id", package.id},
                        {"name", package.name},
                        {"covers", json_of(package.covers)},
                        {"spares", json_of(package.spares)}});
  }
  OrderedJson looks = OrderedJson::array();
  for (const shop::Look& look : list.looks) looks.push_back(json_of(look));
  const OrderedJson all{{"revision", list.revision},
                        {"made", list.made},
                        {"who", list.who},
                        {"films", std::move(films)},
                        {"other_film", list.other_film.minor},
                        {"film_markup", list.film_markup.millionths},
                        {"usual_waste", list.usual_waste.millionths},
                        {"hour", list.hour.minor},
                        {"hour_cost", list.hour_cost.minor},
                        {"hours", json_of(list.hours)},
                        {"preparation_vehicle", list.preparation_vehicle},
                        {"preparation_metre", list.preparation_metre},
                        {"coating_metre", list.coating_metre},
                        {"coating_material", list.coating_material.minor},
                        {"consumables_vehicle", list.consumables_vehicle.minor},
                        {"consumables_metre", list.consumables_metre.minor},
                        {"material_markup", list.material_markup.millionths},
                        {"tax", list.tax.millionths},
                        {"deposit", list.deposit.millionths},
                        {"least_margin", list.least_margin.millionths},
                        {"valid_days", list.valid_days},
                        {"promise_chance", list.promise_chance.millionths},
                        {"packages", std::move(packages)},
                        {"looks", std::move(looks)}};
  return all.dump(-1, ' ', false, OrderedJson::error_handler_t::replace);
}

}  // namespace film::exchange
