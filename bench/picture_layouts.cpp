// Draws what film asks of a layout, one picture (SVG) for each rule, on the pieces of an invented
// vehicle (tests/support/film_realities.h), and a whole body on one roll.
//
// bench_picture_layouts FOLDER [SECONDS]   SECONDS for the whole body, default 60
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"
#include "demo_body.h"
#include "formats/svg.h"
#include "geometry/box.h"
#include "host/files.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "support/film_realities.h"

namespace {

using namespace film;
using namespace film::layout;
using formats::Colour;
using formats::Layer;

constexpr double kScale = 0.1;  // of the picture
constexpr double kBetween = 16;
constexpr double kSeconds = 5;
constexpr Colour kInk{32, 37, 40};
constexpr Colour kPaper{252, 252, 250};

/// One picture: strips below each other, each with a line of words.
class Picture {
 public:
  explicit Picture(std::string title) : title_(std::move(title)) {}

  void add(const std::string& words, const Problem& problem, const Solution& solution,
           const std::vector<PlacedPiece>& locked = {}) {
    const double across = problem.strip.width * kScale;
    const double along = std::max(solution.length, 1.0) * kScale;
    const double low = -(down_ + across);
    const auto place = [&](Vec2 p) { return Vec2{p.x * kScale, low + p.y * kScale}; };
    const auto placed = [&](Polygon shape) {
      for (Vec2& p : shape.outer) p = place(p);
      for (Ring& hole : shape.holes) {
        for (Vec2& p : hole) p = place(p);
      }
      return shape;
    };
    film_.regions.push_back(placed({{{0, 0},
                                     {solution.length, 0},
                                     {solution.length, problem.strip.width},
                                     {0, problem.strip.width}},
                                    {}}));
    for (const Polygon& defect : problem.strip.defects) {
      if (bounding_box(defect).low.x < solution.length) defects_.regions.push_back(placed(defect));
    }
    for (const PlacedPiece& piece : solution.placements) {
      const Polygon shape = placed(outline_of(problem, piece));
      const Box box = bounding_box(shape);
      bool stays = false;
      for (const PlacedPiece& p : locked) stays = stays || p == piece;
      const Item& item = problem.items[piece.item];
      (stays ? locked_ : of_group(item.group)).regions.push_back(shape);
      const double turn = piece.placement.turn;
      const Vec2 way{std::cos(turn), std::sin(turn)};
      const double reach = 0.18 * std::min(box.width(), box.height());
      if (reach < 1.5) continue;
      const Vec2 c = box.centre();
      grain_.lines.push_back({c - reach * way, c + reach * way});
      const Vec2 side = 0.3 * reach * left_of(way);
      grain_.lines.push_back(
          {c + 0.6 * reach * way + side, c + reach * way, c + 0.6 * reach * way - side});
    }
    words_.writings.push_back({words, {std::max(along, 200.0) / 2, low - 5}, Mm{4}, Angle{0}});
    wide_ = std::max({wide_, along, 200.0});
    down_ += across + kBetween;
  }

  [[nodiscard]] std::string svg() && {
    formats::Drawing drawing{title_, {film_}, Box{{-4, -down_}, {wide_ + 4, 4}}};
    for (auto& [group, layer] : groups_) drawing.layers.push_back(std::move(layer));
    for (Layer* layer : {&locked_, &defects_, &grain_, &words_}) {
      drawing.layers.push_back(std::move(*layer));
    }
    return formats::write_svg(drawing);
  }

 private:
  static Layer layer(const char* name, std::optional<Colour> stroke, std::optional<Colour> fill,
                     double width) {
    Layer made;
    made.name = name;
    made.style = {stroke, fill, Mm{width}, Mm{0}};
    return made;
  }

  Layer& of_group(const std::string& group) {
    constexpr Colour kFills[] = {
        {198, 214, 226}, {222, 208, 186}, {202, 219, 196}, {220, 200, 214}, {212, 212, 206}};
    auto found = groups_.find(group);
    if (found == groups_.end()) {
      const Colour fill = kFills[groups_.size() % std::size(kFills)];
      const std::string name = "zone_" + group;
      found = groups_.emplace(group, layer(name.c_str(), kInk, fill, 0.2)).first;
    }
    return found->second;
  }

