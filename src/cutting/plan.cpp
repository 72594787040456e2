#include "cutting/plan.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.h"
#include "cutting/detail/aids.h"
#include "cutting/detail/alignment.h"
#include "cutting/detail/contours.h"
#include "cutting/detail/knife_path.h"
#include "cutting/detail/order.h"
#include "cutting/machine_frame.h"
#include "cutting/motion.h"

namespace film::cutting {
namespace {

constexpr int kOrderRounds = 3;             // order and starts are chosen in turn this often
constexpr std::size_t kRoundsPerLine = 40;  // of the search; more find nothing new in small jobs

Box box_of(const CutJob& job) {
  Box box;
  for (const Shape& shape : job.shapes) {
    box.add(bounding_box(shape.outline));
    for (const Polyline& slit : shape.slits) box.add(bounding_box(slit));
  }
  return box;
}

Result<void> check_on_media(const CutJob& job, const MachineProfile& profile) {
  const Margins& m = profile.margins;
  const double top = (profile.media_width - m.high).value;
  for (const Shape& shape : job.shapes) {
    const Box box = bounding_box(shape.outline);
    const bool inside = box.low.x >= m.lead.value && box.low.y >= m.low.value && box.high.y <= top;
    if (!inside) {
      return fail(
          ErrorCode::invalid_input,
          format("piece {} reaches from ({:.2f}, {:.2f}) to ({:.2f}, {:.2f}) mm, but must stay "
                 "within x >= {:g} and {:g} <= y <= {:g} mm",
                 shape.piece, box.low.x, box.low.y, box.high.x, box.high.y, m.lead.value,
                 m.low.value, top),
          shape.piece, "Lay the pieces out with the machine profile's margins");
    }
  }
  return {};
}

/// The lines of one frame, renumbered.
struct Frame {
  std::vector<detail::Line> lines;
  detail::Precedences before;
};

Frame frame_from(const std::vector<std::size_t>& members, const std::vector<detail::Line>& lines,
                 const detail::Precedences& before) {
  constexpr auto kElsewhere = std::numeric_limits<std::size_t>::max();
  std::vector<std::size_t> number(lines.size(), kElsewhere);
  Frame frame;
  for (const std::size_t i : members) {
    number[i] = frame.lines.size();
    frame.lines.push_back(lines[i]);
  }
  for (const auto& [first, second] : before) {
    if (number[first] != kElsewhere && number[second] != kElsewhere) {
      frame.before.push_back({number[first], number[second]});
    }
  }
  return frame;
}

/// A line with its place in the order and its start.
struct Step {
  const detail::Line* line = nullptr;
  double start = 0;

