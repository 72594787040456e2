#include "layout/verify.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

#include "base/text.h"
#include "geometry/box.h"
#include "geometry/predicates.h"

namespace film::layout {
namespace {

/// A corner or an edge of `ring` at which a point lies.
struct Contact {
  const Ring* ring;
  std::size_t at;
  bool corner;
};

std::vector<const Ring*> rings_of(const Polygon& polygon) {
  std::vector<const Ring*> rings{&polygon.outer};
  for (const Ring& hole : polygon.holes) rings.push_back(&hole);
  return rings;
}

bool in_box_of(Vec2 a, Vec2 b, Vec2 p) {
  return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
         p.y <= std::max(a.y, b.y);
}

/// meet, for pairs of which most are far apart.
Meeting meeting_of(Vec2 p0, Vec2 p1, Vec2 q0, Vec2 q1) {
  if (std::max(p0.x, p1.x) < std::min(q0.x, q1.x) || std::max(q0.x, q1.x) < std::min(p0.x, p1.x) ||
      std::max(p0.y, p1.y) < std::min(q0.y, q1.y) || std::max(q0.y, q1.y) < std::min(p0.y, p1.y)) {
    return Meeting::none;
  }
  return meet(p0, p1, q0, q1);
}

std::vector<Contact> contacts_of(const Polygon& polygon, Vec2 p) {
  std::vector<Contact> contacts;
  for (const Ring* ring : rings_of(polygon)) {
    for (std::size_t i = 0; i < ring->size(); ++i) {
      const Vec2 a = (*ring)[i];
      const Vec2 b = (*ring)[(i + 1) % ring->size()];
      if (p == a) {
        contacts.push_back({ring, i, true});
      } else if (p != b && in_box_of(a, b, p) && meet(a, b, p, p) != Meeting::none) {
        contacts.push_back({ring, i, false});
      }
    }
  }
  return contacts;
}

/// Which way the ray from a boundary point towards `to` leaves, seen from the region whose
/// boundary it is (region on the left of its rings).
enum class Way { inside, outside, along, against };

Way way_from(const Contact& contact, Vec2 from, Vec2 to) {
  const Ring& ring = *contact.ring;
  const std::size_t n = ring.size();
  const Vec2 after = ring[(contact.at + 1) % n];
  if (!contact.corner) {
    const Vec2 before = ring[contact.at];
    const int turn = orientation(before, after, to);
    if (turn != 0) return turn > 0 ? Way::inside : Way::outside;
    return dot(to - from, after - before) > 0 ? Way::along : Way::against;
  }
  const Vec2 before = ring[(contact.at + n - 1) % n];
  if (orientation(from, after, to) == 0 && dot(to - from, after - from) > 0) return Way::along;
  if (orientation(from, before, to) == 0 && dot(to - from, before - from) > 0) {
    return Way::against;
  }
  const bool left_of_first = orientation(before, from, to) > 0;
  const bool left_of_second = orientation(from, after, to) > 0;
  const bool convex = orientation(before, from, after) >= 0;
  const bool inside = convex ? left_of_first && left_of_second : left_of_first || left_of_second;
  return inside ? Way::inside : Way::outside;
}

/// Does the open stretch from-to, which meets the boundary of `region` nowhere or lies along it,
/// run inside the region or along its boundary in the same direction? `before` is the answer for
/// the stretch that ends at `from`: away from the boundary the answer cannot change.
bool runs_inside(const Polygon& region, Vec2 from, Vec2 to, std::optional<bool> before) {
  const std::vector<Contact> contacts = contacts_of(region, from);
  if (contacts.empty()) return before ? *before : side_of(region, from) == Side::inside;
  return std::any_of(contacts.begin(), contacts.end(), [&](const Contact& contact) {
    const Way way = way_from(contact, from, to);
    return way == Way::inside || way == Way::along;
  });
}

/// The edge's ends and every corner of `other` on it, in order along it.
std::vector<Vec2> stations(Vec2 a, Vec2 b, const Polygon& other) {
  std::vector<Vec2> points{a, b};
  for (const Ring* ring : rings_of(other)) {
    for (const Vec2 p : *ring) {
      if (p != a && p != b && in_box_of(a, b, p) && meet(a, b, p, p) != Meeting::none)
        points.push_back(p);
    }
  }
  // All lie on one line, so the coordinate in which the edge is longer orders them.
  const bool by_x = std::abs(b.x - a.x) >= std::abs(b.y - a.y);
  const bool up = by_x ? a.x < b.x : a.y < b.y;
  std::sort(points.begin(), points.end(), [=](Vec2 p, Vec2 q) {
    const double u = by_x ? p.x : p.y;
    const double v = by_x ? q.x : q.y;
    return up ? u < v : u > v;
  });
  return points;
}

struct Edge {
  Vec2 from, to;
};

/// Edges of the region whose box touches `box`.
std::vector<Edge> edges_near(const Polygon& polygon, const Box& box) {
  std::vector<Edge> edges;
  for (const Ring* ring : rings_of(polygon)) {
    for (std::size_t i = 0; i < ring->size(); ++i) {
      const Edge edge{(*ring)[i], (*ring)[(i + 1) % ring->size()]};
      Box around;
      around.add(edge.from);
      around.add(edge.to);
      if (around.touches(box)) edges.push_back(edge);
    }
  }
  return edges;
}

/// What both boxes cover, `by` wider all round; empty when they are farther apart.
Box shared_box(const Polygon& a, const Polygon& b, double by) {
  const Box p = bounding_box(a);
  const Box q = bounding_box(b);
  return {{std::max(p.low.x, q.low.x) - by, std::max(p.low.y, q.low.y) - by},
          {std::min(p.high.x, q.high.x) + by, std::min(p.high.y, q.high.y) + by}};
}

/// The closest way in which two edges, one of each region, meet.
Meeting closest_meeting(const Polygon& a, const Polygon& b) {
  const Box shared = shared_box(a, b, 0);
  Meeting closest = Meeting::none;
  if (shared.empty()) return closest;
  const std::vector<Edge> others = edges_near(b, shared);
  for (const Edge& edge : edges_near(a, shared)) {
    for (const Edge& other : others) {
      const Meeting meeting = meeting_of(edge.from, edge.to, other.from, other.to);
      if (meeting == Meeting::cross) return meeting;
      if (meeting != Meeting::none) closest = meeting;
    }
  }
  return closest;
}

/// With no two edges crossing: does some of `a`'s boundary run inside `b`, or along its boundary
/// with both regions on the same side?
bool boundary_enters(const Polygon& a, const Polygon& b) {
  const Box box = bounding_box(b);
  for (const Ring* ring : rings_of(a)) {
    std::optional<bool> inside;
    for (std::size_t i = 0; i < ring->size(); ++i) {
      const Vec2 p0 = (*ring)[i];
      const Vec2 p1 = (*ring)[(i + 1) % ring->size()];
      Box edge;
      edge.add(p0);
      edge.add(p1);
      if (!edge.touches(box)) {
        inside = false;
        continue;
      }
      const std::vector<Vec2> points = stations(p0, p1, b);
      for (std::size_t k = 0; k + 1 < points.size(); ++k) {
        if (points[k] == points[k + 1]) continue;
        inside = runs_inside(b, points[k], points[k + 1], inside);
        if (*inside) return true;
      }
    }
  }
  return false;
}

long double squared_distance(Vec2 a, Vec2 b, Vec2 p) {
  using Real = long double;
  const Real ux = Real{b.x} - Real{a.x};
  const Real uy = Real{b.y} - Real{a.y};
  const Real dx = Real{p.x} - Real{a.x};
  const Real dy = Real{p.y} - Real{a.y};
  const Real square = ux * ux + uy * uy;
  const Real along = dx * ux + dy * uy;
  if (along <= 0 || square == 0) return dx * dx + dy * dy;
  if (along >= square) {
    const Real ex = Real{p.x} - Real{b.x};
    const Real ey = Real{p.y} - Real{b.y};
    return ex * ex + ey * ey;
  }
  const Real side = ux * dy - uy * dx;
  return side * side / square;
}

/// Least distance, squared, of a corner of `a` to an edge of `b`; those farther than `within` in x
/// or y are left out.
long double least_corner_distance(const Polygon& a, const Polygon& b, double within) {
  long double least = std::numeric_limits<long double>::infinity();
  Box near = bounding_box(b);
  near.low -= Vec2{within, within};
  near.high += Vec2{within, within};
  Box reach = bounding_box(a);
  reach.low -= Vec2{within, within};
  reach.high += Vec2{within, within};
  const std::vector<Edge> edges = edges_near(b, reach);
  for (const Ring* ring : rings_of(a)) {
    for (const Vec2 p : *ring) {
      if (!near.contains(p)) continue;
      for (const Edge& edge : edges) {
        const Vec2 u = edge.from;
        const Vec2 v = edge.to;
        if (std::min(u.x, v.x) - within > p.x || std::max(u.x, v.x) + within < p.x ||
            std::min(u.y, v.y) - within > p.y || std::max(u.y, v.y) + within < p.y) {
          continue;
        }
        least = std::min(least, squared_distance(u, v, p));
      }
    }
  }
  return least;
}

/// The distance of two regions whose insides do not meet, when it is below `within`; else something
/// not below.
double distance_if_near(const Polygon& a, const Polygon& b, double within) {
  if (closest_meeting(a, b) != Meeting::none) return 0;
  const double reach = within * (1 + 1e-12);
  return static_cast<double>(
      std::sqrt(std::min(least_corner_distance(a, b, reach), least_corner_distance(b, a, reach))));
}

/// Collects violations of one solution.
class Inspection {
 public:
  Inspection(const Problem& problem, const Solution& solution)
      : problem_(problem), solution_(solution) {}

