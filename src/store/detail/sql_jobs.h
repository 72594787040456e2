#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/job_book.h"

namespace film::store::detail {

/// Jobs, in SQL.
class SqlJobs : public virtual JobBook {
 public:
  explicit SqlJobs(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::Job> jobs() override;
  std::vector<shop::Job> jobs(const JobQuery& query) override;
  std::optional<shop::Job> job(const std::string& id) override;
  shop::Job add(shop::Job job) override;
  Result<void> update(const shop::Job& job) override;
  std::vector<shop::KeptLayout> layouts(const std::string& job) override;
  void put(const shop::KeptLayout& layout) override;
  std::vector<shop::KeptCut> cuts(const std::string& job) override;
  void put(const shop::KeptCut& cut) override;
  void drop_layouts(const std::string& job, const std::string& film) override;
  void drop_work(const std::string& job) override;
  std::vector<shop::HistoryEntry> history(const std::string& job) override;
  void append(const std::string& job, const shop::HistoryEntry& entry) override;

 private:
  std::vector<shop::Job> jobs_where(const std::string& condition, const std::string& value,
                                    const std::string& before = "",
                                    std::size_t most = std::size_t{1} << 40);
  void read_scopes(std::vector<shop::Job>& jobs);
  void put_scope(const shop::Job& job);

  soci::session& sql_;
};

}  // namespace film::store::detail
