#include "glazing/optics.h"

namespace film::glazing {
namespace {

constexpr double kRounding = 1e-9;  // of shares that were computed, not measured

bool is_share(double value) { return value >= -kRounding && value <= 1 + kRounding; }

}  // namespace

bool Optics::is_physical() const {
  return is_share(transmit_front) && is_share(reflect_front) && is_share(transmit_back) &&
         is_share(reflect_back) && is_share(absorb_front()) && is_share(absorb_back());
}

Optics combined(const Optics& front, const Optics& back) {
  const double between = 1 - front.reflect_back * back.reflect_front;
  if (between <= 0) return {0, front.reflect_front, 0, back.reflect_back};
  return {
      front.transmit_front * back.transmit_front / between,
      front.reflect_front +
          front.transmit_front * back.reflect_front * front.transmit_back / between,
      back.transmit_back * front.transmit_back / between,
      back.reflect_back + back.transmit_back * front.reflect_back * back.transmit_front / between};
}

Optics without_front(const Optics& pair, const Optics& front) {
  // What comes back to the front layer, seen from behind it: r / (1 - rf r).
  const double echo =
      (pair.reflect_front - front.reflect_front) / (front.transmit_front * front.transmit_back);
  Optics back;
  back.reflect_front = echo / (1 + front.reflect_back * echo);
  const double between = 1 - front.reflect_back * back.reflect_front;
  back.transmit_front = pair.transmit_front * between / front.transmit_front;
  back.transmit_back = pair.transmit_back * between / front.transmit_back;
  back.reflect_back =
      pair.reflect_back - back.transmit_back * front.reflect_back * back.transmit_front / between;
  return back;
}

Optics without_back(const Optics& pair, const Optics& back) {
  return turned(without_front(turned(pair), turned(back)));
}

Optics clear_sheet(double index, double internal) {
  const Optics face = boundary(1, index);
  return combined(combined(face, symmetric(internal, 0)), turned(face));
}

}  // namespace film::glazing
