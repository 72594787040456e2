#include "server/study_runs.h"

#include "host/priority.h"
#include "host/thread_executor.h"

namespace film::server {

StudyRuns::StudyRuns(workbench::Workbench& workbench, std::size_t threads)
    : workbench_(workbench), threads_(threads), thread_([this] { work(); }) {}

StudyRuns::~StudyRuns() { close(); }

void StudyRuns::close() {
  {
    const std::lock_guard lock(mutex_);
    closing_.store(true);
  }
  wake_.notify_all();
  if (thread_.joinable()) thread_.join();
}

Result<std::vector<StudyLine>> StudyRuns::lines(const std::string& vehicle,
                                                const std::string& film) {
  const auto panels = workbench::panels_for(workbench_, vehicle, film);
  if (!panels) return Failure(panels.error());
  const std::lock_guard lock(mutex_);
  auto& run = runs_[{vehicle, film}];
  if (!run) {
    run = std::make_unique<Run>(Run{vehicle, film, {}});
    for (const std::string& panel : *panels) {
      run->lines.emplace_back();
      run->lines.back().panel = panel;
    }
    queue_.push_back(run.get());
    wake_.notify_all();
  }
  return run->lines;
}

void StudyRuns::work() {
  host::give_way();
  host::ThreadExecutor executor(threads_);
  const Context context([this] { return closing_.load(); }, {}, &executor);
  while (true) {
    Run* run = nullptr;
    {
      std::unique_lock lock(mutex_);
      wake_.wait(lock, [this] { return closing_.load() || !queue_.empty(); });
      if (closing_.load()) return;
      run = queue_.front();
      queue_.pop_front();
    }
    const auto done = workbench::study_vehicle(
        workbench_, run->vehicle, run->film,
        [this, run](const std::string& panel, const auto& study) {
          finish_line(*run, panel, study);
        },
        context);
    if (done) continue;
    const std::lock_guard lock(mutex_);
    for (StudyLine& line : run->lines) {
      if (line.state != StudyLine::State::waiting) continue;
      line.state = StudyLine::State::failed;
      line.problem = done.error();
    }
  }
}

void StudyRuns::finish_line(Run& run, const std::string& panel,
                            const Result<std::shared_ptr<const workbench::Study>>& study) {
  const std::lock_guard lock(mutex_);
  for (StudyLine& line : run.lines) {
    if (line.panel != panel) continue;
    if (!study) {
      line.state = StudyLine::State::failed;
      line.problem = study.error();
      return;
    }
    const workbench::Study& s = **study;
    line.state = StudyLine::State::ready;
    line.method = s.laying.method.choice;
    line.stretch_most = s.flattening.stretch.max;
    line.stretch_least = s.flattening.stretch.min;
    line.finger_share = s.report.area > 0 ? s.report.finger_area / s.report.area : 0;
    line.mark_share = s.report.area > 0 ? s.report.mark_area / s.report.area : 0;
  }
}

}  // namespace film::server
