#include <algorithm>
#include <numeric>

#include "base/text.h"
#include "cutting/detail/order.h"

namespace film::cutting::detail {

Result<std::vector<std::vector<std::size_t>>> frames_of(const std::vector<Line>& lines,
                                                        const Precedences& before, double most) {
  // A line reaches at least as far along the roll as anything that lies in it. Where they are
  // equal, the depth in the precedences decides.
  std::vector<std::size_t> depth(lines.size(), 0);
  for (bool changed = true; changed;) {
    changed = false;
    for (const auto& [first, second] : before) {
      if (depth[second] < depth[first] + 1 && depth[first] < lines.size()) {
        depth[second] = depth[first] + 1;
        changed = true;
      }
    }
  }
  std::vector<double> far(lines.size());
  for (std::size_t i = 0; i < lines.size(); ++i) far[i] = lines[i].box.high.x;
  // Thinning may have moved an outline's far end by less than its slit's or hole's.
  std::vector<std::size_t> order(lines.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return depth[a] < depth[b]; });
  auto sorted_pairs = before;
  std::stable_sort(sorted_pairs.begin(), sorted_pairs.end(),
                   [&](const auto& a, const auto& b) { return depth[a.second] < depth[b.second]; });
  for (const auto& [first, second] : sorted_pairs) far[second] = std::max(far[second], far[first]);
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return far[a] < far[b]; });

  std::vector<std::vector<std::size_t>> frames;
  Box frame;
  for (const std::size_t i : order) {
    if (lines[i].box.width() > most) {
      return fail(
          ErrorCode::invalid_input,
          format("a contour is {:.0f} mm long, but the machine feeds at most {:.0f} mm back "
                 "and forth",
                 lines[i].box.width(), most),
          "", "Turn the piece across the roll, or part it by a seam");
    }
    Box wider = frame;
    wider.add(lines[i].box);
    if (frames.empty() || wider.width() > most) {
      frames.emplace_back();
      wider = lines[i].box;
    }
    frame = wider;
    frames.back().push_back(i);
  }
  return frames;
}

}  // namespace film::cutting::detail
