#include "engine.h"

#include <vector>

#include <polyclipping/clipper.hpp>

#include "base/rng.h"
#include "base/text.h"
#include "figure.h"
#include "host/stop.h"
#include "layout/detail/collision/engine.h"
#include "layout/verify.h"
#include "shapes.h"

namespace film::bench {
namespace {

using namespace layout;

struct Question {
  std::size_t a, b;      // items
  std::uint32_t pa, pb;  // their poses
  Vec2 apart;            // of a's origin from b's
};

/// Pairs of pieces about as far apart as a search asks for them: within reach of each other.
std::vector<Question> questions(const Problem& problem, const detail::Engine& engine, int count) {
  Rng rng(3);
  std::vector<Question> out;
  for (int i = 0; i < count; ++i) {
    const std::size_t a = rng.below(problem.items.size());
    const std::size_t b = rng.below(problem.items.size());
    const auto& poses_a = engine.poses_of(engine.kind_of_item(a));
    const auto& poses_b = engine.poses_of(engine.kind_of_item(b));
    const std::uint32_t pa = poses_a[rng.below(poses_a.size())];
    const std::uint32_t pb = poses_b[rng.below(poses_b.size())];
    const Box& box_a = engine.pose(pa).box;
    const Box& box_b = engine.pose(pb).box;
    out.push_back({a,
                   b,
                   pa,
                   pb,
                   {rng.uniform(box_b.low.x - box_a.high.x, box_b.high.x - box_a.low.x),
                    rng.uniform(box_b.low.y - box_a.high.y, box_b.high.y - box_a.low.y)}});
  }
  return out;
}

ClipperLib::Path path_of(const Ring& ring, double scale) {
  ClipperLib::Path path;
  for (const Vec2 p : ring) {
    path.emplace_back(static_cast<ClipperLib::cInt>(p.x * scale),
                      static_cast<ClipperLib::cInt>(p.y * scale));
  }
  return path;
}

/// Questions a second answered by intersecting the outlines.
double peer_rate(const Problem& problem, const detail::Engine& engine,
                 const std::vector<Question>& asked, std::vector<char>& overlaps) {
  const double scale = 1e7 / problem.strip.width;
  const host::Stopwatch watch;
  for (const Question& q : asked) {
    const Ring a = film::apply(Placement{engine.pose(q.pa).turn, q.apart},
                               std::span<const Vec2>(problem.items[q.a].shape.outer));
    const Ring b = film::apply(Placement{engine.pose(q.pb).turn, {}},
                               std::span<const Vec2>(problem.items[q.b].shape.outer));
    ClipperLib::Clipper clipper;
    clipper.AddPath(path_of(a, scale), ClipperLib::ptSubject, true);
    clipper.AddPath(path_of(b, scale), ClipperLib::ptClip, true);
    ClipperLib::Paths both;
    clipper.Execute(ClipperLib::ctIntersection, both);
    overlaps.push_back(both.empty() ? 0 : 1);
  }
  return static_cast<double>(asked.size()) / watch.seconds();
}

struct Rate {
  double per_second = 0;
  double share_overlapping = 0;
};

Rate own_rate(const detail::Engine& engine, const std::vector<Question>& asked, int rounds) {
  std::size_t deep = 0;
  const host::Stopwatch watch;
  for (int round = 0; round < rounds; ++round) {
    for (const Question& q : asked) {
      if (engine.relation(q.pa, q.pb).depth(q.apart) > 0) ++deep;
    }
  }
  const double total = static_cast<double>(asked.size()) * rounds;
  return {total / watch.seconds(), static_cast<double>(deep) / total};
}

}  // namespace

void collision_engine() {
  constexpr int kPairs = 2000;
  const Problem problem = instance("gardeyn3");
  const detail::Engine engine(problem);
  const std::vector<Question> asked = questions(problem, engine, kPairs);
  const host::Stopwatch making;
  own_rate(engine, asked, 1);  // makes the fields
  const double made = making.seconds();
  const Rate own = own_rate(engine, asked, 200);
  std::vector<char> overlaps;
  const double peer = peer_rate(problem, engine, asked, overlaps);
  int different = 0;
  for (std::size_t i = 0; i < asked.size(); ++i) {
    const bool ours = engine.relation(asked[i].pa, asked[i].pb).depth(asked[i].apart) > 0;
    if (ours != (overlaps[i] != 0)) ++different;
  }
  say("collision engine on gardeyn3: questions a second, and against intersecting the outlines",
      format("{:.1f} million, {:.0f} times", own.per_second / 1e6, own.per_second / peer),
      "at least 50 times", "polyclipping 6.4.2, same pairs, same run", own.per_second >= 50 * peer);
  say("the same: pairs of 2,000 judged otherwise than by the intersection", format("{}", different),
      "at most 2 %: outlines are simplified outwards", "polyclipping 6.4.2",
      different <= kPairs / 50);
  say("the same: making the conflict fields of 2,000 pairs", format("{:.2f} s", made), "", "",
      std::nullopt);
  for (const int copies : {1, 4}) {
    Problem more = problem;
    for (Item& item : more.items) item.quantity = copies;
    const detail::Engine grown(more);
    const std::vector<Question> same = questions(more, grown, kPairs);
    own_rate(grown, same, 1);
    say(format("the same with {} pieces: questions a second", 100 * copies),
        format("{:.1f} million", own_rate(grown, same, 100).per_second / 1e6), "", "",
        std::nullopt);
  }
}

}  // namespace film::bench
