#include "documents/inspection_sheet.h"

#include <algorithm>

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

const shop::Finding* finding_of(const InspectionPaper& paper, std::string_view item) {
  if (!paper.inspection) return nullptr;
  const auto& all = paper.inspection->findings;
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const shop::Finding& each) { return each.item == item; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

Result<std::string> write_inspection_sheet(const InspectionPaper& paper,
                                           const Stationery& stationery) {
  const shop::Language in = stationery.head.language;
  const PaperTitle title{std::string(words::inspection(in)), paper.job, paper.date,
                         link_to(stationery, "jobs/" + paper.job + "/inspection")};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({paper.title});
    const bool done = paper.inspection.has_value();
    const auto result = done ? (shop::passed(*paper.inspection) ? words::passed : words::not_passed)
                             : words::not_yet;
    sheet.facts({{std::string(words::vehicle(in)), paper.vehicle},
                 {std::string(words::customer(in)), paper.customer},
                 {std::string(words::inspected_by(in)), done ? paper.inspection->who : ""},
                 {std::string(words::finding(in)), std::string(result(in))}});
    std::vector<TableRow> rows;
    for (const shop::CheckItem& item : shop::inspection_list()) {
      const shop::Finding* found = finding_of(paper, item.id);
      const std::string mark =
          found == nullptr ? format("\u25a1 {}   \u25a1 {}", words::good(in), words::fault(in))
                           : std::string(found->good ? words::good(in) : words::fault(in));
      rows.push_back(
          {{std::string(shop::text_of(item, in)), mark, found == nullptr ? "" : found->note}});
    }
    sheet.table({{std::string(words::item(in)), 6},
                 {std::string(words::finding(in)), 2.6},
                 {std::string(words::note(in)), 4}},
                rows);
    sheet.signatures({std::string(words::sign(in))});
  });
}

}  // namespace film::documents
