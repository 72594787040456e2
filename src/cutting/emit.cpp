#include "base/assert.h"
#include "base/text.h"
#include "cutting/detail/knife_path.h"
#include "cutting/machine_frame.h"
#include "cutting/plan.h"
#include "cutting/program.h"

namespace film::cutting {
namespace {

constexpr double kMmPerCm = 10;  // VS counts cm/s

/// Returns where the knife is afterwards.
formats::HpglPoint write_stroke(formats::HpglWriter& writer, const MachineFrame& frame,
                                const Polyline& stroke) {
  formats::HpglPoint at = frame.to_machine(stroke.front());
  writer.move(at);
  bool drawn = false;
  for (const Vec2 p : stroke) {
    const formats::HpglPoint next = frame.to_machine(p);
    if (next == at) continue;
    writer.draw(next);
    at = next;
    drawn = true;
  }
  if (!drawn) writer.draw(at);
  return at;
}

/// Which piece each stroke with the knife down belongs to.
using StrokeNames = std::vector<std::string>;

Result<void> check_on_media(const std::string& bytes, const Box& media, const MachineFrame& frame,
                            const StrokeNames& names) {
  const auto plot = formats::read_hpgl(bytes);
  FILM_ASSERT(plot.has_value());
  std::size_t stroke_number = 0;
  for (const formats::HpglStroke& stroke : plot->strokes) {
    for (const formats::HpglPoint p : stroke.points) {
      const Vec2 at = frame.to_roll(p);
      if (!media.contains(at)) {
        return fail(
            ErrorCode::invalid_input,
            format("the knife would go to ({:.2f}, {:.2f}) mm, outside the film", at.x, at.y),
            stroke_number < names.size() ? names[stroke_number] : "end",
            "Move the piece away from the edge of the film or widen the margins");
      }
    }
    if (stroke.down) ++stroke_number;
  }
  return {};
}

/// Leads the blade of a drag knife from contour to contour when some are left out.
class Lead {
 public:
  Lead(const CutPlan& plan, const KnifeSettings& knife) : knife_(knife) {
    trails_ = knife.kind == Knife::drag && knife.blade_offset.value > 0;
    if (!plan.alignment.axis.empty()) heading_ = {0, 1};
  }

  void skip() { as_planned_ = false; }

  std::vector<Stroke> strokes(const Contour& contour) {
    if (!trails_ || as_planned_) {
      if (trails_) heading_ = last_direction(contour.drawn);
      return contour.strokes;
    }
    auto path = detail::drag_path(contour.drawn, points_past_start(contour), heading_, knife_);
    heading_ = path.heading;
    as_planned_ = true;
    return {std::move(path.stroke)};
  }

 private:
  static Vec2 last_direction(const Polyline& drawn) {
    for (std::size_t i = drawn.size(); i-- > 1;) {
      const double s = distance(drawn[i - 1], drawn[i]);
      if (s > 0) return (drawn[i] - drawn[i - 1]) / s;
    }
    return {1, 0};
  }

  static std::size_t points_past_start(const Contour& contour) {
    constexpr double kSame = 1e-9;
    double left = contour.drawn_length;
    std::size_t i = 1;
    for (; i < contour.drawn.size() && left > kSame; ++i) {
      left -= distance(contour.drawn[i - 1], contour.drawn[i]);
    }
    return contour.drawn.size() - i;
  }

  const KnifeSettings& knife_;
  bool trails_ = false;
  bool as_planned_ = true;  // the blade points where the plan says
  Vec2 heading_{1, 0};
};

}  // namespace

std::string CutProgram::bytes() const {
  std::string all = opening;
  for (const CutPart& part : parts) all += part.bytes;
  return all + closing;
}

Result<CutProgram> program_of(const CutPlan& plan, const MachineProfile& profile,
                              const std::vector<bool>& done) {
  const MachineFrame frame(profile, plan.media);
  formats::HpglWriter writer(profile.coordinates);
  CutProgram program;
  StrokeNames names;
  writer.initialize();
  writer.select_pen(profile.pen);
  writer.velocity(profile.motion.cut_speed / kMmPerCm);
  if (profile.knife.force) writer.force(*profile.knife.force);
  if (!plan.alignment.axis.empty()) {
    program.aligned = write_stroke(writer, frame, plan.alignment.axis);
    program.aligns = true;
    names.emplace_back("alignment stroke");
  }
  std::string body = writer.take();
  program.opening = profile.prefix + body;
  Lead lead(plan, profile.knife);
  for (std::size_t k = 0; k < plan.contours.size(); ++k) {
    if (k < done.size() && done[k]) {
      lead.skip();
      continue;
    }
    CutPart part{k, {}, {}, length_of(plan.contours[k].drawn)};
    for (const Stroke& stroke : lead.strokes(plan.contours[k])) {
      part.end = write_stroke(writer, frame, stroke.axis);
      names.push_back(plan.pieces[plan.contours[k].shape]);
    }
    part.bytes = writer.take();
    body += part.bytes;
    program.parts.push_back(std::move(part));
  }
  writer.finish();
  const std::string ending = writer.take();
  if (auto inside = check_on_media(body + ending, plan.media, frame, names); !inside) {
    return Failure(inside.error());
  }
  program.closing = ending + profile.suffix;
  return program;
}

Result<std::string> emit_hpgl(const CutPlan& plan, const MachineProfile& profile) {
  const auto program = program_of(plan, profile);
  if (!program) return Failure(program.error());
  return program->bytes();
}

}  // namespace film::cutting
