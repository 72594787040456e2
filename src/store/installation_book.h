#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/inspection.h"
#include "shop/installed_piece.h"
#include "shop/photo.h"

namespace film::store {

/// What went onto vehicles and how it was found: a part of Book (store/book.h). All of it is
/// appended, never changed.
class InstallationBook {
 public:
  virtual ~InstallationBook() = default;

  /// Gives the piece its number. Errors: conflict (its event is there already; the piece that it
  /// replaces came off before, or is of another job or panel), not_found (the piece that it
  /// replaces).
  virtual Result<shop::InstalledPiece> add(shop::InstalledPiece piece) = 0;
  virtual std::optional<shop::InstalledPiece> installed_by_event(const std::string& event) = 0;
  virtual std::optional<shop::InstalledPiece> installed(std::int64_t number) = 0;
  /// Every piece that ever was on the job's vehicle, in the order in which they were laid.
  virtual std::vector<shop::InstalledPiece> installed_of_job(const std::string& job) = 0;
  /// At most `most` pieces of that lot with a number above `after`, by number.
  virtual std::vector<shop::InstalledPiece> installed_of_lot(const std::string& lot,
                                                             std::int64_t after,
                                                             std::size_t most) = 0;
  /// At most `most` lots that begin with `text`, in order.
  virtual std::vector<std::string> lots_like(const std::string& text, std::size_t most) = 0;
  /// Ids of at most `most` jobs, newest first, whose number, title or customer holds `text` in
  /// either case and that were opened from the day `from` on and before the day `before`; what is
  /// empty does not count.
  virtual std::vector<std::string> jobs_like(const std::string& text, const std::string& from,
                                             const std::string& before, std::size_t most) = 0;
  /// The piece that took the place of this one, if it came off.
  virtual std::optional<shop::InstalledPiece> replacement_of(std::int64_t number) = 0;

  virtual std::vector<shop::Photo> photos(const std::string& job) = 0;  ///< oldest first
  virtual void append(const shop::Photo& photo) = 0;

  virtual std::vector<shop::Inspection> inspections(const std::string& job) = 0;  ///< oldest first
  virtual void append(const shop::Inspection& inspection) = 0;
  virtual std::vector<shop::HandOver> hand_overs(const std::string& job) = 0;  ///< oldest first
  virtual void append(const shop::HandOver& hand_over) = 0;
};

}  // namespace film::store