  [[nodiscard]] bool slit() const { return is_open(line->kind); }
  [[nodiscard]] Vec2 entry() const {
    return slit() ? line->points.front() : detail::point_along(line->points, start);
  }
  [[nodiscard]] Vec2 exit() const { return slit() ? line->points.back() : entry(); }
};

double travel_of(Vec2 from, const std::vector<Step>& steps) {
  double travel = 0;
  for (const Step& step : steps) {
    travel += distance(from, step.entry());
    from = step.exit();
  }
  return travel;
}

std::vector<Step> order_frame(Vec2 from, const Frame& frame, const CutOptions& options,
                              const Context& context) {
  std::vector<double> start(frame.lines.size());
  for (std::size_t i = 0; i < start.size(); ++i) {
    start[i] = frame.lines[i].starts[frame.lines[i].starts.size() / 2];
  }
  const std::size_t iterations = std::min(options.iterations, kRoundsPerLine * frame.lines.size());
  std::vector<Step> best;
  double least = std::numeric_limits<double>::infinity();
  for (int round = 0; round < kOrderRounds; ++round) {
    std::vector<Vec2> points;
    std::vector<detail::Ends> ends;
    for (std::size_t i = 0; i < start.size(); ++i) {
      const Step step{&frame.lines[i], start[i]};
      ends.push_back({step.entry(), step.exit()});
      points.push_back(0.5 * (ends.back().entry + ends.back().exit));
    }
    auto order = detail::short_order(from, points, frame.before, options.seed, iterations, context);
    // Only slits are entered and left at different points.
    const bool directed = std::any_of(ends.begin(), ends.end(),
                                      [](const detail::Ends& e) { return e.entry != e.exit; });
    if (directed) detail::polish(from, ends, frame.before, order);
    const auto chosen = detail::best_starts(from, frame.lines, order);
    std::vector<Step> steps;
    for (std::size_t k = 0; k < order.size(); ++k) {
      start[order[k]] = frame.lines[order[k]].starts[chosen[k]];
      steps.push_back({&frame.lines[order[k]], start[order[k]]});
    }
    const double travel = travel_of(from, steps);
    if (travel < least) {
      least = travel;
      best = std::move(steps);
    }
  }
  return best;
}

/// Adds the lines in waste film. The sheet's end comes after everything else.
void add_aids(const CutJob& job, const MachineProfile& profile, CutPlan& plan,
              std::vector<detail::Line>& lines, detail::Precedences& before) {
  detail::AidLines aids = detail::aid_lines(job.shapes, lines, profile, plan.media);
  plan.pieces.insert(plan.pieces.end(), aids.names.begin(), aids.names.end());
  plan.unlabelled = std::move(aids.unlabelled);
  lines.insert(lines.end(), aids.lines.begin(), aids.lines.end());
  if (!profile.aids.sheet_end) return;
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) before.push_back({i, lines.size() - 1});
}

/// Crosses at the far end of each frame, squares round them with the next.
void mark_seams(const MachineProfile& profile, CutPlan& plan, std::vector<detail::Line>& lines,
                std::vector<std::vector<std::size_t>>& frames) {
  const auto stretch = [&](const std::vector<std::size_t>& frame) {
    Box box;
    for (const std::size_t i : frame) box.add(lines[i].box);
    return box;
  };
  const auto add = [&](const std::vector<detail::Line>& marks, std::vector<std::size_t>& frame) {
    // In front: a sheet's end that is in the frame stays last.
    for (const detail::Line& mark : marks) {
      frame.insert(frame.begin(), lines.size());
      lines.push_back(mark);
    }
  };
  for (std::size_t k = 0; k + 1 < frames.size(); ++k) {
    constexpr double kInside = 5;  // mm from the frame's end, so that the cross lies in it
    const double x = stretch(frames[k]).high.x - kInside;
    const auto marks = detail::seam_marks(x, profile, plan.pieces.size());
    // The next frame must not become longer than the machine feeds surely.
    const bool fits =
        stretch(frames[k + 1]).high.x - (x - kInside) <= profile.max_frame_length.value;
    if (marks.crosses.empty() || !fits) continue;
    plan.pieces.emplace_back("seam mark");
    add(marks.crosses, frames[k]);
    add(marks.squares, frames[k + 1]);
  }
}

/// The lines of one frame in the groups that are cut one after the other: by zone, if so asked.
/// What must come before a line of an earlier zone is cut with that zone.
std::vector<std::vector<std::size_t>> groups_of(const std::vector<std::size_t>& frame,
                                                const std::vector<detail::Line>& lines,
                                                const detail::Precedences& before,
                                                const CutJob& job, const MachineProfile& profile) {
  if (!profile.zone_by_zone) return {frame};
  std::vector<std::string> zones;
  std::vector<std::size_t> rank(lines.size(), 0);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].shape >= job.shapes.size()) continue;
    const std::string& zone = job.shapes[lines[i].shape].zone;
    rank[i] = static_cast<std::size_t>(std::find(zones.begin(), zones.end(), zone) - zones.begin());
    if (rank[i] == zones.size()) zones.push_back(zone);
  }
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].shape >= job.shapes.size()) rank[i] = zones.size();  // aids at the end
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (const auto& [first, second] : before) {
      if (rank[first] <= rank[second]) continue;
      rank[first] = rank[second];
      changed = true;
    }
  }
  std::vector<std::vector<std::size_t>> groups(zones.size() + 1);
  for (const std::size_t i : frame) groups[rank[i]].push_back(i);
  std::erase_if(groups, [](const auto& group) { return group.empty(); });
  return groups;
}

/// Follows the knife through the job and adds up what it does.
class Head {
 public:
  Head(CutPlan& plan, const MachineProfile& profile)
      : plan_(plan), profile_(profile), at_(plan.home) {}

  [[nodiscard]] Vec2 at() const { return at_; }

