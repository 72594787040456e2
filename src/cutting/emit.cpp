#include "base/assert.h"
#include "base/text.h"
#include "cutting/machine_frame.h"
#include "cutting/plan.h"

namespace film::cutting {
namespace {

constexpr double kMmPerCm = 10;  // VS counts cm/s

void write_stroke(formats::HpglWriter& writer, const MachineFrame& frame, const Polyline& stroke) {
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
}

/// Which piece the n-th stroke with the knife down belongs to.
std::string piece_of_stroke(const CutPlan& plan, std::size_t n) {
  if (!plan.alignment.axis.empty() && n-- == 0) return "alignment stroke";
  for (const Contour& contour : plan.contours) {
    if (n < contour.strokes.size()) return plan.pieces[contour.shape];
    n -= contour.strokes.size();
  }
  return "end";
}

Result<void> check_on_media(const std::string& bytes, const CutPlan& plan,
                            const MachineFrame& frame) {
  const auto plot = formats::read_hpgl(bytes);
  FILM_ASSERT(plot.has_value());
  std::size_t stroke_number = 0;
  for (const formats::HpglStroke& stroke : plot->strokes) {
    for (const formats::HpglPoint p : stroke.points) {
      const Vec2 at = frame.to_roll(p);
      if (!plan.media.contains(at)) {
        return fail(
            ErrorCode::invalid_input,
            format("the knife would go to ({:.2f}, {:.2f}) mm, outside the film", at.x, at.y),
            piece_of_stroke(plan, stroke_number),
            "Move the piece away from the edge of the film or widen the margins");
      }
    }
    if (stroke.down) ++stroke_number;
  }
  return {};
}

}  // namespace

Result<std::string> emit_hpgl(const CutPlan& plan, const MachineProfile& profile) {
  const MachineFrame frame(profile, plan.media);
  formats::HpglWriter writer(profile.coordinates);
  writer.initialize();
  writer.select_pen(profile.pen);
  writer.velocity(profile.motion.cut_speed / kMmPerCm);
  if (profile.knife.force) writer.force(*profile.knife.force);
  if (!plan.alignment.axis.empty()) write_stroke(writer, frame, plan.alignment.axis);
  for (const Contour& contour : plan.contours) {
    for (const Stroke& stroke : contour.strokes) write_stroke(writer, frame, stroke.axis);
  }
  writer.finish();
  const std::string body = writer.bytes();
  if (auto inside = check_on_media(body, plan, frame); !inside) return Failure(inside.error());
  return profile.prefix + body + profile.suffix;
}

}  // namespace film::cutting
