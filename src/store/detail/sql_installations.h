#pragma once

#include <soci/soci.h>

#include "store/detail/sql.h"
#include "store/installation_book.h"

namespace film::store::detail {

/// What went onto vehicles, in SQL.
class SqlInstallations : public virtual InstallationBook {
 public:
  explicit SqlInstallations(Sql& sql) : sql_(sql.session) {}

  Result<shop::InstalledPiece> add(shop::InstalledPiece piece) override;
  std::optional<shop::InstalledPiece> installed_by_event(const std::string& event) override;
  std::optional<shop::InstalledPiece> installed(std::int64_t number) override;
  std::vector<shop::InstalledPiece> installed_of_job(const std::string& job) override;
  std::vector<shop::InstalledPiece> installed_of_lot(const std::string& lot, std::int64_t after,
                                                     std::size_t most) override;
  std::vector<std::string> lots_like(const std::string& text, std::size_t most) override;
  std::vector<std::string> jobs_like(const std::string& text, const std::string& from,
                                     const std::string& before, std::size_t most) override;
  std::optional<shop::InstalledPiece> replacement_of(std::int64_t number) override;
  std::vector<shop::Photo> photos(const std::string& job) override;
  void append(const shop::Photo& photo) override;
  std::vector<shop::Inspection> inspections(const std::string& job) override;
  void append(const shop::Inspection& inspection) override;
  std::vector<shop::HandOver> hand_overs(const std::string& job) override;
  void append(const shop::HandOver& hand_over) override;

 private:
  std::vector<shop::InstalledPiece> installed_where(const std::string& condition,
                                                    const std::string& text, long long number,
                                                    std::size_t most);

  soci::session& sql_;
};

}  // namespace film::store::detail
