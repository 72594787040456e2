#include "pattern/detail/fold_line.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace film::pattern::detail {
namespace {

constexpr double kSamePlace = 1e-6;  // mm along the line

/// One stretch laid out: its vertices, and how its allowance fades in and out.
struct Course {
  std::size_t edge = 0;
  std::vector<Vec2> points;   // first vertex of the stretch to first of the next, both included
  std::vector<double> along;  // way from the first
  double allowance = 0;
  double fade_in = 0, fade_out = 0;  // lengths of the transitions inside this stretch
  double start = 0, end = 0;         // allowances at its very ends

  [[nodiscard]] double length() const { return along.back(); }
  [[nodiscard]] double allowance_at(double s) const {
    if (s < fade_in) return std::lerp(start, allowance, s / fade_in);
    if (s > length() - fade_out) return std::lerp(end, allowance, (length() - s) / fade_out);
    return allowance;
  }
};

Course course_of(const Ring& ring, const EdgeStretch& stretch, std::size_t next_first) {
  Course course;
  course.allowance = course.start = course.end = stretch.allowance.value;
  std::size_t i = stretch.first;
  do {
    course.points.push_back(ring[i]);
    i = (i + 1) % ring.size();
  } while (i != next_first);
  course.points.push_back(ring[i]);
  course.along.push_back(0);
  for (std::size_t k = 1; k < course.points.size(); ++k) {
    course.along.push_back(course.along.back() + distance(course.points[k - 1], course.points[k]));
  }
  return course;
}

double turn_between(Vec2 a, Vec2 b) { return std::atan2(cross(a, b), dot(a, b)); }

/// Lets the allowances of two courses that meet smoothly run into each other.
void fade(Course& from, Course& to, const ExtendOptions& options) {
  if (from.allowance == to.allowance) return;
  const Vec2 arriving = from.points.back() - from.points[from.points.size() - 2];
  const Vec2 leaving = to.points[1] - to.points[0];
  if (std::abs(turn_between(arriving, leaving)) > options.corner.radians) return;
  const double half = options.transition.value / 2;
  const double before = std::min(half, from.length() / 2);
  const double after = std::min(half, to.length() / 2);
  if (before + after <= kSamePlace) return;
  from.fade_out = before;
  to.fade_in = after;
  from.end = to.start = std::lerp(from.allowance, to.allowance, before / (before + after));
}

/// Places where the allowance changes its course between vertices.
std::vector<double> breaks(const Course& course) {
  std::vector<double> places;
  const auto zero_between = [&places](double s0, double d0, double s1, double d1) {
    if (d0 * d1 < 0) places.push_back(std::lerp(s0, s1, d0 / (d0 - d1)));
  };
  if (course.fade_in > 0) {
    zero_between(0, course.start, course.fade_in, course.allowance);
    places.push_back(course.fade_in);
  }
  if (course.fade_out > 0) {
    const double from = course.length() - course.fade_out;
    places.push_back(from);
    zero_between(from, course.allowance, course.length(), course.end);
  }
  std::sort(places.begin(), places.end());
  return places;
}

/// Appends the nodes of a course but its last, which the next course starts with.
void append_nodes(const Course& course, const EdgeStretch& stretch, Corner within, FoldLine& line) {
  const std::vector<double> places = breaks(course);
  std::size_t place = 0;
  const auto append = [&](Vec2 at, double s) {
    FoldNode node;
    node.at = at;
    node.before = node.after = course.allowance_at(s);
    if (std::abs(node.after) < 1e-12) node.before = node.after = 0;
    node.along = line.length + s;
    node.edge = course.edge;
    node.corner = within;
    line.nodes.push_back(node);
  };
  for (std::size_t k = 0; k + 1 < course.points.size(); ++k) {
    append(course.points[k], course.along[k]);
    if (k == 0) {
      line.nodes.back().stretch_starts = true;
      line.nodes.back().corner = stretch.corner;
    }
    for (; place < places.size() && places[place] < course.along[k + 1] - kSamePlace; ++place) {
      const double s = places[place];
      if (s <= line.nodes.back().along - line.length + kSamePlace) continue;
      const double share = (s - course.along[k]) / (course.along[k + 1] - course.along[k]);
      append(course.points[k] + share * (course.points[k + 1] - course.points[k]), s);
    }
  }
  line.length += course.length();
}

FoldLine line_of(std::vector<Course> courses, const Piece& piece, const ExtendOptions& options) {
  if (courses.size() > 1) {
    for (std::size_t i = 0; i < courses.size(); ++i) {
      fade(courses[i], courses[(i + 1) % courses.size()], options);
    }
  }
  FoldLine line;
  for (std::size_t i = 0; i < courses.size(); ++i) {
    const std::size_t start = line.nodes.size();
    append_nodes(courses[i], piece.edges[courses[i].edge], options.within, line);
    line.nodes[start].before = courses[(i + courses.size() - 1) % courses.size()].end;
  }
  for (std::size_t i = 0; i < line.nodes.size(); ++i) {
    line.nodes[i].turn =
        turn_between(line.nodes[i].at - line.last(i).at, line.next(i).at - line.nodes[i].at);
  }
  return line;
}

}  // namespace

std::vector<FoldLine> fold_lines(const Piece& piece, const ExtendOptions& options) {
  std::vector<FoldLine> lines;
  for (std::size_t e = 0; e < piece.edges.size();) {
    const std::size_t ring = piece.edges[e].ring;
    const std::size_t first = e;
    std::vector<Course> courses;
    for (; e < piece.edges.size() && piece.edges[e].ring == ring; ++e) {
      const bool goes_on = e + 1 < piece.edges.size() && piece.edges[e + 1].ring == ring;
      courses.push_back(course_of(ring_of(piece.fold, ring), piece.edges[e],
                                  piece.edges[goes_on ? e + 1 : first].first));
      courses.back().edge = e;
    }
    lines.push_back(line_of(std::move(courses), piece, options));
  }
  return lines;
}

Vec2 outward(Vec2 from, Vec2 to) {
  const Vec2 along = to - from;
  return Vec2{along.y, -along.x} / length(along);
}

Vec2 outward_at(const FoldLine& line, std::size_t i) {
  const Vec2 n1 = outward(line.last(i).at, line.nodes[i].at);
  const Vec2 n2 = outward(line.nodes[i].at, line.next(i).at);
  const Vec2 sum = n1 + n2;
  if (length(sum) > 1e-6) return sum / length(sum);
  const Vec2 ahead = line.nodes[i].at - line.last(i).at;  // a hairpin: straight on
  return (line.nodes[i].turn > 0 ? 1 : -1) * (ahead / length(ahead));
}

}  // namespace film::pattern::detail
