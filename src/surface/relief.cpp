#include "surface/relief.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "base/text.h"
#include "surface/detail/concentration.h"
#include "surface/detail/cut.h"
#include "surface/detail/energy.h"
#include "surface/detail/geodesic.h"
#include "surface/detail/overlap.h"
#include "surface/detail/resettle.h"
#include "surface/detail/topology.h"
#include "surface/visibility.h"

namespace film::surface {
namespace {

using detail::CutSurface;
using detail::PathGraph;
using detail::SurfacePath;

constexpr std::size_t kPeaks = 3;
/// Cuts tried from one peak start at least this share of the perimeter apart.
constexpr double kSpacing = 0.06;
constexpr double kShortest = 15;  ///< mm; a shorter cut is a notch of the tuck (pattern/relief.h)
/// A trial ends when a step gains less than this share of the energy, or after so many steps.
constexpr double kTrialTolerance = 1e-3;
constexpr std::size_t kTrialSteps = 4;
constexpr double kRestTolerance = 1e-6;
constexpr std::size_t kRestSteps = 25;
/// Lips may lie over each other by this much, mm: more film is missing there, not spare.
constexpr double kOverlap = 0.05;

std::string area_words(double mm2) {
  return mm2 < 100 ? format("{:.0f} mm2", mm2) : format("{:.1f} cm2", mm2 / 100);
}

struct Surplus {
  std::vector<double> squeeze;  // of each triangle, past the finger threshold
  double area = 0;              // all surplus, mm^2
  double share = 0;             // of the panel's area in which there is any
};

Surplus find_surplus(const TriMesh& surface, std::span<const Vec2> flat,
                     const FilmProperties& film) {
  const auto strains = triangle_strains(surface, flat);
  const double limit = std::min(film.tension_limit_along, film.tension_limit_across);
  Surplus result;
  result.squeeze.reserve(strains.size());
  double whole = 0;
  for (std::size_t t = 0; t < strains.size(); ++t) {
    const double squeeze = std::max(0.0, 1 - strains[t].minor - film.finger_threshold);
    const double over = std::max(0.0, strains[t].major - 1 - limit);
    result.squeeze.push_back(squeeze);
    const double area = length(area_vector(surface, surface.triangles[t])) / 2;
    result.area += area * (squeeze + over);
    result.share += squeeze + over > 0 ? area : 0;
    whole += area;
  }
  result.share /= whole;
  return result;
}

/// The panel with the cuts made so far.
struct State {
  TriMesh surface;
  std::vector<Vec2> flat;        // at rest
  std::vector<Vec2> first_flat;  // where each vertex lies on the piece without cuts
  std::vector<double> visibility;
  std::vector<char> on_lip;  // of an earlier cut: no cut starts there
  Surplus surplus;
};

struct Trial {
  SurfacePath path;
  double cost = 0;  // length weighted by visibility
  CutSurface cut;
  std::vector<Vec2> flat;
  double gain = 0;  // surplus taken out, mm^2
};

/// How far the lips lie over each other at worst, mm.
double lips_overlap(const CutSurface& cut, std::span<const Vec2> flat) {
  double worst = 0;
  for (std::size_t i = 0; i + 1 < cut.left.size(); ++i) {
    const Vec2 inward =
        flat[cut.left[i + 1]] + flat[cut.right[i + 1]] - flat[cut.left[i]] - flat[cut.right[i]];
    const Vec2 gap = flat[cut.left[i]] - flat[cut.right[i]];
    worst = std::max(worst, -cross(inward, gap) / length(inward));
  }
  return worst;
}

/// Lines worth trying, likeliest first.
class Lines {
 public:
  explicit Lines(const State& state)
      : state_(state),
        graph_(state.surface, state.visibility),
        loops_(boundary_loops(state.surface)) {
    squeeze_at_.assign(state.surface.points.size(), 0);
    std::vector<double> area(state.surface.points.size(), 0);
    for (std::size_t t = 0; t < state.surface.triangles.size(); ++t) {
      const double a = length(area_vector(state.surface, state.surface.triangles[t]));
      for (const VertexIndex v : state.surface.triangles[t]) {
        squeeze_at_[v] += a * state.surplus.squeeze[t];
        area[v] += a;
      }
    }
    for (std::size_t v = 0; v < area.size(); ++v) squeeze_at_[v] /= area[v];
  }

