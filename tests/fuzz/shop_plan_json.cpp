// Any bytes: either a shop with its jobs or an error that says where. A small shop is planned for a
// few rounds; the independent verifier looks at the plan, and a proof and a plan never meet.

#include "exchange/shop_plan_json.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "planning/verify_shop_plan.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  using namespace film;
  const auto utc = [](std::string_view) -> Result<Zone> { return Zone{}; };
  const auto file =
      exchange::read_shop_file(std::string_view(reinterpret_cast<const char*>(bytes), size), utc);
  if (!file) {
    if (file.error().what.empty() || file.error().where.empty()) std::abort();
    return 0;
  }
  std::size_t tasks = 0;
  for (const planning::Job& job : file->jobs) tasks += job.tasks.size();
  if (tasks > 60 || file->shop.people.size() > 8 || file->shop.bays.size() > 8) return 0;
  planning::ShopOptions options;
  options.iterations = 2;
  const auto answer = planning::plan_shop(file->shop, file->jobs, options, Context());
  if (!answer) return 0;
  if (!planning::verify_shop_plan(file->shop, file->jobs, answer->plan).empty()) std::abort();
  const bool kept = answer->score.unplanned == 0 && answer->score.broken == 0;
  if (kept && planning::find_shortage(file->shop, file->jobs, 0)) std::abort();
  return 0;
}
