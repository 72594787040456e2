#include "cutting/machine_frame.h"

#include <cmath>

namespace film::cutting {
namespace {

Vec2 origin_on(const Box& media, Origin origin) {
  switch (origin) {
    case Origin::low_left: return media.low;
    case Origin::low_right: return {media.high.x, media.low.y};
    case Origin::high_left: return {media.low.x, media.high.y};
    case Origin::high_right: return media.high;
    case Origin::centre: return media.centre();
  }
  return media.low;
}

Vec2 turned(Vec2 p, QuarterTurn turn) {
  switch (turn) {
    case QuarterTurn::none: return p;
    case QuarterTurn::quarter: return left_of(p);
    case QuarterTurn::half: return -p;
    case QuarterTurn::three_quarters: return -left_of(p);
  }
  return p;
}

}  // namespace

MachineFrame::MachineFrame(const MachineProfile& profile, const Box& media)
    : origin_(origin_on(media, profile.origin)) {
  const Calibration& c = profile.calibration;
  const auto place = [&](Vec2 p) {
    if (profile.mirrored) p.y = -p.y;
    return profile.units_per_mm * turned(p, profile.rotation);
  };
  column_x_ = place({c.scale_x, 0});
  column_y_ = place({c.skew, c.scale_y});
}

formats::HpglPoint MachineFrame::to_machine(Vec2 roll) const {
  const Vec2 p = roll - origin_;
  const Vec2 units = p.x * column_x_ + p.y * column_y_;
  return {static_cast<std::int32_t>(std::lround(units.x)),
          static_cast<std::int32_t>(std::lround(units.y))};
}

Vec2 MachineFrame::to_roll(formats::HpglPoint machine) const {
  const Vec2 units{static_cast<double>(machine.x), static_cast<double>(machine.y)};
  const double determinant = cross(column_x_, column_y_);
  return origin_ +
         Vec2{cross(units, column_y_) / determinant, cross(column_x_, units) / determinant};
}

}  // namespace film::cutting
