#pragma once

#include <string>

#include "base/result.h"
#include "documents/bill.h"
#include "documents/certificate.h"
#include "documents/claim_report.h"
#include "documents/inspection_sheet.h"
#include "workbench/trace.h"

namespace film::workbench {

// What the papers for a vehicle's owner say. Errors: not_found (nothing to print), io.
documents::InspectionPaper inspection_paper_of(const JobTrace& trace);
Result<documents::CertificatePaper> certificate_paper_of(Workbench& workbench,
                                                         const JobTrace& trace,
                                                         shop::Language language);
Result<documents::InvoicePaper> invoice_paper_of(Workbench& workbench, const JobTrace& trace);
Result<documents::ClaimPaper> claim_paper_of(Workbench& workbench, const std::string& claim);
Result<documents::QuotePaper> quote_paper_of(Workbench& workbench, const std::string& quote,
                                             int version);

}  // namespace film::workbench
