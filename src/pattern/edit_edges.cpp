#include "pattern/edit_edges.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <utility>

#include "base/text.h"
#include "pattern/detail/carried_over.h"

namespace film::pattern {
namespace {

Failure refuse(const Piece& piece, const std::string& edge, std::string what, std::string remedy,
               ErrorCode code = ErrorCode::invalid_input) {
  return fail(code, std::move(what), format("piece \"{}\" edge \"{}\"", piece.id, edge),
              std::move(remedy));
}

std::vector<EdgeStretch>::iterator find_edge(Piece& piece, const std::string& name) {
  return std::find_if(piece.edges.begin(), piece.edges.end(),
                      [&name](const EdgeStretch& edge) { return edge.name == name; });
}

std::string numbered(Piece& piece, const std::string& name) {
  for (int k = 2;; ++k) {
    std::string candidate = format("{} {}", name, k);
    if (find_edge(piece, candidate) == piece.edges.end()) return candidate;
  }
}

/// A place on a stretch: between the vertex and the one after it.
struct Foot {
  std::size_t vertex = 0;
  Vec2 at;
};

Foot nearest_on(const Piece& piece, std::size_t e, Vec2 wanted) {
  const Ring& ring = ring_of(piece.fold, piece.edges[e].ring);
  const std::size_t end = detail::end_of(piece, e);
  Foot best;
  double least = std::numeric_limits<double>::infinity();
  std::size_t i = piece.edges[e].first;
  do {
    const std::size_t next = (i + 1) % ring.size();
    const Vec2 way = ring[next] - ring[i];
    const double share = std::clamp(dot(wanted - ring[i], way) / dot(way, way), 0.0, 1.0);
    const Vec2 at = share == 1 ? ring[next] : ring[i] + share * way;
    if (distance(at, wanted) < least) {
      least = distance(at, wanted);
      best = {i, at};
    }
    i = next;
  } while (i != end);
  return best;
}

/// Puts a vertex into the ring, before the one now at `index` (or at the end).
void insert_vertex(Piece& piece, std::size_t ring, std::size_t index, Vec2 at) {
  Ring& points = ring == 0 ? piece.fold.outer : piece.fold.holes[ring - 1];
  points.insert(points.begin() + static_cast<std::ptrdiff_t>(index), at);
  for (EdgeStretch& edge : piece.edges) {
    if (edge.ring == ring && edge.first >= index) ++edge.first;
  }
}

Result<void> divide_at(Piece& piece, const std::string& name, Vec2 wanted) {
  constexpr double kSame = 1e-3;  // mm; nearer to a vertex, that vertex is meant
  const auto e = static_cast<std::size_t>(find_edge(piece, name) - piece.edges.begin());
  const std::size_t ring = piece.edges[e].ring;
  const Foot foot = nearest_on(piece, e, wanted);
  const Ring& points = ring_of(piece.fold, ring);
  const std::size_t next = (foot.vertex + 1) % points.size();
  std::size_t first = foot.vertex + 1;
  if (distance(foot.at, points[foot.vertex]) < kSame) {
    first = foot.vertex;
  } else if (distance(foot.at, points[next]) < kSame) {
    first = next;
  } else {
    insert_vertex(piece, ring, first, foot.at);
  }
  // A ring of one stretch starts and ends at the same vertex, and may be divided anywhere else.
  const bool at_end = first == piece.edges[e].first || first == detail::end_of(piece, e);
  if (at_end) {
    return refuse(piece, name, "it starts or ends there already",
                  "Choose a place between its ends");
  }
  EdgeStretch fresh = piece.edges[e];
  fresh.name = numbered(piece, name);
  fresh.first = first;
  piece.edges.push_back(std::move(fresh));
  std::sort(piece.edges.begin(), piece.edges.end(), [](const EdgeStretch& a, const EdgeStretch& b) {
    return std::pair(a.ring, a.first) < std::pair(b.ring, b.first);
  });
  return {};
}

Result<void> join_next(Piece& piece, const std::string& name) {
  const auto edge = find_edge(piece, name);
  const std::size_t ring = edge->ring;
  auto next = edge + 1;
  if (next == piece.edges.end() || next->ring != ring) {
    next = std::find_if(piece.edges.begin(), piece.edges.end(),
                        [ring](const EdgeStretch& other) { return other.ring == ring; });
  }
  if (next == edge) {
    return refuse(piece, name, "it is the whole ring and has no other stretch to join", "");
  }
  piece.edges.erase(next);
  return {};
}

Result<void> rename(Piece& piece, const std::string& name, const std::string& wanted) {
  if (wanted.empty()) return refuse(piece, name, "the new name is empty", "Give it a name");
  const auto taken = find_edge(piece, wanted);
  const auto edge = find_edge(piece, name);
  if (taken != piece.edges.end() && taken != edge) {
    return refuse(piece, name, format("another stretch is called \"{}\"", wanted),
                  "Choose another name");
  }
  edge->name = wanted;
  return {};
}

Result<void> apply(Piece& piece, const EdgeEdit& edit) {
  if (find_edge(piece, edit.edge) == piece.edges.end()) {
    return refuse(piece, edit.edge, "there is no such stretch", "Choose one of the piece's edges",
                  ErrorCode::not_found);
  }
  if (edit.divide_at) {
    if (auto done = divide_at(piece, edit.edge, *edit.divide_at); !done) return done;
  }
  if (edit.join_next) {
    if (auto done = join_next(piece, edit.edge); !done) return done;
  }
  const auto edge = find_edge(piece, edit.edge);
  if (edit.kind) edge->kind = *edit.kind;
  if (edit.allowance) edge->allowance = *edit.allowance;
  if (edit.corner) edge->corner = *edit.corner;
  return edit.name ? rename(piece, edit.edge, *edit.name) : Result<void>{};
}

}  // namespace

Result<Piece> edited(Piece piece, std::span<const EdgeEdit> edits) {
  if (auto checked = check_edges(piece); !checked) return Failure(checked.error());
  for (const EdgeEdit& edit : edits) {
    if (auto done = apply(piece, edit); !done) return Failure(done.error());
  }
  if (auto checked = check_edges(piece); !checked) return Failure(checked.error());
  return piece;
}

}  // namespace film::pattern
