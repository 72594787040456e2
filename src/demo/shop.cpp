#include "demo/shop.h"

#include <array>

namespace film::demo {
namespace {

using shop::Film;
using shop::FilmUse;
using shop::Finish;
using shop::Gloss;
using shop::Roll;

constexpr const char* kClear = "dandelion-clear";
constexpr const char* kMatte = "dandelion-mist";
constexpr const char* kTrim = "inkwell-trim";
constexpr const char* kLamp = "moonbeam-clear";
constexpr const char* kGlass = "owlet-35";

Film film(const char* id, const char* name, FilmUse use, Gloss gloss, const char* colour,
          double thickness_um, std::vector<Finish> suits) {
  Film film;
  film.id = id;
  film.name = name;
  film.use = use;
  film.gloss = gloss;
  film.colour = colour;
  film.thickness_um = thickness_um;
  film.behaviour.name = name;
  film.suits = std::move(suits);
  return film;
}

std::vector<Film> make_films() {
  Film clear = film(kClear, "Dandelion Clear", FilmUse::paint, Gloss::gloss, "#f4f7f6", 190,
                    {Finish::gloss_paint, Finish::gloss_black});
  Film matte = film(kMatte, "Dandelion Mist", FilmUse::paint, Gloss::matte, "#e9ecec", 200,
                    {Finish::gloss_paint, Finish::matte_paint});
  Film trim = film(kTrim, "Inkwell Trim", FilmUse::trim, Gloss::gloss, "#101214", 150,
                   {Finish::gloss_black, Finish::bare_plastic, Finish::chrome});
  Film lamp = film(kLamp, "Moonbeam Clear", FilmUse::lamp, Gloss::gloss, "#eef4f8", 160,
                   {Finish::lamp, Finish::reflector});
  Film glass =
      film(kGlass, "Owlet 35", FilmUse::glass, Gloss::gloss, "#3a4347", 50, {Finish::glass});
  // Stiffer and less stretchable than paint film (invented figures; film for glass is polyester,
  // which hardly stretches when cold).
  glass.behaviour.elastic_limit = 0.01;
  glass.behaviour.tension_limit_along = glass.behaviour.tension_limit_across = 0.02;
  glass.behaviour.mark_limit = 0.03;
  const auto shade = [&glass](const char* id, const char* name, const char* colour) {
    Film other = glass;
    other.id = id;
    other.name = other.behaviour.name = name;
    other.colour = colour;
    return other;
  };
  return {clear,
          matte,
          trim,
          lamp,
          glass,
          shade("owlet-20", "Owlet 20", "#23292c"),
          shade("owlet-50", "Owlet 50", "#566063"),
          shade("owlet-clear", "Owlet Clear", "#dfe8ea")};
}

Roll roll(const char* id, const char* film, const char* lot, double inches, double metres,
          double left, const char* received, const char* place) {
  return {id,       film, lot, Mm::from_inches(inches), Mm{1000 * metres}, Mm{1000 * left},
          received, place};
}

/// A rectangle, with a corner cut off where `corner` is more than nothing.
shop::Offcut offcut(const char* film, const char* lot, double length, double width, double corner,
                    const char* from, const char* place) {
  Ring outer{{0, 0}, {length, 0}, {length, width}, {0, width}};
  if (corner > 0) {
    outer = {{0, 0}, {length, 0}, {length, width - corner}, {length - corner, width}, {0, width}};
  }
  return {"", film, lot, {std::move(outer), {}}, from, "", "2031-04-15", place};
}

std::vector<shop::Offcut> make_offcuts() {
  return {offcut(kClear, "DC-0398", 1180, 640, 210, "R-0002", "Shelf 1"),
          offcut(kClear, "DC-0417", 760, 420, 0, "R-0001", "Shelf 1"),
          offcut(kClear, "DC-0417", 520, 330, 90, "R-0001", "Shelf 1"),
          offcut(kMatte, "DM-0112", 940, 560, 0, "R-0004", "Shelf 2"),
          offcut(kTrim, "IT-0031", 610, 300, 0, "R-0005", "Shelf 2")};
}

shop::Supply supply(const char* film, double inches, double least_metres, double roll_metres) {
  shop::Supply s;
  s.film = film;
  s.width = Mm::from_inches(inches);
  s.minimum = Mm{1000 * least_metres};
  s.roll_length = Mm{1000 * roll_metres};
  s.areal_gsm = 290;
  s.wound_um = 260;
  s.core_g = 950;
  s.core_diameter = 88;
  return s;
}

std::vector<shop::Supply> make_supplies() {
  return {supply(kClear, 60, 20, 15), supply(kClear, 24, 5, 15), supply(kMatte, 60, 10, 15),
          supply(kTrim, 24, 10, 15),  supply(kLamp, 24, 4, 10),  supply(kGlass, 60, 10, 30)};
}

std::vector<Roll> make_rolls() {
  return {roll("R-0001", kClear, "DC-0417", 60, 30, 27.4, "2031-04-02", "Rack A, upper"),
          roll("R-0002", kClear, "DC-0398", 60, 15, 3.85, "2031-01-20", "Rack A, lower"),
          roll("R-0003", kClear, "DC-0417", 24, 15, 15, "2031-04-02", "Rack A, lower"),
          roll("R-0004", kMatte, "DM-0112", 60, 15, 12.6, "2031-02-11", "Rack B"),
          roll("R-0005", kTrim, "IT-0031", 24, 15, 9.3, "2030-11-27", "Rack B"),
          roll("R-0006", kLamp, "MB-0207", 24, 10, 8.15, "2031-03-09", "Rack C"),
          roll("R-0007", kGlass, "OW-1188", 60, 30, 22.7, "2031-03-30", "Rack C"),
          roll("R-0008", "owlet-20", "OW-2043", 60, 30, 18.2, "2031-02-17", "Rack C"),
          roll("R-0009", "owlet-50", "OW-5012", 60, 30, 26.4, "2031-04-11", "Rack C"),
          roll("R-0010", "owlet-clear", "OW-0007", 60, 15, 11.5, "2031-04-11", "Rack C")};
}

/// Prices are invented; packages and looks are the usual ones, with the lighter shade on glass.
shop::PriceList make_prices(const std::vector<Film>& films) {
  shop::PriceList prices;
  prices.films = {{kClear, Money{46'00}},     {kMatte, Money{54'00}},
                  {kTrim, Money{24'00}},      {kLamp, Money{52'00}},
                  {kGlass, Money{21'00}},     {"owlet-20", Money{21'00}},
                  {"owlet-50", Money{21'00}}, {"owlet-clear", Money{38'00}}};
  prices.packages = shop::usual_packages();
  prices.looks = shop::usual_looks(films);
  for (shop::Look& look : prices.looks) {
    for (shop::FilmRule& rule : look.rules) {
      if (rule.finish == Finish::glass && !rule.film.empty()) rule.film = kGlass;
    }
  }
  return prices;
}

const char* film_for(const shop::Panel& panel) {
  switch (panel.finish) {
    case Finish::gloss_paint:
    case Finish::gloss_black: return kClear;
    case Finish::matte_paint: return kMatte;
    case Finish::bare_plastic:
    case Finish::chrome: return kTrim;
    case Finish::lamp: return kLamp;
    case Finish::reflector: return nullptr;  // required reflectors stay bare
    case Finish::glass:
      // Windscreen and front side windows: road visibility, left to local code and the customer.
      return panel.id == "windscreen" || panel.id.starts_with("door_glass_front") ? nullptr
                                                                                  : kGlass;
    case Finish::rubber: return nullptr;
  }
  return nullptr;
}

}  // namespace

Shop make_shop() {
  Shop shop;
  shop.settings.name = "Thimble & Gull Film Works";
  shop.settings.demo = true;
  shop.films = make_films();
  shop.rolls = make_rolls();
  shop.offcuts = make_offcuts();
  shop.supplies = make_supplies();
  shop::KnifeProfile wide{"wide-plotter", {}};
  wide.settings.name = "Wide plotter, drag knife";
  wide.settings.media_width = Mm::from_inches(60);
  shop.profiles = {wide};
  const std::pair<const char*, shop::Role> people[] = {{"Barnaby Quill", shop::Role::lead},
                                                       {"Ida Fernwhistle", shop::Role::cutter},
                                                       {"Osric Pebblewick", shop::Role::installer},
                                                       {"Tansy Loom", shop::Role::desk},
                                                       {"Wilf Dabblewort", shop::Role::reader}};
  for (const auto& [name, role] : people) {
    shop::Person person;
    person.name = name;
    person.sign_in = shop::name_of(role);
    person.role = role;
    shop.people.push_back(person);
  }
  shop.prices = make_prices(shop.films);
  return shop;
}

shop::Job make_job(const shop::VehicleModel& vehicle) {
  shop::Job job;
  job.id = "J-0001";
  job.title = "Whole car in clear film";
  job.customer = "Ottoline Brambleby";
  job.vehicle = vehicle.id;
  job.vehicle_version = vehicle.version;
  job.created = "2031-05-05T08:10:00Z";
  for (const shop::Panel& panel : vehicle.panels) {
    if (const char* film = film_for(panel)) job.scope.push_back({panel.id, film});
  }
  return job;
}

}  // namespace film::demo
