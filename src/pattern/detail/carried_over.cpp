#include "pattern/detail/carried_over.h"

#include <algorithm>
#include <limits>
#include <set>
#include <string>
#include <utility>

#include "base/text.h"
#include "geometry/simplify.h"

namespace film::pattern::detail {
namespace {

constexpr std::size_t kFresh = std::numeric_limits<std::size_t>::max();

constexpr double kOn = 1e-5;  // mm; the grid of the overlay is far finer

bool lies_on(const Piece& old, std::size_t e, Vec2 p) {
  const Ring& ring = ring_of(old.fold, old.edges[e].ring);
  const std::size_t end = end_of(old, e);
  std::size_t i = old.edges[e].first;
  do {
    const std::size_t next = (i + 1) % ring.size();
    if (distance_to_segment(p, ring[i], ring[next]) < kOn) return true;
    i = next;
  } while (i != end);
  return false;
}

/// Which stretch of the old piece an edge of the new fold lies on.
std::size_t stretch_under(const Piece& old, Vec2 a, Vec2 b) {
  for (std::size_t e = 0; e < old.edges.size(); ++e) {
    if (lies_on(old, e, 0.5 * (a + b)) && lies_on(old, e, a) && lies_on(old, e, b)) return e;
  }
  return kFresh;
}

/// Puts back the nodes at which stretches start and that lay in the middle of a straight line.
void put_starts_back(const Piece& old, Ring& ring) {
  Ring with;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i];
    const Vec2 b = ring[(i + 1) % ring.size()];
    std::vector<Vec2> between;
    for (const EdgeStretch& edge : old.edges) {
      const Vec2 p = ring_of(old.fold, edge.ring)[edge.first];
      const bool apart = distance(p, a) > kOn && distance(p, b) > kOn;
      if (apart && distance_to_segment(p, a, b) < kOn) between.push_back(p);
    }
    std::sort(between.begin(), between.end(),
              [a](Vec2 p, Vec2 q) { return distance(a, p) < distance(a, q); });
    with.push_back(a);
    with.insert(with.end(), between.begin(), between.end());
  }
  ring = std::move(with);
}

class Stretches {
 public:
  Stretches(const Piece& old, const EdgeStretch& fresh) : old_(old), fresh_(fresh) {
    for (const EdgeStretch& edge : old.edges) reserved_.insert(edge.name);
  }

  void add_ring(const Ring& ring, std::size_t number) {
    const std::size_t before = edges.size();
    std::vector<std::size_t> under;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      under.push_back(stretch_under(old_, ring[i], ring[(i + 1) % ring.size()]));
    }
    for (std::size_t i = 0; i < ring.size(); ++i) {
      if (under[i] != under[(i + ring.size() - 1) % ring.size()] || starts_at(under[i], ring[i])) {
        add(under[i], number, i);
      }
    }
    if (edges.size() == before) add(under.front(), number, 0);  // one stretch all round
  }

  std::vector<EdgeStretch> edges;

 private:
  [[nodiscard]] bool starts_at(std::size_t stretch, Vec2 p) const {
    if (stretch == kFresh) return false;
    const EdgeStretch& edge = old_.edges[stretch];
    return distance(p, ring_of(old_.fold, edge.ring)[edge.first]) < kOn;
  }
  void add(std::size_t stretch, std::size_t ring, std::size_t first) {
    EdgeStretch edge = stretch == kFresh ? fresh_ : old_.edges[stretch];
    edge.ring = ring;
    edge.first = first;
    const bool own_name = stretch != kFresh && used_.count(edge.name) == 0;
    if (!own_name) edge.name = free_name(edge.name);
    used_.insert(edge.name);
    edges.push_back(std::move(edge));
  }
  [[nodiscard]] std::string free_name(const std::string& wanted) const {
    std::string name = wanted;
    for (int k = 2; used_.count(name) != 0 || reserved_.count(name) != 0; ++k) {
      name = format("{} {}", wanted, k);
    }
    return name;
  }

  const Piece& old_;
  const EdgeStretch& fresh_;
  std::set<std::string> reserved_, used_;
};

}  // namespace

std::size_t end_of(const Piece& piece, std::size_t e) {
  const std::size_t ring = piece.edges[e].ring;
  if (e + 1 < piece.edges.size() && piece.edges[e + 1].ring == ring) {
    return piece.edges[e + 1].first;
  }
  const auto first = std::find_if(piece.edges.begin(), piece.edges.end(),
                                  [ring](const EdgeStretch& edge) { return edge.ring == ring; });
  return first->first;
}

std::vector<EdgeStretch> carried_over(const Piece& piece, Polygon& fold, const EdgeStretch& fresh) {
  put_starts_back(piece, fold.outer);
  for (Ring& hole : fold.holes) put_starts_back(piece, hole);
  Stretches result(piece, fresh);
  for (std::size_t r = 0; r <= fold.holes.size(); ++r) result.add_ring(ring_of(fold, r), r);
  return std::move(result.edges);
}

}  // namespace film::pattern::detail