  std::vector<SurfacePath> find(std::size_t count) {
    const auto peaks = detail::curvature_peaks(state_.surface, kPeaks);
    for (const VertexIndex peak : peaks) add_from(peak);
    std::stable_sort(found_.begin(), found_.end(),
                     [](const Line& a, const Line& b) { return a.score > b.score; });
    std::vector<SurfacePath> paths;
    for (Line& line : found_) {
      if (paths.size() >= count) break;
      paths.push_back(std::move(line.path));
    }
    return paths;
  }

 private:
  struct Line {
    double score;
    SurfacePath path;
  };
  struct Start {
    double score;
    PathGraph::Node node;
  };

  /// Squeeze met on the way from each boundary vertex to the peak, per weighted mm.
  void add_from(VertexIndex peak) {
    const std::vector<PathGraph::Node> source{peak};
    const auto reached = graph_.from(source);
    double perimeter = 0;
    std::vector<Start> starts;
    for (const auto& loop : loops_) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        perimeter += distance(state_.surface.points[loop[i]],
                              state_.surface.points[loop[(i + 1) % loop.size()]]);
        if (state_.on_lip[loop[i]] || !std::isfinite(reached.cost[loop[i]]) ||
            reached.before[loop[i]] == PathGraph::kNone) {
          continue;
        }
        const double met = squeeze_met(reached, loop[i]);
        if (met > 0) starts.push_back({met / reached.cost[loop[i]], loop[i]});
      }
    }
    std::stable_sort(starts.begin(), starts.end(),
                     [](const Start& a, const Start& b) { return a.score > b.score; });
    std::vector<Vec3> taken;
    for (const Start& s : starts) {
      const Vec3 at = state_.surface.points[s.node];
      const bool close = std::any_of(taken.begin(), taken.end(), [&](Vec3 p) {
        return distance(p, at) < kSpacing * perimeter;
      });
      if (close) continue;
      taken.push_back(at);
      add_lengths(reached, s);
      if (taken.size() >= 6) break;
    }
  }

  double squeeze_met(const PathGraph::Reached& reached, PathGraph::Node from) const {
    const std::span<const Vec3> points(state_.surface.points);
    const std::span<const double> squeeze(squeeze_at_);
    double sum = 0;
    for (PathGraph::Node n = from; reached.before[n] != PathGraph::kNone; n = reached.before[n]) {
      const auto here = graph_.point(n);
      const auto next = graph_.point(reached.before[n]);
      sum += distance(here.at(points), next.at(points)) * (here.at(squeeze) + next.at(squeeze)) / 2;
    }
    return sum;
  }

  /// The line as far as film is squeezed, half that, and most of the way to the peak.
  void add_lengths(const PathGraph::Reached& reached, const Start& start) {
    const SurfacePath whole = graph_.line(reached, start.node);
    if (whole.size() < 2) return;
    const std::span<const Vec3> points(state_.surface.points);
    std::vector<double> along{0};
    double squeezed = 0;
    for (std::size_t i = 1; i < whole.size(); ++i) {
      along.push_back(along.back() + distance(whole[i - 1].at(points), whole[i].at(points)));
      if (whole[i].at(std::span<const double>(squeeze_at_)) > 0) squeezed = along.back();
    }
    std::size_t last = 0;
    for (const double wanted : {0.5 * squeezed, squeezed, 0.9 * along.back()}) {
      const auto nodes = static_cast<std::size_t>(
          std::upper_bound(along.begin(), along.end(), std::max(wanted, kShortest)) -
          along.begin());
      if (nodes < 2 || nodes <= last || along[nodes - 1] < kShortest) continue;
      last = nodes;
      found_.push_back(
          {start.score,
           SurfacePath(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(nodes))});
    }
  }

