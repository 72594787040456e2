#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include "cutting/plan.h"

/// Shapes that are hard to cut: 30 degree corners, 2 mm radii, circles, zigzags, tiny holes.
namespace film::test {

inline Ring circle(Vec2 centre, double radius, int sides) {
  Ring ring;
  for (int k = 0; k < sides; ++k) {
    const double angle = 2 * std::numbers::pi * k / sides;
    ring.push_back(centre + radius * Vec2{std::cos(angle), std::sin(angle)});
  }
  return ring;
}

inline Ring clockwise(Ring ring) {
  std::reverse(ring.begin(), ring.end());
  return ring;
}

/// A rectangle whose corners are arcs.
inline Ring rounded_rectangle(Vec2 low, Vec2 size, double radius, int steps) {
  Ring ring;
  const Vec2 centres[] = {low + Vec2{size.x - radius, radius}, low + size - Vec2{radius, radius},
                          low + Vec2{radius, size.y - radius}, low + Vec2{radius, radius}};
  for (int corner = 0; corner < 4; ++corner) {
    for (int k = 0; k <= steps; ++k) {
      const double angle = std::numbers::pi / 2 * (corner - 1 + static_cast<double>(k) / steps);
      ring.push_back(centres[corner] + radius * Vec2{std::cos(angle), std::sin(angle)});
    }
  }
  return ring;
}

inline cutting::Shape shape(std::string name, Ring outer, std::vector<Ring> holes = {}) {
  return {std::move(name), make_polygon(std::move(outer), std::move(holes)).value(), {}};
}

inline cutting::CutJob torture_job() {
  cutting::CutJob job;
  job.length = Mm{240};
  // A triangle with a corner of 30 degrees, and one much sharper.
  const double slope = std::tan(std::numbers::pi / 6);
  job.shapes.push_back(shape("corner_30", {{20, 20}, {60, 20}, {60, 20 + 40 * slope}}));
  job.shapes.push_back(shape("spike_5", {{20, 50}, {60, 50}, {60, 50 + 40 * 0.0875}}));
  job.shapes.push_back(shape("radius_2", rounded_rectangle({70, 20}, {40, 30}, 2, 16)));
  job.shapes.push_back(shape("radius_2_coarse", rounded_rectangle({70, 55}, {20, 15}, 2, 3)));
  job.shapes.push_back(shape("circle_50", circle({175, 75}, 50, 360),
                             {clockwise(circle({175, 75}, 5, 90)),
                              clockwise(circle({155, 75}, 1, 40)),
                              clockwise(circle({190, 60}, 0.5, 24)),
                              {{185, 90}, {185, 91}, {186, 91}, {186, 90}}}));
  Ring zigzag{{20, 100}};
  for (int k = 0; k < 30; ++k) zigzag.push_back({20.5 + 1.5 * k, k % 2 == 0 ? 98.0 : 100.0});
  zigzag.push_back({65, 110});
  zigzag.push_back({20, 110});
  job.shapes.push_back(shape("zigzag", zigzag));
  cutting::Shape slit = shape("slit", {{20, 70}, {60, 70}, {60, 90}, {20, 90}});
  slit.slits = {{{40, 70}, {40, 78}}, {{20, 90}, {28, 82}}};
  job.shapes.push_back(slit);
  // A piece inside a hole of another.
  job.shapes.push_back(shape("frame", {{20, 120}, {60, 120}, {60, 160}, {20, 160}},
                             {{{25, 125}, {25, 155}, {55, 155}, {55, 125}}}));
  job.shapes.push_back(shape("island", {{30, 130}, {50, 130}, {50, 150}, {30, 150}}));
  return job;
}

/// A profile for tests: nothing corrected, nothing turned.
inline cutting::MachineProfile plain_profile(double blade_offset) {
  cutting::MachineProfile profile;
  profile.name = "test bench";
  profile.media_width = Mm{200};
  profile.margins = {Mm{15}, Mm{15}, Mm{5}, Mm{5}};
  profile.knife.blade_offset = Mm{blade_offset};
  return cutting::make_profile(profile).value();
}

}  // namespace film::test
