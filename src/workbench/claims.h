#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "shop/photo.h"
#include "shop/warranty.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Takes down that something is wrong with an installed piece. Job and moment are given here.
/// Errors: not_found (the piece, a photo), invalid_input (those of shop::check), conflict (the
/// piece came off before), io.
Result<shop::Claim> open_claim(Workbench& workbench, shop::Claim claim);

/// Decides on a claim; the newest ruling counts. The moment is given here. Errors: not_found,
/// invalid_input (those of shop::check), io.
Result<shop::ClaimRuling> rule_claim(Workbench& workbench, shop::ClaimRuling ruling);

/// All claims, newest first. Errors: io.
Result<std::vector<shop::ClaimRecord>> claims(Workbench& workbench);

/// Keeps a photo of the job. Hash, type and moment are given here. Errors: not_found (job),
/// invalid_input (those of shop::check), unsupported (neither JPEG nor PNG), io.
Result<shop::Photo> keep_photo(Workbench& workbench, shop::Photo photo, std::string_view bytes);

/// A photo's bytes as they were kept. Errors: not_found, io.
Result<std::string> read_photo(Workbench& workbench, const std::string& hash);

}  // namespace film::workbench
