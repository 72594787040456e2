#pragma once

#include <cmath>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "layout/solve.h"
#include "layout/stock.h"

/// Layout jobs as a shop has them, mm: the pieces of an invented vehicle under each of the rules
/// that film brings. tests/unit/layout/realities_test.cpp checks them, bench/picture_layouts.cpp
/// draws them.
namespace film::test {

/// A closed smooth line through the points (Catmull and Rom, a class of local interpolating
/// splines, 1974; from memory).
inline Ring smooth_ring(const std::vector<Vec2>& points, int steps = 4) {
  Ring ring;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 a = points[(i + n - 1) % n];
    const Vec2 b = points[i];
    const Vec2 c = points[(i + 1) % n];
    const Vec2 d = points[(i + 2) % n];
    for (int k = 0; k < steps; ++k) {
      const double t = static_cast<double>(k) / steps;
      ring.push_back(
          b +
          0.5 * t * ((c - a) + t * ((2 * a - 5 * b + 4 * c - d) + t * (3 * b - a - 3 * c + d))));
    }
  }
  return ring;
}

inline std::vector<Angle> along_the_grain() { return {Angle{0}, Angle::from_degrees(180)}; }

/// Sixteen pieces in three zones, grain along the roll.
inline std::vector<layout::Item> vehicle_pieces() {
  const Polygon hood{smooth_ring({{0, 120},
                                  {420, 60},
                                  {860, 0},
                                  {930, 350},
                                  {950, 660},
                                  {930, 970},
                                  {860, 1320},
                                  {420, 1260},
                                  {0, 1200},
                                  {-40, 660}}),
                     {}};
  const Polygon fender{smooth_ring({{0, 0},
                                    {180, 20},
                                    {240, 190},
                                    {420, 260},
                                    {600, 190},
                                    {660, 20},
                                    {820, 60},
                                    {860, 330},
                                    {640, 420},
                                    {260, 400},
                                    {40, 280}}),
                       {}};
  Polygon door{smooth_ring({{0, 0},
                            {500, -20},
                            {960, 0},
                            {1020, 260},
                            {960, 540},
                            {500, 560},
                            {40, 520},
                            {-20, 250}}),
               {}};
  door.holes = {{{780, 380}, {780, 430}, {930, 430}, {930, 380}}};  // the handle
  const Polygon bumper{smooth_ring({{0, 0},
                                    {300, 60},
                                    {680, 80},
                                    {1060, 60},
                                    {1360, 0},
                                    {1400, 220},
                                    {1100, 300},
                                    {680, 330},
                                    {260, 300},
                                    {-40, 220}}),
                       {}};
  const Polygon mirror{
      smooth_ring({{0, 20}, {130, 0}, {240, 60}, {250, 150}, {120, 190}, {10, 140}}), {}};
  const Polygon lamp{
      smooth_ring({{0, 0}, {180, 30}, {420, 130}, {460, 200}, {240, 190}, {60, 130}}), {}};
  const Polygon rocker{{{0, 0}, {1500, 0}, {1540, 60}, {1500, 140}, {60, 130}, {0, 70}}, {}};
  const auto item = [](std::string id, const Polygon& shape, std::string zone) {
    return layout::Item{std::move(id), shape, 1, along_the_grain(), std::move(zone)};
  };
  return {item("hood", hood, "front"),
          item("bumper", bumper, "front"),
          item("lamp left", lamp, "front"),
          item("lamp right", mirrored(lamp), "front"),
          item("fender left", fender, "left"),
          item("front door left", door, "left"),
          item("rear door left", door, "left"),
          item("mirror left", mirror, "left"),
          item("rocker left", rocker, "left"),
          item("quarter left", mirrored(fender), "left"),
          item("fender right", mirrored(fender), "right"),
          item("front door right", mirrored(door), "right"),
          item("rear door right", mirrored(door), "right"),
          item("mirror right", mirrored(mirror), "right"),
          item("rocker right", mirrored(rocker), "right"),
          item("quarter right", fender, "right")};
}

inline layout::Problem vehicle_problem(std::string name) {
  layout::Problem problem;
  problem.name = std::move(name);
  problem.units = "mm";
  problem.strip.width = 1524;
  problem.strip.gap = 5;
  problem.strip.margins = {5, 5, 5, 5};
  problem.items = vehicle_pieces();
  return problem;
}

