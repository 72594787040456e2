// Model and search follow the solver's own manual (C. Schulte, G. Tack, M. Lagerkvist, "Modeling
// and Programming with Gecode", 2019): cumulative scheduling, restarts with nogoods, accumulated
// failure counts, a portfolio of two searches.

#include "peer.h"

#include <algorithm>
#include <memory>
#include <vector>

#include <gecode/int.hh>
#include <gecode/minimodel.hh>
#include <gecode/search.hh>

#include "processor_time.h"

namespace film::bench {
namespace {

using planning::Project;
using planning::Time;

/// Two cores' worth of processor time, taken together: the two searches share nothing but it.
class ProcessorStop : public Gecode::Search::Stop {
 public:
  explicit ProcessorStop(double seconds) : seconds_(seconds) {}
  bool stop(const Gecode::Search::Statistics&, const Gecode::Search::Options&) override {
    return watch_.seconds() >= 2 * seconds_;
  }

 private:
  const double seconds_;
  ProcessorWatch watch_;
};

/// No shortest plan ends later: at every moment a task or a lag is under way.
int horizon_of(const Project& project) {
  std::vector<Time> longest;
  for (const auto& task : project.tasks) longest.push_back(task.duration);
  for (const auto& lag : project.lags) longest[lag.from] = std::max(longest[lag.from], lag.least);
  int sum = 0;
  for (const Time time : longest) sum += time;
  return sum;
}

class Model : public Gecode::IntMinimizeSpace {
 public:
  Model(const Project& project, std::uint64_t seed)
      : starts_(*this, static_cast<int>(project.tasks.size()), 0, horizon_of(project)),
        end_(*this, 0, horizon_of(project)),
        rng_(static_cast<unsigned>(seed)) {
    using namespace Gecode;
    const auto at = [this](std::size_t i) { return starts_[static_cast<int>(i)]; };
    for (const auto& lag : project.lags) rel(*this, at(lag.to) - at(lag.from) >= lag.least);
    for (std::size_t i = 0; i < project.tasks.size(); ++i) {
      rel(*this, end_ >= at(i) + project.tasks[i].duration);
    }
    for (std::size_t r = 0; r < project.resources.size(); ++r) {
      IntVarArgs starts;
      IntArgs durations, needs;
      for (std::size_t i = 0; i < project.tasks.size(); ++i) {
        const int need = planning::need_of(project.tasks[i], r);
        if (need == 0 || project.tasks[i].duration == 0) continue;
        starts << at(i);
        durations << project.tasks[i].duration;
        needs << need;
      }
      if (starts.size() > 0) {
        cumulative(*this, project.resources[r].capacity, starts, durations, needs);
      }
    }
  }

  Model(Model& other) : Gecode::IntMinimizeSpace(other), rng_(other.rng_) {
    starts_.update(*this, other.starts_);
    end_.update(*this, other.end_);
  }

  /// Each of the two searches gets its own branching.
  bool slave(const Gecode::MetaInfo& info) override {
    using namespace Gecode;
    if (info.type() != MetaInfo::PORTFOLIO) return true;
    if (info.asset() == 0) {
      branch(*this, starts_,
             tiebreak(INT_VAR_MIN_MIN(), INT_VAR_AFC_SIZE_MAX(0.99), INT_VAR_RND(rng_)),
             INT_VAL_MIN());
    } else {
      branch(*this, starts_,
             tiebreak(INT_VAR_AFC_SIZE_MAX(0.99), INT_VAR_MIN_MIN(), INT_VAR_RND(rng_)),
             INT_VAL_MIN());
    }
    branch(*this, end_, INT_VAL_MIN());
    return true;
  }

  Gecode::Space* copy() override { return new Model(*this); }
  [[nodiscard]] Gecode::IntVar cost() const override { return end_; }

  [[nodiscard]] int makespan() const { return end_.val(); }
  [[nodiscard]] std::vector<Time> starts() const {
    std::vector<Time> all;
    for (int i = 0; i < starts_.size(); ++i) all.push_back(starts_[i].val());
    return all;
  }

 private:
  Gecode::IntVarArray starts_;
  Gecode::IntVar end_;
  Gecode::Rnd rng_;
};

}  // namespace

planning::Plan plan_with_peer(const planning::Project& project, double seconds,
                              std::uint64_t seed) {
  using namespace Gecode;
  planning::Plan plan;
  ProcessorStop stop(seconds);
  Search::Options one;  // of the two
  one.nogoods_limit = 128;
  one.cutoff = Search::Cutoff::luby(250);
  one.stop = &stop;
  SEBs searches(2);
  searches[0] = rbs<Model, BAB>(one);
  searches[1] = rbs<Model, BAB>(one);
  Search::Options options;
  options.threads = 2;
  options.stop = &stop;
  auto model = std::make_unique<Model>(project, seed);
  PBS<Model, BAB> engine(model.get(), searches, options);
  model.reset();
  while (const auto found = std::unique_ptr<Model>(engine.next())) {
    plan.status = planning::Status::feasible;
    plan.makespan = found->makespan();
    plan.starts = found->starts();
  }
  if (!engine.stopped()) {
    plan.status = plan.starts.empty() ? planning::Status::infeasible : planning::Status::optimal;
    plan.lower_bound = plan.makespan;
  }
  return plan;
}

}  // namespace film::bench
