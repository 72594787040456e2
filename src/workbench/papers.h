#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "shop/letterhead.h"
#include "shop/settings.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// A paper that can be made of a job.
struct PaperLine {
  std::string id;     ///< "work-order"
  std::string title;  ///< for people
};

/// What differs from the shop's own ways for one paper.
struct PaperChoice {
  std::optional<shop::Language> language;
  std::optional<shop::PaperSize> paper;
  std::optional<shop::LengthUnit> unit;
};

/// Papers that can be made of the job as it stands. Errors: not_found, io.
Result<std::vector<PaperLine>> papers(Workbench& workbench, const std::string& job);

// As PDF; same records, same bytes. Errors: not_found (record or paper; nothing to print yet), io.
Result<std::string> write_paper(Workbench& workbench, const std::string& job,
                                const std::string& paper, const PaperChoice& choice = {});
Result<std::string> write_claim_paper(Workbench& workbench, const std::string& claim,
                                      const PaperChoice& choice = {});
/// In the quote's own language.
Result<std::string> write_quote_paper(Workbench& workbench, const std::string& quote, int version,
                                      const PaperChoice& choice = {});

/// How the shop's papers look; a new shop writes in English, on Letter where it measures in inches.
Result<shop::Letterhead> read_letterhead(Workbench& workbench);
/// Errors: invalid_input (those of shop::check), not_found (the logo's bytes), io.
Result<shop::Letterhead> keep_letterhead(Workbench& workbench, const shop::Letterhead& letterhead);

}  // namespace film::workbench
