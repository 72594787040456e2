#pragma once

#include "base/result.h"
#include "shop/inspection.h"
#include "shop/warranty.h"
#include "workbench/workbench.h"

namespace film::workbench {

/// Takes down what was found on a job that is installed. When it passed and every panel of the
/// scope has its piece, the job moves to inspected. `inspection.at` is given here.
/// Errors: not_found (job, a photo), invalid_input (those of shop::check), conflict (nothing is
/// laid), io.
Result<shop::Inspection> inspect_job(Workbench& workbench, shop::Inspection inspection);

/// Gives an inspected job back to its owner: takes down who signed, issues the certificate and
/// moves the job to handed_over. `hand_over.at` is given here.
/// Errors: not_found, invalid_input (those of shop::check), conflict (the job is not inspected),
/// io.
Result<shop::Certificate> hand_over_job(Workbench& workbench, shop::HandOver hand_over);

/// Issues a certificate for the pieces that are on the vehicle now, as after a recut.
/// Errors: not_found, conflict (the job was not handed over), io.
Result<shop::Certificate> issue_certificate(Workbench& workbench, const std::string& job,
                                            const std::string& who);

}  // namespace film::workbench
