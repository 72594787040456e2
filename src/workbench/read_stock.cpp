#include "workbench/read_stock.h"

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "exchange/layout_json.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {
namespace {

bool is_cut(const std::vector<shop::CutRun>& runs, const shop::KeptLayout& layout) {
  return std::any_of(runs.begin(), runs.end(), [&layout](const shop::CutRun& run) {
    return run.over && run.film == layout.film && run.roll == layout.roll && run.used > Mm{0};
  });
}

/// Length of roll that a panel of each film takes on average, over everything laid out.
class MeanLength {
 public:
  void add(const std::string& film, Mm length, std::size_t panels) {
    sums_[film].first += length.value;
    sums_[film].second += panels;
  }
  [[nodiscard]] Mm of(const std::string& film, std::size_t panels) const {
    const auto found = sums_.find(film);
    if (found == sums_.end() || found->second.second == 0) return Mm{0};
    return Mm{found->second.first / static_cast<double>(found->second.second) *
              static_cast<double>(panels)};
  }

 private:
  std::map<std::string, std::pair<double, std::size_t>> sums_;
};

std::size_t panels_of(const shop::Job& job, const std::string& film) {
  return static_cast<std::size_t>(
      std::count_if(job.scope.begin(), job.scope.end(),
                    [&film](const shop::ScopeItem& item) { return item.film == film; }));
}

bool is_done(const shop::Job& job) {
  return job.state == shop::JobState::handed_over || job.state == shop::JobState::cancelled;
}

/// Those that may need film, and of what is done as many as tell how much a panel takes.
std::vector<shop::Job> jobs_to_look_at(store::Book& book) {
  using shop::JobState;
  constexpr std::size_t kDone = 50;
  store::JobQuery open;
  open.states = {JobState::scoped,   JobState::laid_out,   JobState::cut_planned,
                 JobState::released, JobState::installing, JobState::inspected};
  open.most = std::size_t{1} << 40;
  store::JobQuery done;
  done.states = {JobState::handed_over};
  done.most = kDone;
  std::vector<shop::Job> jobs = book.jobs(open);
  for (shop::Job& job : book.jobs(done)) jobs.push_back(std::move(job));
  return jobs;
}

std::vector<shop::FilmNeed> needs_of(store::Book& book, const std::vector<shop::Supply>& supplies) {
  std::vector<shop::FilmNeed> needs;
  std::vector<std::pair<shop::Job, std::string>> unlaid;
  MeanLength mean;
  for (const shop::Job& job : jobs_to_look_at(book)) {
    const auto layouts = book.layouts(job.id);
    const auto runs = book.runs(job.id);
    for (const std::string& film : shop::films_of(job)) {
      Mm length{0};
      for (const shop::KeptLayout& layout : layouts) {
        if (layout.film != film) continue;
        length = length + layout.length;
        if (is_done(job) || is_cut(runs, layout)) continue;
        if (book.offcut(layout.roll)) continue;
        needs.push_back({film, layout.width, layout.length, job.id, ""});
      }
      if (length > Mm{0}) mean.add(film, length, panels_of(job, film));
      if (length == Mm{0} && shop::moves_of(job).size() > 0) unlaid.emplace_back(job, film);
    }
  }
  for (const auto& [job, film] : unlaid) {
    const auto supply = std::find_if(supplies.begin(), supplies.end(),
                                     [&f = film](const auto& s) { return s.film == f; });
    const Mm length = mean.of(film, panels_of(job, film));
    if (supply != supplies.end() && length > Mm{0}) {
      needs.push_back({film, supply->width, length, job.id, ""});
    }
  }
  return needs;
}

}  // namespace

Result<StockView> read_stock(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) {
    StockView view;
    view.rolls = book.rolls();
    view.offcuts = book.offcuts();
    const auto supplies = book.supplies();
    view.needs = needs_of(book, supplies);
    view.outlooks = shop::outlooks(supplies, view.rolls, view.needs, now().substr(0, 10));
    return view;
  });
}

Result<StockHistory> read_ledger(Workbench& workbench, const std::string& id) {
  return workbench.store().look([&id](store::Book& book) -> Result<StockHistory> {
    auto roll = book.roll(id);
    if (!roll) {
      return fail(ErrorCode::not_found, "there is no such roll or offcut", "roll " + id,
                  "Choose one of those in stock.");
    }
    return StockHistory{std::move(*roll), book.ledger(id)};
  });
}

Result<std::vector<PieceLot>> lots_of_job(Workbench& workbench, const std::string& job_id) {
  return workbench.store().look([&](store::Book& book) -> Result<std::vector<PieceLot>> {
    const auto job = find_job(book, job_id);
    if (!job) return Failure(job.error());
    std::vector<PieceLot> lots;
    for (const shop::KeptLayout& layout : book.layouts(job_id)) {
      const auto bytes = book.blob(layout.sheet);
      if (!bytes) return Failure(bytes.error());
      const auto sheet = exchange::read_layout_sheet(*bytes);
      if (!sheet) return Failure(sheet.error());
      const auto roll = book.roll(layout.roll);
      for (const exchange::LaidPiece& piece : sheet->pieces) {
        lots.push_back({piece.item, layout.film, layout.roll, roll ? roll->lot : "", ""});
      }
    }
    for (const shop::Recut& recut : book.recuts(job_id)) {
      for (PieceLot& lot : lots) {
        if (lot.piece != recut.piece || lot.film != recut.film) continue;
        lot.roll = recut.stock;
        lot.lot = recut.lot;
        lot.recut = recut.id;
      }
    }
    std::sort(lots.begin(), lots.end(), [](const PieceLot& a, const PieceLot& b) {
      return std::tie(a.film, a.piece) < std::tie(b.film, b.piece);
    });
    return lots;
  });
}

}  // namespace film::workbench
