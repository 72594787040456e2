#include "pattern/split.h"

#include <algorithm>
#include <limits>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "base/text.h"
#include "geometry/overlay.h"
#include "geometry/simplify.h"
#include "pattern/allowance.h"

namespace film::pattern {
namespace {

constexpr std::size_t kSeam = std::numeric_limits<std::size_t>::max();

/// Everything to the left of the line, far past the piece.
Ring left_side(const Polyline& line, const Box& box) {
  const double far = 4 * (box.width() + box.height()) + distance(box.centre(), line.front()) +
                     distance(box.centre(), line.back()) + length_of(line);
  const Vec2 arriving = line.back() - line[line.size() - 2];
  const Vec2 leaving = line[1] - line[0];
  Ring ring;
  ring.push_back(line.front() - (far / length(leaving)) * leaving);
  ring.insert(ring.end(), line.begin(), line.end());
  ring.push_back(line.back() + (far / length(arriving)) * arriving);
  const Vec2 along = line.back() - line.front();
  const Vec2 left = (far / length(along)) * left_of(along);
  ring.push_back(ring.back() + left);
  ring.push_back(ring.front() + left);
  return ring;
}

/// Vertex of its ring at which stretch e ends.
std::size_t end_of(const Piece& piece, std::size_t e) {
  const std::size_t ring = piece.edges[e].ring;
  if (e + 1 < piece.edges.size() && piece.edges[e + 1].ring == ring) {
    return piece.edges[e + 1].first;
  }
  const auto first = std::find_if(piece.edges.begin(), piece.edges.end(),
                                  [ring](const EdgeStretch& edge) { return edge.ring == ring; });
  return first->first;
}

/// Which stretch of the whole piece an edge of a part lies on.
std::size_t stretch_under(const Piece& whole, Vec2 a, Vec2 b) {
  constexpr double kOn = 1e-5;  // mm; the grid of the overlay is far finer
  for (std::size_t e = 0; e < whole.edges.size(); ++e) {
    const Ring& ring = ring_of(whole.fold, whole.edges[e].ring);
    std::size_t i = whole.edges[e].first;
    do {
      const std::size_t next = (i + 1) % ring.size();
      if (distance_to_segment(a, ring[i], ring[next]) < kOn &&
          distance_to_segment(b, ring[i], ring[next]) < kOn) {
        return e;
      }
      i = next;
    } while (i != end_of(whole, e));
  }
  return kSeam;
}

/// Gives the edges of a part their stretches again.
class Stretches {
 public:
  Stretches(const Piece& whole, Mm seam) : whole_(whole), seam_(seam) {}

  void add_ring(const Ring& ring, std::size_t number) {
    const std::size_t before = edges.size();
    std::vector<std::size_t> under;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      under.push_back(stretch_under(whole_, ring[i], ring[(i + 1) % ring.size()]));
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
    if (stretch == kSeam) return false;
    const EdgeStretch& edge = whole_.edges[stretch];
    return p == ring_of(whole_.fold, edge.ring)[edge.first];
  }
  void add(std::size_t stretch, std::size_t ring, std::size_t first) {
    EdgeStretch edge{"seam", EdgeKind::seam, ring, first, seam_, Corner::closed};
    if (stretch != kSeam) edge = whole_.edges[stretch];
    edge.ring = ring;
    edge.first = first;
    if (const std::size_t count = ++counts_[edge.name]; count > 1) {
      edge.name = format("{} {}", edge.name, count);
    }
    edges.push_back(std::move(edge));
  }

  const Piece& whole_;
  Mm seam_;
  std::map<std::string, std::size_t> counts_;
};

std::vector<EdgeStretch> stretches(const Piece& whole, const Polygon& fold, Mm seam) {
  Stretches result(whole, seam);
  for (std::size_t r = 0; r <= fold.holes.size(); ++r) result.add_ring(ring_of(fold, r), r);
  return std::move(result.edges);
}

Result<Piece> part_of(const Piece& whole, std::vector<Polygon> regions, std::size_t number,
                      Mm seam) {
  constexpr double kCrumb = 0.01;  // mm^2
  std::erase_if(regions, [](const Polygon& p) { return area(p) < kCrumb; });
  const std::string where = format("piece \"{}\"", whole.id);
  if (regions.empty()) {
    return fail(ErrorCode::invalid_input, "the line does not divide the piece", where,
                "Draw it from edge to edge");
  }
  if (regions.size() > 1) {
    return fail(ErrorCode::invalid_input,
                format("one side of the line would be {} pieces", regions.size()), where,
                "Divide it in several steps");
  }
  Piece part = whole;
  part.id = format("{}_{}", whole.id, number);
  part.name = format("{}, part {}", whole.name, number);
  part.fold = std::move(regions.front());
  part.cut = part.fold;
  part.slits.clear();
  part.edges = stretches(whole, part.fold, seam);
  std::erase_if(part.labels, [&part](const Label& label) {
    return side_of(part.fold, label.at) == Side::outside;
  });
  if (auto checked = check_edges(part); !checked) return Failure(checked.error());
  return part;
}

}  // namespace

Result<std::array<Piece, 2>> split(const Piece& piece, const Polyline& line,
                                   const SplitOptions& options, const Context& context) {
  if (auto checked = check_edges(piece); !checked) return Failure(checked.error());
  const bool short_line = line.size() < 2 || line[0] == line[1] || line.front() == line.back() ||
                          line.back() == line[line.size() - 2];
  if (short_line) {
    return fail(ErrorCode::invalid_input, "a dividing line needs two points apart",
                format("piece \"{}\"", piece.id));
  }
  Overlay overlay;
  overlay.add(0, piece.fold);
  overlay.add(1, left_side(line, bounding_box(piece.fold)));
  auto left =
      overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] > 0; }, context);
  if (!left) return Failure(left.error());
  auto right =
      overlay.region([](const Overlay::Windings& w) { return w[0] > 0 && w[1] <= 0; }, context);
  if (!right) return Failure(right.error());
  auto first = part_of(piece, std::move(*left), 1, options.overlap);
  if (!first) return Failure(first.error());
  auto second = part_of(piece, std::move(*right), 2, Mm{0});
  if (!second) return Failure(second.error());
  return std::array<Piece, 2>{std::move(*first), std::move(*second)};
}

}  // namespace film::pattern
