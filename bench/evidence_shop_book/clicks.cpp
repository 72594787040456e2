#include "evidence_shop_book/clicks.h"

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <vector>

#include "base/text.h"
#include "figure.h"
#include "host/stop.h"
#include "host/thread_executor.h"
#include "workbench/price_offer.h"
#include "workbench/seed_demo.h"

namespace film::bench {
namespace {

constexpr double kTarget = 0.3;  // seconds
const char* const kSource = "demo vehicle, whole body; target of the project";

void tell(const std::string& figure, double seconds) {
  say("price: " + figure, format("{:.0f} ms", 1000 * seconds), "under 300 ms", kSource,
      seconds < kTarget);
}

/// Seconds that each of the clicks takes: one panel less, then all again, for every panel.
std::vector<double> clicks(workbench::Workbench& workbench, const workbench::OfferOrder& all,
                           const Context& context) {
  std::vector<double> taken;
  for (std::size_t i = 0; i < all.scope.size(); ++i) {
    workbench::OfferOrder order = all;
    order.scope.erase(order.scope.begin() + static_cast<std::ptrdiff_t>(i));
    const host::Stopwatch watch;
    if (!workbench::price_offer(workbench, order, context)) return {};
    taken.push_back(watch.seconds());
  }
  std::sort(taken.begin(), taken.end());
  return taken;
}

}  // namespace

void measure_clicks() {
  const auto folder = std::filesystem::temp_directory_path() / "filmwright evidence of clicks";
  std::filesystem::remove_all(folder);
  host::ThreadExecutor executor(2);
  const Context context({}, {}, &executor);
  workbench::OfferOrder order;
  {
    const auto workbench = workbench::open_workbench(folder);
    const auto demo = workbench ? workbench::seed_demo(**workbench)
                                : Result<workbench::DemoShop>(Failure(workbench.error()));
    if (!demo) return void(std::fprintf(stderr, "%s\n", demo.error().message().c_str()));
    order.vehicle = demo->vehicle;
    order.scope = shop::scope_of(
        *workbench::propose_scope(**workbench, demo->vehicle, "full_body", "matte_conversion"));
    order.study = true;
    if (const auto offer = workbench::price_offer(**workbench, order, context); !offer) {
      return void(std::fprintf(stderr, "%s\n", offer.error().message().c_str()));
    }
    order.study = false;
    const std::vector<double> taken = clicks(**workbench, order, context);
    if (taken.empty()) return;
    tell(format("a click, {} panels, 95 % within", order.scope.size()),
         taken[taken.size() * 95 / 100]);
    tell(format("a click, {} panels, slowest of {}", order.scope.size(), taken.size()),
         taken.back());
  }
  const auto again = workbench::open_workbench(folder);
  if (!again) return;
  const host::Stopwatch watch;
  const auto offer = workbench::price_offer(**again, order, context);
  say("price: the first answer after the program starts", format("{:.2f} s", watch.seconds()), "",
      "demo vehicle, whole body, studied before", std::nullopt);
  if (offer && !offer->waiting.empty()) std::fprintf(stderr, "some panels were forgotten\n");
  std::filesystem::remove_all(folder);
}

}  // namespace film::bench
