#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/warranty.h"

namespace film::store {

/// What the shop gave its word for and what came back: a part of Book (store/book.h). Certificates,
/// claims and rulings are appended, never changed.
class WarrantyBook {
 public:
  virtual ~WarrantyBook() = default;

  /// What the shop promises for a film; none when nobody said.
  virtual std::optional<shop::FilmTerm> film_term(const std::string& film) = 0;
  virtual void put(const shop::FilmTerm& term) = 0;
  virtual std::vector<shop::Certificate> certificates(
      const std::string& job) = 0;  ///< oldest first
  /// Gives the certificate its id ("W-0001").
  virtual shop::Certificate add(shop::Certificate certificate) = 0;

  virtual std::vector<shop::ClaimRecord> claims() = 0;                        ///< newest first
  virtual std::vector<shop::ClaimRecord> claims(const std::string& job) = 0;  ///< newest first
  virtual std::optional<shop::ClaimRecord> claim(const std::string& id) = 0;
  /// Gives the claim its id ("K-0001").
  virtual shop::Claim add(shop::Claim claim) = 0;
  virtual void append(const shop::ClaimRuling& ruling) = 0;
};

}  // namespace film::store
