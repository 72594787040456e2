#include "surface/seam.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <optional>
#include <utility>

#include "base/text.h"
#include "surface/detail/concentration.h"
#include "surface/detail/cut.h"
#include "surface/detail/energy.h"
#include "surface/detail/geodesic.h"
#include "surface/detail/resettle.h"
#include "surface/strain.h"
#include "surface/visibility.h"

namespace film::surface {
namespace {

using detail::PathGraph;
using detail::SurfacePath;

constexpr double kLeastPart = 0.1;  ///< of the width, for the smaller part
constexpr std::size_t kPeaks = 2;
constexpr std::size_t kTrials = 6;
constexpr double kTolerance = 1e-4;
constexpr std::size_t kSteps = 25;
/// The ends of a seam lie at least this share of the edge apart, or it cuts off a mere corner.
constexpr double kLeastShare = 0.15;

/// A piece in the making.
struct Work {
  TriMesh surface;
  std::vector<Vec2> flat;        // laid on its own
  std::vector<Vec2> first_flat;  // where each vertex lies on the piece without seams
  std::vector<double> visibility;
  SeamPart judged;
};

class SeamFinder {
 public:
  SeamFinder(const FilmProperties& film, const SeamOptions& options, const Context& context)
      : film_(film), energy_(film), options_(options), context_(context) {}

  Result<SeamPlan> run(Work whole) {
    judge(whole, 0);
    std::vector<Work> waiting{std::move(whole)};
    SeamPlan plan;
    while (!waiting.empty()) {
      Work work = std::move(waiting.back());
      waiting.pop_back();
      if (context_.stopped()) return fail(ErrorCode::cancelled, "stopped while setting seams");
      if (does(work.judged) || plan.seams.size() >= options_.greatest_seams) {
        plan.covered = plan.covered && does(work.judged);
        plan.parts.push_back(std::move(work.judged));
        continue;
      }
      auto divided = work.judged.reach.fits ? divide_for_limits(work) : divide_for_roll(work);
      if (!divided) return Failure(divided.error());
      if (!*divided) {
        plan.covered = false;
        plan.parts.push_back(std::move(work.judged));
        continue;
      }
      (*divided)->seam.words = words_of((*divided)->seam, plan.seams.size() + 1);
      plan.seams.push_back(std::move((*divided)->seam));
      for (Work& part : (*divided)->parts) waiting.push_back(std::move(part));
    }
    plan.words = words_of(plan);
    return plan;
  }

 private:
  struct Divided {
    Seam seam;
    std::vector<Work> parts;
  };

  [[nodiscard]] bool does(const SeamPart& part) const {
    return part.reach.fits && part.over_share <= options_.greatest_over_share;
  }

  /// `overlap` more width is needed at seams.
  void judge(Work& work, double overlap) const {
    const StrainReport strain = report_strain(work.surface, work.flat, film_);
    ReachOptions reach_options = options_.reach;
    reach_options.margin = reach_options.margin + Mm{overlap / 2};
    work.judged.area = strain.area;
    work.judged.reach = reach(work.flat, film_, reach_options);
    work.judged.over_share = std::max(strain.over_area, strain.mark_area) / strain.area;
    work.judged.peak_stretch = strain.peak_stretch;
    work.judged.least_stretch = strain.least_stretch;
  }

  /// The parts beside a line, each settled on its own; nothing when it does not part the piece.
  Result<std::optional<Divided>> divide(const Work& work, const SurfacePath& path) const {
    Divided divided;
    for (const auto& p : path) {
      divided.seam.on_panel.push_back(p.at(std::span<const Vec3>(work.surface.points)));
      divided.seam.on_film.push_back(p.at(std::span<const Vec2>(work.first_flat)));
    }
    divided.seam.length = Mm{detail::length_of(work.surface, path)};
    divided.seam.visibility =
        detail::cost_of(work.surface, work.visibility, path) / divided.seam.length.value;
    const auto cut = detail::cut_open(work.surface, path);
    const auto settled = detail::resettle(cut, work.flat, energy_, kTolerance, kSteps, context_);
    if (!settled) return Failure(settled.error());
    const auto first_flat = carried(cut, std::span<const Vec2>(work.first_flat));
    const auto visibility = carried(cut, std::span<const double>(work.visibility));
    for (detail::Part& part : detail::parts_of(cut.mesh)) {
      Work made{std::move(part.mesh), {}, {}, {}, {}};
      for (const VertexIndex v : part.whole) {
        made.flat.push_back(settled->flat[v]);
        made.first_flat.push_back(first_flat[v]);
        made.visibility.push_back(visibility[v]);
      }
      judge(made, options_.overlap.value);
      divided.parts.push_back(std::move(made));
    }
    if (divided.parts.size() < 2) return std::optional<Divided>();
    return std::optional(std::move(divided));
  }

