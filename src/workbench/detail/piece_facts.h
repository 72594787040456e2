#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/context.h"
#include "base/result.h"
#include "hours/model.h"
#include "pattern/piece.h"
#include "workbench/detail/study.h"

namespace film::workbench {

/// What a price and a record of hours need of one panel under one film: far less than its study.
struct PieceFacts {
  hours::Amounts amounts{};            ///< of all its pieces together
  std::vector<pattern::Piece> pieces;  ///< as they are cut
};

/// Facts found before, by what they depend on. Thread-safe.
class FactsCache {
 public:
  [[nodiscard]] std::shared_ptr<const PieceFacts> find(const std::string& key);
  void keep(const std::string& key, std::shared_ptr<const PieceFacts> facts);

 private:
  std::mutex mutex_;
  std::map<std::string, std::shared_ptr<const PieceFacts>> known_;
};

/// Whether an unknown panel is studied, which may take seconds, or left out.
enum class Studying { as_needed, never };

/// The facts of one panel, or none where it was not studied and is not to be. Kept in the book.
/// `side_margins` are those of the plotters.
/// Errors: those of study_panel.
Result<std::shared_ptr<const PieceFacts>> piece_facts(const Workbench& workbench,
                                                      const StudyTerms& terms, Mm side_margins,
                                                      const shop::Panel& panel, Studying studying,
                                                      const Context& context);

/// The work on a panel of which no piece is known: from its surface alone.
hours::Amounts amounts_of_surface(const shop::Panel& panel);

}  // namespace film::workbench