  std::vector<Violation> run(std::span<const PlacedPiece> locked) {
    check_count();
    if (!violations_.empty()) return std::move(violations_);
    for (const PlacedPiece& piece : solution_.placements) {
      outlines_.push_back(outline_of(problem_, piece));
      boxes_.push_back(bounding_box(outlines_.back()));
    }
    for (std::size_t i = 0; i < outlines_.size(); ++i) {
      check_turn(i);
      check_inside(i);
      check_defects(i);
      check_frame(i);
    }
    check_groups();
    check_pairs();
    check_locks(locked);
    check_length();
    return std::move(violations_);
  }

 private:
  void add(Rule rule, std::vector<std::size_t> placements, std::string what) {
    violations_.push_back({rule, std::move(placements), std::move(what)});
  }
  [[nodiscard]] std::string name(std::size_t i) const {
    const PlacedPiece& piece = solution_.placements[i];
    return format("{} ({})", problem_.items[piece.item].id, piece.copy);
  }

  void check_count() {
    std::set<std::pair<std::size_t, int>> seen;
    for (std::size_t i = 0; i < solution_.placements.size(); ++i) {
      const PlacedPiece& piece = solution_.placements[i];
      count(piece.item, piece.copy, {i}, seen);
    }
    for (const Unplaced& piece : solution_.unplaced) count(piece.item, piece.copy, {}, seen);
    if (violations_.empty() && seen.size() != copies_in(problem_)) {
      add(Rule::count, {}, format("{} of {} copies are named", seen.size(), copies_in(problem_)));
    }
  }
  void count(std::size_t item, int copy, std::vector<std::size_t> at,
             std::set<std::pair<std::size_t, int>>& seen) {
    if (item >= problem_.items.size() || copy < 0 || copy >= problem_.items[item].quantity) {
      add(Rule::count, std::move(at), format("there is no copy {} of item {}", copy, item));
    } else if (!seen.insert({item, copy}).second) {
      add(Rule::count, std::move(at),
          format("copy {} of {} is there twice", copy, problem_.items[item].id));
    }
  }