  Result<std::optional<Divided>> divide_for_roll(const Work& work) const {
    // Across the roll in the turn in which the piece is narrowest.
    const double turn = work.judged.reach.turn.radians;
    const Vec2 across{std::sin(turn), std::cos(turn)};
    std::vector<double> y;
    for (const Vec2 p : work.flat) y.push_back(dot(across, p));
    const auto [low, high] = std::minmax_element(y.begin(), y.end());
    const double width = *high - *low;
    const double usable =
        options_.reach.roll_width.value - 2 * options_.reach.margin.value - options_.overlap.value;
    if (!(usable > 0)) return std::optional<Divided>();
    const double stretched = usable * (1 + film_.tension_limit_across);
    const auto least = static_cast<std::size_t>(std::ceil(width / stretched));
    const auto unstretched = static_cast<std::size_t>(std::ceil(width / usable));
    // Without stretch where that takes no more parts; a thin strip may hold no line of the mesh.
    std::vector<std::pair<std::size_t, double>> ways{{least, stretched}, {least + 1, usable}};
    if (unstretched == least) ways.insert(ways.begin(), {least, usable});
    const PathGraph graph(work.surface, work.visibility);
    for (const auto& [count, part] : ways) {
      const double rest = static_cast<double>(count - 1) * part;
      const double from = *low + std::max(width - rest, kLeastPart * width);
      const double to = *low + std::min(part, (1 - kLeastPart) * width);
      const auto path = line_in_strip(work, graph, y, from, to);
      if (path.size() >= 2) return divide(work, path);
    }
    return std::optional<Divided>();
  }

  /// The cheapest line through the strip from <= y <= to, between two places where the edge
  /// crosses it in opposite directions.
  static SurfacePath line_in_strip(const Work& work, const PathGraph& graph,
                                   std::span<const double> y, double from, double to) {
    std::vector<PathGraph::Node> rising;
    std::vector<PathGraph::Node> falling;
    const auto loop = boundary_loops(work.surface)[0];
    const auto side = [&](std::size_t i) {
      const double at = y[loop[i % loop.size()]];
      return at < from ? -1 : at > to ? 1 : 0;
    };
    const auto start = static_cast<std::size_t>(
        std::find_if(loop.begin(), loop.end(), [&](VertexIndex v) { return y[v] < from; }) -
        loop.begin());
    int before = -1;
    std::vector<PathGraph::Node> run;
    for (std::size_t i = start; i <= start + loop.size(); ++i) {
      if (side(i) == 0) {
        run.push_back(loop[i % loop.size()]);
        continue;
      }
      auto& kind = side(i) > before ? rising : falling;
      if (side(i) != before) kind.insert(kind.end(), run.begin(), run.end());
      before = side(i);
      run.clear();
    }
    const auto reached = graph.from(rising, [&](PathGraph::Node node) {
      const double at = graph.point(node).at(y);
      return from <= at && at <= to;
    });
    PathGraph::Node best = PathGraph::kNone;
    for (const PathGraph::Node node : falling) {
      if (std::isfinite(reached.cost[node]) &&
          (best == PathGraph::kNone || reached.cost[node] < reached.cost[best])) {
        best = node;
      }
    }
    return best == PathGraph::kNone ? SurfacePath() : graph.line(reached, best);
  }