  const State& state_;
  PathGraph graph_;
  std::vector<std::vector<VertexIndex>> loops_;
  std::vector<double> squeeze_at_;  // by vertex
  std::vector<Line> found_;
};

class Planner {
 public:
  Planner(const FilmProperties& film, const ReliefOptions& options, const Context& context)
      : film_(film), energy_(film), options_(options), context_(context) {}

  Result<Relieved> run(State state) {
    state_ = std::move(state);
    Relieved result;
    Relief& relief = result.plan;
    relief.surplus_before = state_.surplus.area;
    while (relief.cuts.size() < options_.greatest_cuts && worth_looking()) {
      context_.report("trying relief cuts", static_cast<double>(relief.cuts.size()) /
                                                static_cast<double>(options_.greatest_cuts));
      auto trials = try_lines();
      if (context_.stopped()) return stopped();
      if (!keep_best(trials, relief)) break;
    }
    if (context_.stopped()) return stopped();
    relief.surplus_after = state_.surplus.area;
    result.report = report_strain(state_.surface, state_.flat, film_);
    relief.words = words_of(relief, result.report);
    result.flattening = measure(state_.surface, std::move(state_.flat));
    result.surface = std::move(state_.surface);
    return result;
  }

 private:
  static tl::unexpected<Error> stopped() {
    return fail(ErrorCode::cancelled, "stopped while planning relief cuts");
  }

  [[nodiscard]] bool finds_room() const { return state_.surplus.share < options_.least_share; }

  /// The shortest cut in the least visible place would have to pay.
  [[nodiscard]] bool worth_looking() const {
    const double cheapest = *std::min_element(state_.visibility.begin(), state_.visibility.end());
    return state_.surface.triangles.size() <= options_.greatest_triangles && !finds_room() &&
           state_.surplus.area > options_.least_gain.value * kShortest * cheapest;
  }

  std::vector<Trial> try_lines() {
    auto paths = Lines(state_).find(options_.trials);
    std::vector<Trial> trials(paths.size());
    const Context alone([this] { return context_.stopped(); });
    context_.executor().run(paths.size(), [&](std::size_t i) {
      Trial& trial = trials[i];
      trial.path = std::move(paths[i]);
      trial.cost = detail::cost_of(state_.surface, state_.visibility, trial.path);
      trial.cut = detail::cut_open(state_.surface, trial.path);
      auto settled =
          detail::resettle(trial.cut, state_.flat, energy_, kTrialTolerance, kTrialSteps, alone);
      if (!settled || lips_overlap(trial.cut, settled->flat) > kOverlap) return;
      trial.flat = std::move(settled->flat);
      trial.gain = state_.surplus.area - surplus_of(trial.cut.mesh, trial.flat, film_);
    });
    return trials;
  }

  /// Makes the trial that pays best and holds when the film has come to rest. False when none does.
  bool keep_best(std::vector<Trial>& trials, Relief& relief) {
    std::stable_sort(trials.begin(), trials.end(), [](const Trial& a, const Trial& b) {
      return a.gain * b.cost > b.gain * a.cost;
    });
    for (Trial& trial : trials) {
      if (!(trial.gain >= options_.least_gain.value * trial.cost)) return false;
      auto rest =
          detail::resettle(trial.cut, state_.flat, energy_, kRestTolerance, kRestSteps, context_);
      if (!rest) return false;
      const auto loops = detail::loops_of(
          trial.cut.mesh.triangles,
          detail::sides_across(trial.cut.mesh.triangles, trial.cut.mesh.points.size()));
      detail::part_lips(loops, rest->flat);
      if (!detail::boundary_meetings(loops, rest->flat).empty()) continue;
      Surplus after = find_surplus(trial.cut.mesh, rest->flat, film_);
      if (!(state_.surplus.area - after.area >= options_.least_gain.value * trial.cost)) continue;
      add_cut(trial, *rest, std::move(after), relief);
      return true;
    }
    return false;
  }