  void check_turn(std::size_t i) {
    const PlacedPiece& piece = solution_.placements[i];
    const std::vector<Angle>& turns = problem_.items[piece.item].turns;
    const bool allowed = turns.empty() || std::any_of(turns.begin(), turns.end(), [&](Angle turn) {
                           const double off = turn.radians - piece.placement.turn;
                           return std::abs(std::remainder(off, 2 * std::numbers::pi)) <= 1e-12;
                         });
    if (!allowed) add(Rule::turn, {i}, name(i) + " is turned as it may not be");
  }

  void check_inside(std::size_t i) {
    const Strip& strip = problem_.strip;
    const Box& box = boxes_[i];
    const double end = std::min(strip.maximum_length, solution_.length);
    if (!(box.low.x >= strip.margins.start && box.low.y >= strip.margins.low &&
          box.high.y <= strip.width - strip.margins.high &&
          box.high.x + strip.margins.end <= end)) {
      add(Rule::outside, {i}, name(i) + " reaches over an edge of the strip");
    }
  }

  void check_defects(std::size_t i) {
    for (const Polygon& defect : problem_.strip.defects) {
      if (boxes_[i].touches(bounding_box(defect)) && interiors_meet(outlines_[i], defect)) {
        add(Rule::defect, {i}, name(i) + " covers a defect");
      }
    }
  }