  void align(const Polyline& stroke) {
    plan_.alignment = {stroke, std::vector<Phase>(stroke.size() - 1, Phase::align)};
    heading_ = {0, 1};
    follow(stroke);
  }

  void cut(const Step& step, std::size_t frame) {
    const KnifeSettings& knife = profile_.knife;
    Contour contour{step.line->shape, step.line->kind, frame, {}, 0, {}};
    std::size_t past_start = 0;
    if (step.slit()) {
      contour.drawn = step.line->points;
      contour.drawn_length = length_of(contour.drawn);
    } else {
      contour.drawn = detail::opened_at(step.line->points, step.start, knife.overcut.value);
      contour.drawn_length = perimeter(step.line->points);
      past_start = contour.drawn.size() - step.line->points.size() - 2;
    }
    if (knife.kind == Knife::drag) {
      auto path = detail::drag_path(contour.drawn, past_start, heading_, knife);
      heading_ = path.heading;
      contour.strokes = {std::move(path.stroke)};
    } else {
      contour.strokes = detail::tangential_strokes(contour.drawn, past_start, knife);
    }
    for (const Stroke& stroke : contour.strokes) follow(stroke.axis);
    plan_.cut_mm += length_of(contour.drawn);
    furthest_ = std::max(furthest_, step.line->box.high.x);
    plan_.look_back = std::max(plan_.look_back, furthest_ - step.line->box.low.x);
    plan_.contours.push_back(std::move(contour));
  }

 private:
  void follow(const Polyline& stroke) {
    const Motion& motion = profile_.motion;
    const Polyline way{at_, stroke.front()};
    plan_.travel_mm += length_of(way);
    plan_.estimated.value += time_along(way, motion.travel_speed, motion).value +
                             time_along(stroke, motion.cut_speed, motion).value +
                             2 * motion.lift.value;
    at_ = stroke.back();
  }

  CutPlan& plan_;
  const MachineProfile& profile_;
  Vec2 at_;
  Vec2 heading_{1, 0};
  double furthest_ = 0;
};

}  // namespace

Result<CutPlan> plan_cut(const CutJob& job, const MachineProfile& profile,
                         const CutOptions& options, const Context& context) {
  if (job.shapes.empty()) {
    return fail(ErrorCode::invalid_input, "there is nothing to cut", "", "Lay out a piece first");
  }
  if (auto inside = check_on_media(job, profile); !inside) return Failure(inside.error());

  CutPlan plan;
  for (const Shape& shape : job.shapes) plan.pieces.push_back(shape.piece);
  const double end = box_of(job).high.x + profile.margins.trail.value;
  plan.media = {{0, 0}, {std::max(job.length.value, end), profile.media_width.value}};

  auto lines = detail::lines_of(job.shapes, profile.knife);
  auto before = detail::precedences(lines);
  add_aids(job, profile, plan, lines, before);
  auto frames = detail::frames_of(lines, before, profile.max_frame_length.value);
  if (!frames) return Failure(frames.error());
  if (profile.aids.seam_marks) mark_seams(profile, plan, lines, *frames);
  plan.frames = frames->size();

  plan.home = MachineFrame(profile, plan.media).to_roll({0, 0});
  Head head(plan, profile);
  const double offset = profile.knife.blade_offset.value;
  if (profile.knife.kind == Knife::drag && offset > 0) {
    Box waste = plan.media;  // between the margins at the sides, where the film is held
    waste.low.y += profile.margins.low.value;
    waste.high.y -= profile.margins.high.value;
    const auto stroke = detail::alignment_stroke(lines, waste, offset);
    if (!stroke) {
      return fail(ErrorCode::invalid_input, "no waste film is wide enough to align the blade in",
                  "", format("Leave a lead margin of {:.0f} mm", std::ceil(11 * offset)));
    }
    head.align(*stroke);
  }
  for (std::size_t k = 0; k < frames->size(); ++k) {
    if (context.stopped()) return fail(ErrorCode::cancelled, "planning the cut was stopped");
    for (const auto& group : groups_of((*frames)[k], lines, before, job, profile)) {
      const Frame frame = frame_from(group, lines, before);
      for (const Step& step : order_frame(head.at(), frame, options, context)) head.cut(step, k);
    }
  }
  return plan;
}

}  // namespace film::cutting
