#pragma once

#include "base/context.h"
#include "base/result.h"
#include "documents/glass_sheet.h"
#include "documents/label_sheet.h"
#include "documents/work_order.h"
#include "workbench/browse.h"

namespace film::workbench {

// What the papers of a job say. Errors: not_found, those of the kernels, io.
Result<documents::WorkOrder> work_order_of(Workbench& workbench, const JobView& view,
                                           shop::Language language, const Context& context);
documents::LabelSheet labels_of(const documents::WorkOrder& order);
Result<documents::GlassSheet> glass_sheet_of(Workbench& workbench, const JobView& view,
                                             shop::Language language);

}  // namespace film::workbench
