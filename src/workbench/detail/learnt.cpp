#include "workbench/detail/learnt.h"

#include <algorithm>
#include <set>

#include "store/store.h"

namespace film::workbench {

Result<std::shared_ptr<const OfferCache::Learnt>> learnt_model(const Workbench& workbench,
                                                               const hours::Belief& belief) {
  auto before = workbench.offers().learnt();
  if (before && before->belief != belief) before.reset();
  const auto read_after = [&workbench](std::int64_t entry) {
    return workbench.store().look([entry](store::Book& book) { return book.worked_after(entry); });
  };
  auto records = read_after(before ? before->last_entry : 0);
  if (!records) return Failure(records.error());
  const auto strikes_learnt = [&](const shop::Worked& worked) {
    return before && worked.strikes != 0 && worked.strikes <= before->last_entry;
  };
  if (std::any_of(records->begin(), records->end(), strikes_learnt)) {
    before.reset();  // nothing that was learnt can be forgotten: begin again
    records = read_after(0);
    if (!records) return Failure(records.error());
  }
  if (before && records->empty()) return before;

  std::set<std::int64_t> struck;
  for (const shop::Worked& worked : *records) {
    if (worked.strikes != 0) struck.insert(worked.strikes);
  }
  auto learnt = std::make_shared<OfferCache::Learnt>(
      before ? *before : OfferCache::Learnt{belief, hours::Model(belief), 0});
  for (const shop::Worked& worked : *records) {
    learnt->last_entry = worked.entry;
    if (worked.task != shop::Task::laying || worked.strikes != 0) continue;
    if (struck.contains(worked.entry)) continue;
    learnt->model.learn({worked.who, worked.amounts, static_cast<double>(worked.minutes)});
  }
  workbench.offers().keep(learnt);
  return std::shared_ptr<const OfferCache::Learnt>(std::move(learnt));
}

}  // namespace film::workbench
