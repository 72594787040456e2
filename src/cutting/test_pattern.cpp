#include "cutting/test_pattern.h"

#include "base/text.h"

namespace film::cutting {
namespace {

constexpr double kLeastSide = 50;  // mm; a shorter one is measured too coarsely
constexpr double kSmall = 20;
constexpr double kGap = 10;

}  // namespace

Result<CutJob> test_pattern(const MachineProfile& profile, Mm side) {
  const Margins& m = profile.margins;
  const double a = side.value;
  const double most = (profile.media_width - m.low - m.high).value;
  if (!(a >= kLeastSide && a <= most)) {
    return fail(ErrorCode::invalid_input,
                format("a test square of {:g} mm, but it must be from {:g} to {:g} mm", a,
                       kLeastSide, most),
                "side", "Choose one that fits between the margins");
  }
  // Bare film in front, so that the blade can be aligned there.
  const Vec2 low{m.lead.value + kGap, m.low.value};
  const Vec2 small{low.x + a + kGap, low.y};
  const auto square = [](Vec2 p, double s) {
    return Ring{p, p + Vec2{s, 0}, p + Vec2{s, s}, p + Vec2{0, s}};
  };
  auto large = make_polygon(square(low, a), {});
  if (!large) return Failure(large.error());
  auto little = make_polygon(square(small, kSmall),
                             {Ring{small + Vec2{5, 5}, small + Vec2{10, 15}, small + Vec2{15, 5}}});
  if (!little) return Failure(little.error());
  CutJob job;
  job.shapes = {{"test square", std::move(*large), {}, {}},
                {"test triangle", std::move(*little), {}, {}}};
  return job;
}

}  // namespace film::cutting
