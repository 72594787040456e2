#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shop/decision.h"
#include "shop/reading.h"

namespace film::store {

/// What films do to light, what meters read on windows, what was signed for: a part of Book
/// (store/book.h).
class GlassBook {
 public:
  virtual ~GlassBook() = default;

  /// What the film does to light: a layer of docs/formats/glass.md; none when nobody knows.
  virtual std::optional<std::string> film_optics(const std::string& film) = 0;
  virtual void put_film_optics(const std::string& film, std::string_view layer) = 0;

  /// The place whose law the job's windows are held against; empty when none was chosen.
  virtual std::string glass_place(const std::string& job) = 0;
  virtual void put_glass_place(const std::string& job, const std::string& place) = 0;
  virtual std::vector<shop::GlassReading> readings(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::GlassReading& reading) = 0;
  virtual std::vector<shop::Decision> decisions(const std::string& job) = 0;  ///< oldest first
  virtual void append(const std::string& job, const shop::Decision& decision) = 0;
};

}  // namespace film::store
