#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/job.h"
#include "shop/kept_layout.h"

namespace film::store {

/// Which jobs to list.
struct JobQuery {
  std::string text;                    ///< held by number, title or customer, in either case
  std::vector<shop::JobState> states;  ///< one of these; none: any
  std::string before;                  ///< only older ones than this job; empty: from the newest
  std::size_t most = 200;
};

/// Jobs, what was made for them, and their history: a part of Book (store/book.h).
class JobBook {
 public:
  virtual ~JobBook() = default;

  virtual std::vector<shop::Job> jobs() = 0;                       ///< newest first
  virtual std::vector<shop::Job> jobs(const JobQuery& query) = 0;  ///< newest first
  virtual std::optional<shop::Job> job(const std::string& id) = 0;
  /// Gives the job its id ("J-0001") and returns it.
  virtual shop::Job add(shop::Job job) = 0;
  /// Replaces state, title, customer, scope and vehicle version. `job.revision` is the new one;
  /// errors with conflict when the stored revision is not the one before it.
  virtual Result<void> update(const shop::Job& job) = 0;

  virtual std::vector<shop::KeptLayout> layouts(
      const std::string& job) = 0;  ///< by film, that of most film first
  /// Replaces the layout of this film on this roll; its cut goes with the old one.
  virtual void put(const shop::KeptLayout& layout) = 0;
  virtual std::vector<shop::KeptCut> cuts(const std::string& job) = 0;  ///< by film, roll
  virtual void put(const shop::KeptCut& cut) = 0;
  /// Forgets the layouts of one film and their cuts.
  virtual void drop_layouts(const std::string& job, const std::string& film) = 0;
  /// Forgets layouts and cuts of the job; what was recorded in its history stays.
  virtual void drop_work(const std::string& job) = 0;

  virtual std::vector<shop::HistoryEntry> history(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::HistoryEntry& entry) = 0;
};

}  // namespace film::store