  void add_cut(Trial& trial, detail::Resettled& rest, Surplus after, Relief& relief) {
    ReliefCut made;
    for (const auto& p : trial.path) {
      made.on_panel.push_back(p.at(std::span<const Vec3>(state_.surface.points)));
      made.on_film.push_back(p.at(std::span<const Vec2>(state_.first_flat)));
    }
    made.length = Mm{detail::length_of(state_.surface, trial.path)};
    made.visibility = trial.cost / made.length.value;
    made.surplus = state_.surplus.area - after.area;
    made.gain_per_cm = 10 * made.surplus / made.length.value;
    made.opening =
        Mm{distance(rest.flat[trial.cut.left.front()], rest.flat[trial.cut.right.front()])};
    state_.first_flat = carried(trial.cut, std::span<const Vec2>(state_.first_flat));
    state_.visibility = carried(trial.cut, std::span<const double>(state_.visibility));
    state_.on_lip.resize(trial.cut.mesh.points.size(), 1);  // all that is added lies on the cut
    for (const VertexIndex v : trial.cut.left) state_.on_lip[v] = 1;
    state_.surface = std::move(trial.cut.mesh);
    state_.flat = std::move(rest.flat);
    state_.surplus = std::move(after);
    const StretchRange range = measure(state_.surface, state_.flat).stretch;
    made.least_stretch = range.min;
    made.peak_stretch = range.max;
    made.words = format(
        "Relief cut {}: {:.0f} mm in from the edge, {}; its wedge opens {:.1f} mm at the edge and "
        "takes out {} of surplus film, {:.0f} mm2 a cm.",
        relief.cuts.size() + 1, made.length.value,
        made.visibility < 0.4   ? "out of sight"
        : made.visibility < 0.8 ? "where it shows little"
                                : "in plain sight",
        made.opening.value, area_words(made.surplus), made.gain_per_cm);
    relief.cuts.push_back(std::move(made));
  }

  [[nodiscard]] std::string words_of(const Relief& relief, const StrainReport& report) const {
    if (relief.cuts.empty()) {
      if (state_.surface.triangles.size() > options_.greatest_triangles) {
        return "Relief cuts were not tried: the mesh is too fine. Coarsen it first.";
      }
      if (finds_room()) return "No relief cut is needed: nearly all of the film finds room.";
      return format(
          "No relief cut pays: {} of film find no room, and no line tried takes out {:.2f} mm2 for "
          "each mm in plain sight.",
          area_words(relief.surplus_before), options_.least_gain.value);
    }
    return format(
        "{} relief cut{} {} {} of {} of surplus film; squeeze is then at most "
        "{:.1f} %, stretch {:.1f} %.{}",
        relief.cuts.size(), relief.cuts.size() == 1 ? "" : "s",
        relief.cuts.size() == 1 ? "leaves" : "leave", area_words(relief.surplus_after),
        area_words(relief.surplus_before), 100 * std::max(0.0, 1 - report.least_stretch),
        100 * std::max(0.0, report.peak_stretch - 1),
        relief.cuts.size() < options_.greatest_cuts ? " Another cut would not pay." : "");
  }

  const FilmProperties& film_;
  detail::FilmEnergy energy_;
  const ReliefOptions& options_;
  const Context& context_;
  State state_;
};

}  // namespace

double surplus_of(const TriMesh& surface, std::span<const Vec2> flat, const FilmProperties& film) {
  return find_surplus(surface, flat, film).area;
}

Result<Relieved> plan_relief(const TriMesh& surface, std::span<const Vec2> flat,
                             const FilmProperties& film, const ReliefOptions& options,
                             const Context& context) {
  State state;
  state.surface = surface;
  state.flat.assign(flat.begin(), flat.end());
  state.first_flat = state.flat;
  state.visibility = options.visibility;
  state.on_lip.assign(flat.size(), 0);
  if (state.visibility.empty()) state.visibility = usual_visibility(surface);
  state.surplus = find_surplus(surface, flat, film);
  return Planner(film, options, context).run(std::move(state));
}

}  // namespace film::surface