  void check_frame(std::size_t i) {
    const double frame = problem_.strip.frame;
    if (frame == 0) return;
    if (std::floor(boxes_[i].low.x / frame) < std::ceil(boxes_[i].high.x / frame) - 1) {
      add(Rule::frame, {i}, name(i) + " crosses the end of a frame");
    }
  }

  void check_groups() {
    if (problem_.grouping == Grouping::free) return;
    const std::vector<std::string> groups = groups_of(problem_);
    double before = -std::numeric_limits<double>::infinity();
    for (const std::string& group : groups) {
      double last = before;
      for (std::size_t i = 0; i < boxes_.size(); ++i) {
        if (problem_.items[solution_.placements[i].item].group != group) continue;
        const double middle = boxes_[i].centre().x;
        if (middle < before) add(Rule::group, {i}, name(i) + " lies before an earlier group");
        last = std::max(last, middle);
      }
      before = last;
    }
  }

  void check_pairs() {
    std::vector<std::size_t> order(outlines_.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::sort(order.begin(), order.end(),
              [&](std::size_t a, std::size_t b) { return boxes_[a].low.x < boxes_[b].low.x; });
    const double gap = problem_.strip.gap;
    std::vector<std::size_t> open;
    for (const std::size_t i : order) {
      std::erase_if(open, [&](std::size_t k) { return boxes_[k].high.x + gap < boxes_[i].low.x; });
      for (const std::size_t k : open) check_pair(std::min(i, k), std::max(i, k));
      open.push_back(i);
    }
  }
  void check_pair(std::size_t i, std::size_t k) {
    const double gap = problem_.strip.gap;
    Box wide = boxes_[i];
    wide.low -= Vec2{gap, gap};
    wide.high += Vec2{gap, gap};
    if (!wide.touches(boxes_[k])) return;
    if (interiors_meet(outlines_[i], outlines_[k])) {
      add(Rule::overlap, {i, k}, format("{} and {} overlap", name(i), name(k)));
    } else if (gap > 0) {
      const double apart = distance_if_near(outlines_[i], outlines_[k], gap);
      if (apart < gap) {
        add(Rule::gap, {i, k},
            format("{} and {} are {:.6g} apart, not {:.6g}", name(i), name(k), apart, gap));
      }
    }
  }

  void check_locks(std::span<const PlacedPiece> locked) {
    for (const PlacedPiece& lock : locked) {
      const auto at = std::find(solution_.placements.begin(), solution_.placements.end(), lock);
      if (at == solution_.placements.end()) add(Rule::lock, {}, "a locked piece has moved");
    }
  }

  void check_length() {
    const double length = length_of(problem_, solution_.placements);
    const double density = density_of(problem_, solution_.placements, length);
    if (length != solution_.length || std::abs(density - solution_.density) > 1e-12) {
      add(Rule::length, {},
          format("length {} is stated, the pieces need {}", solution_.length, length));
    }
  }

  const Problem& problem_;
  const Solution& solution_;
  std::vector<Polygon> outlines_;
  std::vector<Box> boxes_;
  std::vector<Violation> violations_;
};

}  // namespace

std::string_view name_of(Rule rule) {
  switch (rule) {
    case Rule::overlap: return "overlap";
    case Rule::gap: return "gap";
    case Rule::outside: return "outside";
    case Rule::defect: return "defect";
    case Rule::frame: return "frame";
    case Rule::group: return "group";
    case Rule::turn: return "turn";
    case Rule::count: return "count";
    case Rule::lock: return "lock";
    case Rule::length: return "length";
  }
  return "unknown";
}

bool interiors_meet(const Polygon& a, const Polygon& b) {
  switch (closest_meeting(a, b)) {
    case Meeting::cross: return true;
    case Meeting::none:  // apart, or one wholly in the other
      return side_of(b, a.outer.front()) == Side::inside ||
             side_of(a, b.outer.front()) == Side::inside;
    default: return boundary_enters(a, b) || boundary_enters(b, a);
  }
}

double distance_between(const Polygon& a, const Polygon& b) {
  if (interiors_meet(a, b)) return 0;
  return distance_if_near(a, b, std::numeric_limits<double>::infinity());
}

std::vector<Violation> verify(const Problem& problem, const Solution& solution,
                              std::span<const PlacedPiece> locked) {
  return Inspection(problem, solution).run(locked);
}

}  // namespace film::layout