  std::string title_;
  Layer film_ = layer("film", Colour{120, 128, 132}, kPaper, 0.3);
  std::map<std::string, Layer> groups_;
  Layer locked_ = layer("locked", kInk, Colour{150, 160, 168}, 0.6);
  Layer defects_ = layer("defects", Colour{170, 60, 40}, Colour{236, 196, 184}, 0.2);
  Layer grain_ = layer("grain", kInk, {}, 0.15);
  Layer words_ = layer("words", kInk, {}, 0.2);
  double down_ = 0;
  double wide_ = 0;
};

Solution laid(const Problem& problem, double seconds, const std::vector<PlacedPiece>& locked = {}) {
  const host::Stopwatch watch;
  host::ThreadExecutor executor(2);
  const Context context(host::stop_after(seconds), {}, &executor);
  SolveOptions options;
  options.locked = locked;
  options.share_spent = [&] { return watch.seconds() / seconds; };
  const auto solution = solve(problem, options, context);
  return solution ? *solution : Solution{};
}

std::string used(const Solution& s) {
  return format("{:.2f} m, {:.1f} % used", s.length / 1000, 100 * s.density);
}

/// One strip for each roll or offcut used; `alone` tells the cost of each roll by itself.
Picture allotted(const std::string& title, const test::StockReality& job, bool alone) {
  Picture picture(title);
  const auto add = [&](const test::StockReality& some, const std::string& before) {
    const auto allotment = allot(some.demands, some.stocks, some.terms, {}, {});
    if (!allotment) return;
    for (const Portion& portion : allotment->portions) {
      const Stock& stock = some.stocks[portion.stock];
      picture.add(format("{}{}{}: {}, costs {:.0f}", before, stock.offcut ? "offcut, " : "",
                         stock.id, used(portion.solution), portion.cost),
                  portion.problem, portion.solution);
    }
  };
  if (!alone) add(job, "");
  for (std::size_t i = 0; alone && i < job.stocks.size(); ++i) {
    test::StockReality one = job;
    one.stocks = {job.stocks[i]};
    add(one, "roll of ");
  }
  return picture;
}

void draw_all(const std::string& folder, double seconds) {
  const auto write = [&](const char* name, Picture picture) {
    const auto written =
        host::write_file(format("{}/layout-{}.svg", folder, name), std::move(picture).svg());
    if (!written) std::fprintf(stderr, "%s\n", written.error().message().c_str());
  };
  Picture grain("Grain");
  for (const auto& [words, problem] : {std::pair{"grain along the roll", test::grain_kept()},
                                       {"without grain", test::grain_free()}}) {
    const Solution solution = laid(problem, kSeconds);
    grain.add(format("{}: {}", words, used(solution)), problem, solution);
  }
  write("grain", std::move(grain));

  Picture defects("Defects");
  const Problem spoiled = test::defects();
  const Solution round_them = laid(spoiled, kSeconds);
  defects.add(format("a scratch, a spot, a dented edge: {}", used(round_them)), spoiled,
              round_them);
  write("defects", std::move(defects));

  write("widths", allotted("Three widths", test::three_widths(), true));
  write("offcuts", allotted("Irregular offcuts", test::irregular_offcuts(), false));

  Picture locks("Locks");
  const auto [problem, locked] = test::locks();
  const Solution round = laid(problem, kSeconds, locked);
  locks.add(format("two doors locked (dark): {}", used(round)), problem, round, locked);
  write("locks", std::move(locks));

  Picture groups("Groups");
  const Problem in_turn = test::groups();
  const Solution zones = laid(in_turn, kSeconds);
  groups.add(format("front, left, right in turn: {}", used(zones)), in_turn, zones);
  write("groups", std::move(groups));

  write("films", allotted("Several films", test::several_films(), false));

  if (const auto whole = bench::demo_body()) {
    Picture body("A whole body");
    const Solution solution = laid(*whole, seconds);
    body.add(format("{} pieces at 60 in after {:g} s: {}; area / width {:.2f} m",
                    solution.placements.size(), seconds, used(solution),
                    area_of(*whole) / whole->strip.width / 1000),
             *whole, solution);
    write("body", std::move(body));
  }
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 2) {
    std::fputs("bench_picture_layouts FOLDER [SECONDS]\n", stderr);
    return 2;
  }
  draw_all(arguments[1], count > 2 ? std::atof(arguments[2]) : 60);
  return 0;
}
