#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/cut_run.h"
#include "shop/recut.h"

namespace film::store {

/// Cutting runs with their journals, and recuts: a part of Book (store/book.h).
class RunBook {
 public:
  virtual ~RunBook() = default;

  virtual std::vector<shop::CutRun> runs(const std::string& job) = 0;  ///< newest first
  virtual std::optional<shop::CutRun> run(const std::string& id) = 0;
  /// The machine's run that is not over.
  virtual std::optional<shop::CutRun> open_run(const std::string& machine) = 0;
  /// Gives the run its id ("C-0001"). Errors: conflict (the machine, or this film of the job on
  /// this roll, has another that is not over).
  virtual Result<shop::CutRun> add(shop::CutRun run) = 0;
  virtual void update(const shop::CutRun& run) = 0;                      ///< `used` and `over`
  virtual std::vector<shop::CutMark> marks(const std::string& run) = 0;  ///< oldest first
  virtual void append_mark(const std::string& run, const shop::CutMark& mark) = 0;

  /// Of one job, or of all where `job` is empty; oldest first.
  virtual std::vector<shop::Recut> recuts(const std::string& job) = 0;
  virtual std::vector<shop::Recut> recuts_for_claim(const std::string& claim) = 0;
  virtual std::optional<shop::Recut> recut(const std::string& id) = 0;
  virtual shop::Recut add(shop::Recut recut) = 0;  ///< gives it its id ("X-0001")
};

}  // namespace film::store