  /// Lines through the curvature peaks; of those tried the one that leaves the least area past the
  /// limits, if it betters the piece.
  Result<std::optional<Divided>> divide_for_limits(const Work& work) const {
    const PathGraph graph(work.surface, work.visibility);
    std::optional<Divided> best;
    double best_over = 0.8 * work.judged.over_share * work.judged.area;
    for (const VertexIndex peak : detail::curvature_peaks(work.surface, kPeaks)) {
      for (const SurfacePath& path : lines_through(work, graph, peak)) {
        auto divided = divide(work, path);
        if (!divided) return divided;
        if (!*divided) continue;
        double over = 0;
        for (const Work& part : (*divided)->parts)
          over += part.judged.over_share * part.judged.area;
        if (over < best_over) {
          best_over = over;
          best = std::move(*divided);
        }
      }
    }
    return best;
  }

  static std::vector<SurfacePath> lines_through(const Work& work, const PathGraph& graph,
                                                VertexIndex peak) {
    const std::vector<PathGraph::Node> source{peak};
    const auto reached = graph.from(source);
    const auto loop = boundary_loops(work.surface)[0];
    // Cheapest ways out, well apart along the edge.
    std::vector<std::size_t> order(loop.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return reached.cost[loop[a]] < reached.cost[loop[b]];
    });
    const auto apart = [&](std::size_t a, std::size_t b) {
      const std::size_t d = a < b ? b - a : a - b;
      const auto least = static_cast<double>(std::min(d, loop.size() - d));
      return least >= kLeastShare * static_cast<double>(loop.size());
    };
    std::vector<std::size_t> ends;
    for (const std::size_t i : order) {
      if (!std::isfinite(reached.cost[loop[i]])) break;
      if (std::all_of(ends.begin(), ends.end(), [&](std::size_t e) { return apart(e, i); })) {
        ends.push_back(i);
      }
    }
    std::vector<SurfacePath> paths;
    for (std::size_t a = 0; a < ends.size(); ++a) {
      for (std::size_t b = a + 1; b < ends.size() && paths.size() < kTrials; ++b) {
        SurfacePath path = graph.line(reached, loop[ends[a]]);
        SurfacePath back = graph.line(reached, loop[ends[b]]);
        if (path.empty() || back.empty() || share_an_edge(path, back)) continue;
        path.insert(path.end(), std::next(back.rbegin()), back.rend());
        paths.push_back(std::move(path));
      }
    }
    return paths;
  }

  /// Whether two lines from one source meet again.
  static bool share_an_edge(const SurfacePath& a, const SurfacePath& b) {
    for (std::size_t i = 0; i + 1 < a.size(); ++i) {
      for (std::size_t j = 0; j + 1 < b.size(); ++j) {
        if (a[i].a == b[j].a && a[i].b == b[j].b) return true;
      }
    }
    return false;
  }

  [[nodiscard]] std::string words_of(const Seam& seam, std::size_t number) const {
    return format(
        "Seam {}: {:.0f} mm from edge to edge, {}; the part laid first reaches {:.0f} mm under the "
        "other.",
        number, seam.length.value,
        seam.visibility < 0.4   ? "out of sight"
        : seam.visibility < 0.8 ? "where it shows little"
                                : "in plain sight",
        options_.overlap.value);
  }

  [[nodiscard]] std::string words_of(const SeamPlan& plan) const {
    if (plan.seams.empty()) {
      return plan.covered ? "No seam is needed."
                          : "No seam was found that would make the piece do; another film or a "
                            "wider roll is needed.";
    }
    std::string text = format("{} parts instead of one:", plan.parts.size());
    for (const SeamPart& part : plan.parts) {
      text +=
          format(" {:.0f} mm across the roll, stretch {:.1f} % at most;", part.reach.width.value,
                 100 * std::max(part.peak_stretch - 1, part.reach.stretch_needed - 1));
    }
    text.back() = '.';
    text += plan.covered ? " Each is reached and within the film's limits."
                         : " Some of it stays past what roll or film can do.";
    return text;
  }

  const FilmProperties& film_;
  detail::FilmEnergy energy_;
  const SeamOptions& options_;
  const Context& context_;
};

}  // namespace

Result<SeamPlan> plan_seams(const TriMesh& surface, std::span<const Vec2> flat,
                            const FilmProperties& film, const SeamOptions& options,
                            const Context& context) {
  Work whole{
      surface, {flat.begin(), flat.end()}, {flat.begin(), flat.end()}, options.visibility, {}};
  if (whole.visibility.empty()) whole.visibility = usual_visibility(surface);
  return SeamFinder(film, options, context).run(std::move(whole));
}

}  // namespace film::surface
