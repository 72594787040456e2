#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/run_book.h"

namespace film::store::detail {

/// Cutting runs, in SQL.
class SqlRuns : public virtual RunBook {
 public:
  explicit SqlRuns(Sql& sql) : sql_(sql.session) {}

  std::vector<shop::CutRun> runs(const std::string& job) override;
  std::optional<shop::CutRun> run(const std::string& id) override;
  std::optional<shop::CutRun> open_run(const std::string& machine) override;
  Result<shop::CutRun> add(shop::CutRun run) override;
  void update(const shop::CutRun& run) override;
  std::vector<shop::CutMark> marks(const std::string& run) override;
  void append_mark(const std::string& run, const shop::CutMark& mark) override;
  std::vector<shop::Recut> recuts(const std::string& job) override;
  std::vector<shop::Recut> recuts_for_claim(const std::string& claim) override;
  std::optional<shop::Recut> recut(const std::string& id) override;
  shop::Recut add(shop::Recut recut) override;

 private:
  std::vector<shop::CutRun> runs_where(const std::string& condition, const std::string& value);
  std::vector<shop::Recut> recuts_where(const std::string& condition, const std::string& value);

  soci::session& sql_;
};

}  // namespace film::store::detail