/// Grain along the roll: no piece is turned but by half a turn.
inline layout::Problem grain_kept() { return vehicle_problem("grain"); }

/// The same pieces of film without grain: any turn.
inline layout::Problem grain_free() {
  layout::Problem problem = vehicle_problem("without grain");
  for (layout::Item& item : problem.items) item.turns.clear();
  return problem;
}

/// A scratch, a spot and a dented edge on the roll.
inline layout::Problem defects() {
  layout::Problem problem = vehicle_problem("defects");
  problem.strip.defects = {{{{700, 300}, {1500, 620}, {1495, 640}, {695, 320}}, {}},
                           {smooth_ring({{2300, 900}, {2400, 880}, {2430, 960}, {2330, 1010}}), {}},
                           {{{3000, 0}, {3300, 0}, {3200, 90}, {3060, 110}}, {}}};
  return problem;
}

/// Two doors that were laid by hand and stay where they are.
inline std::pair<layout::Problem, std::vector<layout::PlacedPiece>> locks() {
  layout::Problem problem = vehicle_problem("locks");
  return {problem, {{5, 0, {0, {300, 480}}}, {12, 0, {std::numbers::pi, {2600, 480}}}}};
}

/// Zones one after the other along the roll.
inline layout::Problem groups() {
  layout::Problem problem = vehicle_problem("groups");
  problem.grouping = layout::Grouping::in_turn;
  return problem;
}

struct StockReality {
  std::vector<layout::Demand> demands;
  std::vector<layout::Stock> stocks;
  layout::Terms terms;
};

inline layout::Stock roll_of(std::string id, std::string film, double width, double length,
                             double price = 1e-4) {
  layout::Stock stock{std::move(id), std::move(film), {}, false, price};
  stock.strip.width = width;
  stock.strip.gap = 5;
  stock.strip.margins = {5, 5, 5, 5};
  stock.strip.maximum_length = length;
  return stock;
}

inline std::vector<layout::Demand> demands_of(const std::string& zone, const std::string& film) {
  std::vector<layout::Demand> demands;
  for (const layout::Item& item : vehicle_pieces()) {
    if (zone.empty() || item.group == zone) demands.push_back({item, film});
  }
  return demands;
}

/// One side of the vehicle, and rolls of three widths with what is left on them.
inline StockReality three_widths() {
  return {demands_of("left", "clear"),
          {roll_of("24 in", "clear", 609.6, 15000), roll_of("36 in", "clear", 914.4, 15000),
           roll_of("60 in", "clear", 1524, 15000)},
          {}};
}

/// Two left-over pieces of film that are no rectangles, and a roll.
/// `worth`: share of its price at which an offcut is valued.
inline StockReality irregular_offcuts(double worth = 0) {
  const auto offcut = [](std::string id, const Polygon& outline) {
    return layout::Stock{std::move(id), "clear", layout::strip_of_offcut(outline, 5), true, 1e-4};
  };
  return {demands_of("left", "clear"),
          {roll_of("roll", "clear", 1524, 15000),
           offcut("where a hood was cut out",
                  {{{0, 0}, {1250, 0}, {1250, 620}, {1000, 600}, {760, 470}, {520, 600}, {0, 610}},
                   {}}),
           offcut("end of a roll, torn",
                  {smooth_ring(
                       {{0, 0}, {320, 20}, {610, 0}, {560, 240}, {620, 420}, {300, 380}, {0, 430}}),
                   {}})},
          {.offcut_worth = worth}};
}

/// Clear film for the front and left, black for the right, tint for the lamps.
inline StockReality several_films() {
  StockReality job;
  for (layout::Demand& demand : demands_of("", "clear")) {
    if (demand.item.group == "right") demand.film = "black";
    if (demand.item.id.starts_with("lamp")) demand.film = "lamp tint";
    job.demands.push_back(std::move(demand));
  }
  job.stocks = {roll_of("C-1", "clear", 1524, 15000), roll_of("B-1", "black", 1524, 9000, 8e-5),
                roll_of("T-1", "lamp tint", 305, 5000, 2e-4)};
  return job;
}

}  // namespace film::test
