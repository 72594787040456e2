// How long a piece that must be cut again waits for its film: the best place among 1,000 offcuts,
// and the whole recut in a book of that size. One JSON object a line, as in bench/figure.h.

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <vector>

#include "base/rng.h"
#include "base/text.h"
#include "figure.h"
#include "host/stop.h"
#include "store/store.h"
#include "workbench/find_film.h"
#include "workbench/keep_offcut.h"
#include "workbench/lay_out_job.h"
#include "workbench/open_job.h"
#include "workbench/read_stock.h"
#include "workbench/recut_piece.h"

namespace film::bench {
namespace {

constexpr std::size_t kOffcuts = 1000;
constexpr int kPieces = 40;

/// A rounded piece of 100 corners, about as long as `size`.
Polygon piece(Rng& rng, double size) {
  const double a = rng.uniform(0.7, 1.3);
  const double wave = rng.uniform(0, 0.15);
  Ring ring;
  for (int i = 0; i < 100; ++i) {
    const double t = 2 * std::numbers::pi * i / 100;
    const double r = size / 2 * (1 + wave * std::cos(3 * t));
    ring.push_back({a * r * std::cos(t), r * std::sin(t)});
  }
  return {std::move(ring), {}};
}

Polygon offcut_outline(Rng& rng) {
  const double l = rng.uniform(200, 1600);
  const double w = rng.uniform(200, 1400);
  const double cut = rng.uniform(0.2, 0.7) * std::min(l, w);
  return {{{0, 0}, {l, 0}, {l, w - cut}, {l - cut, w}, {0, w}}, {}};
}

std::string ms(double seconds) { return format("{:.1f} ms", 1000 * seconds); }

double median(std::vector<double> values) {
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                   values.end());
  return values[values.size() / 2];
}

void say_times(const char* figure, const std::vector<double>& seconds) {
  const double most = *std::max_element(seconds.begin(), seconds.end());
  say(figure, format("{} median, {} at most", ms(median(seconds)), ms(most)), "", "", std::nullopt);
}

void find_among_many() {
  Rng rng(11);
  std::vector<shop::Offcut> shelf;
  for (std::size_t i = 0; i < kOffcuts; ++i) {
    shelf.push_back(
        {format("O-{:04}", i), "clear", "L", offcut_outline(rng), "", "", "2031-05-04", ""});
  }
  const std::vector<shop::Roll> rolls{
      {"R-1", "clear", "L", Mm{1524}, Mm{15000}, Mm{15000}, "2031-05-04", ""}};
  std::vector<double> seconds;
  int on_offcut = 0;
  for (int i = 0; i < kPieces; ++i) {
    workbench::FilmSearch search;
    search.piece = {"piece", piece(rng, rng.uniform(150, 900)), 1, {Angle{0}}};
    search.film = "clear";
    search.gap = 5;
    search.margins = {10, 10, 5, 5};
    const host::Stopwatch watch;
    const auto places = workbench::places_for(search, shelf, rolls);
    seconds.push_back(watch.seconds());
    on_offcut += places && !places->empty() && places->front().offcut;
  }
  say_times("best place among 1,000 offcuts, pieces of 100 corners", seconds);
  say("of these pieces, cut from an offcut", format("{} of {}", on_offcut, kPieces), "", "",
      std::nullopt);
}

shop::Panel flat_panel() {
  shop::Panel panel;
  panel.id = panel.name = "side";
  panel.zone = "left";
  panel.side = shop::Side::left;
  panel.surface = {{{0, 500, 300}, {600, 500, 300}, {600, 500, 700}, {0, 500, 700}},
                   {{0, 3, 2}, {0, 2, 1}}};
  return panel;
}

std::string fill(workbench::Workbench& workbench) {
  Rng rng(12);
  (void)workbench.store().change([&](store::Book& book) -> Result<void> {
    shop::Settings settings;
    settings.name = "Bench";
    book.put(settings);
    shop::Film film;
    film.id = film.name = "clear";
    film.suits = {shop::Finish::gloss_paint};
    book.put(film);
    shop::KnifeProfile profile;
    profile.id = profile.settings.name = "plotter";
    book.put(profile);
    shop::Roll roll{"", "clear", "L", Mm{1524}, Mm{90000}, Mm{90000}, "2031-05-04", ""};
    if (auto in = book.receive(roll, "", ""); !in) return Failure(in.error());
    for (std::size_t i = 0; i < kOffcuts; ++i) {
      book.add({"", "clear", "L", offcut_outline(rng), "", "", "2031-05-04", ""}, "", "");
    }
    shop::VehicleModel vehicle;
    vehicle.id = vehicle.name = "box";
    vehicle.panels = {flat_panel()};
    return book.add(vehicle);
  });
  const auto job =
      workbench::open_job(workbench, {"Bench", "", "box", {{"side", "clear"}}}, "bench");
  workbench::LayoutOrder order;
  order.job = job->id;
  order.seconds = 1;
  (void)workbench::lay_out_job(workbench, order, {});
  return job->id;
}

void recut_in_a_book() {
  const auto folder = std::filesystem::temp_directory_path() / "filmwright-bench-stock";
  std::filesystem::remove_all(folder);
  {
    const auto workbench = workbench::open_workbench(folder);
    const std::string job = fill(**workbench);
    workbench::RecutOrder order;
    order.job = job;
    order.piece = workbench::lots_of_job(**workbench, job)->front().piece;
    std::vector<double> seconds;
    for (int i = 0; i < kPieces; ++i) {
      const host::Stopwatch watch;
      const auto done = workbench::recut_piece(**workbench, order);
      if (!done) break;
      seconds.push_back(watch.seconds());
    }
    say_times("a recut from the order to the booked film and its HP-GL, 1,000 offcuts in the book",
              seconds);
  }
  std::filesystem::remove_all(folder);
}

}  // namespace
}  // namespace film::bench

int main() {
  film::bench::find_among_many();
  film::bench::recut_in_a_book();
}
