#include "workbench/browse.h"

#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
namespace {

JobView view_of(store::Book& book, shop::Job job) {
  auto layouts = book.layouts(job.id);
  auto cuts = book.cuts(job.id);
  return {std::move(job), std::move(layouts), std::move(cuts)};
}

}  // namespace

Result<shop::Settings> shop_settings(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) -> Result<shop::Settings> {
    if (auto settings = book.settings()) return std::move(*settings);
    return fail(ErrorCode::not_found, "the book has no shop yet", "shop",
                "Start the server with --demo to look at the demo shop.");
  });
}

Result<std::vector<VehicleSummary>> vehicles(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) {
    std::vector<VehicleSummary> all;
    for (auto& line : book.vehicles()) {
      all.push_back({std::move(line.id), std::move(line.name), line.version, line.panels});
    }
    return all;
  });
}

Result<std::vector<shop::Film>> films(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { return book.films(); });
}

Result<std::vector<shop::Roll>> rolls(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { return book.rolls(); });
}

Result<std::vector<shop::KnifeProfile>> profiles(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { return book.profiles(); });
}

Result<JobPage> jobs(Workbench& workbench, const JobList& list) {
  return workbench.store().look([&list](store::Book& book) -> Result<JobPage> {
    if (!list.before.empty()) {
      if (auto known = find_job(book, list.before); !known) return Failure(known.error());
    }
    store::JobQuery query{list.text, {}, list.before, list.most + 1};
    if (list.state) query.states = {*list.state};
    auto found = book.jobs(query);
    JobPage page;
    if (found.size() > list.most) {
      found.resize(list.most);
      page.next = found.back().id;
    }
    for (auto& job : found) page.jobs.push_back(view_of(book, std::move(job)));
    return page;
  });
}

Result<JobView> job(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&id](store::Book& book) -> Result<JobView> {
    auto found = find_job(book, id);
    if (!found) return Failure(found.error());
    return view_of(book, std::move(*found));
  });
}

Result<std::vector<shop::HistoryEntry>> history(Workbench& workbench, const std::string& job) {
  return workbench.store().look(
      [&job](store::Book& book) -> Result<std::vector<shop::HistoryEntry>> {
        const auto found = find_job(book, job);
        if (!found) return Failure(found.error());
        return book.history(job);
      });
}

Result<void> check_ready(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { (void)book.settings(); });
}

}  // namespace film::workbench
