#include "workbench/papers.h"

#include "base/text.h"
#include "documents/stationery.h"
#include "store/store.h"
#include "workbench/detail/job_papers.h"
#include "workbench/detail/owner_papers.h"

namespace film::workbench {
namespace {

shop::Letterhead letterhead_in(store::Book& book, const shop::Settings& settings) {
  if (auto head = book.letterhead()) return std::move(*head);
  shop::Letterhead head;
  if (settings.length_unit == shop::LengthUnit::inch) head.paper = shop::PaperSize::letter;
  return head;
}

Result<documents::Stationery> stationery_of(Workbench& workbench, const PaperChoice& choice) {
  const auto settings = shop_settings(workbench);
  if (!settings) return Failure(settings.error());
  return workbench.store().look([&](store::Book& book) -> Result<documents::Stationery> {
    documents::Stationery stationery;
    stationery.shop = settings->name;
    stationery.currency = settings->currency;
    stationery.unit = choice.unit.value_or(settings->length_unit);
    stationery.head = letterhead_in(book, *settings);
    if (choice.language) stationery.head.language = *choice.language;
    if (choice.paper) stationery.head.paper = *choice.paper;
    if (stationery.head.logo.empty()) return stationery;
    auto logo = book.blob(stationery.head.logo);
    if (!logo) return Failure(logo.error());
    stationery.logo = std::move(*logo);
    return stationery;
  });
}

Result<std::string> job_paper(Workbench& workbench, const JobView& view, const std::string& paper,
                              const documents::Stationery& stationery) {
  const shop::Language language = stationery.head.language;
  if (paper == "glass") {
    const auto sheet = glass_sheet_of(workbench, view, language);
    return sheet ? documents::write_glass_sheet(*sheet, stationery) : Failure(sheet.error());
  }
  const auto order = work_order_of(workbench, view, language, {});
  if (!order) return Failure(order.error());
  if (paper == "work-order") return documents::write_work_order(*order, stationery);
  return documents::write_labels(labels_of(*order), stationery);
}

Result<std::string> owner_paper(Workbench& workbench, const std::string& job,
                                const std::string& paper, const documents::Stationery& stationery) {
  const auto trace = trace_job(workbench, job);
  if (!trace) return Failure(trace.error());
  if (paper == "inspection") {
    return documents::write_inspection_sheet(inspection_paper_of(*trace), stationery);
  }
  if (paper == "certificate") {
    const auto made = certificate_paper_of(workbench, *trace, stationery.head.language);
    return made ? documents::write_certificate(*made, stationery) : Failure(made.error());
  }
  if (paper == "invoice") {
    const auto made = invoice_paper_of(workbench, *trace);
    return made ? documents::write_invoice(*made, stationery) : Failure(made.error());
  }
  return documents::write_care_sheet(job, trace->vehicle_name, trace->job.created, stationery);
}

}  // namespace

Result<std::vector<PaperLine>> papers(Workbench& workbench, const std::string& job) {
  const auto trace = trace_job(workbench, job);
  if (!trace) return Failure(trace.error());
  std::vector<PaperLine> lines{{"work-order", "Work order"},
                               {"labels", "Labels"},
                               {"glass", "Glass and lamps"},
                               {"inspection", "Inspection"}};
  if (!trace->certificates.empty()) lines.push_back({"certificate", "Certificate"});
  lines.push_back({"care", "Care"});
  const auto invoiced =
      workbench.store().look([&](store::Book& book) { return !book.invoices(job).empty(); });
  if (!invoiced) return Failure(invoiced.error());
  if (*invoiced) lines.push_back({"invoice", "Invoice"});
  return lines;
}

Result<std::string> write_paper(Workbench& workbench, const std::string& job_id,
                                const std::string& paper, const PaperChoice& choice) {
  const auto view = job(workbench, job_id);
  if (!view) return Failure(view.error());
  const auto stationery = stationery_of(workbench, choice);
  if (!stationery) return Failure(stationery.error());
  if (paper == "work-order" || paper == "labels" || paper == "glass") {
    return job_paper(workbench, *view, paper, *stationery);
  }
  if (paper == "inspection" || paper == "certificate" || paper == "care" || paper == "invoice") {
    return owner_paper(workbench, job_id, paper, *stationery);
  }
  return fail(ErrorCode::not_found, "there is no such paper", paper,
              "Ask for one of the job's papers.");
}

Result<std::string> write_claim_paper(Workbench& workbench, const std::string& claim,
                                      const PaperChoice& choice) {
  const auto paper = claim_paper_of(workbench, claim);
  if (!paper) return Failure(paper.error());
  const auto stationery = stationery_of(workbench, choice);
  return stationery ? documents::write_claim_report(*paper, *stationery)
                    : Failure(stationery.error());
}

Result<std::string> write_quote_paper(Workbench& workbench, const std::string& quote, int version,
                                      const PaperChoice& choice) {
  const auto paper = quote_paper_of(workbench, quote, version);
  if (!paper) return Failure(paper.error());
  const auto stationery = stationery_of(workbench, choice);
  return stationery ? documents::write_quote(*paper, *stationery) : Failure(stationery.error());
}

Result<shop::Letterhead> read_letterhead(Workbench& workbench) {
  const auto settings = shop_settings(workbench);
  if (!settings) return Failure(settings.error());
  return workbench.store().look([&](store::Book& book) { return letterhead_in(book, *settings); });
}

Result<shop::Letterhead> keep_letterhead(Workbench& workbench, const shop::Letterhead& head) {
  if (auto sound = shop::check(head); !sound) return Failure(sound.error());
  return workbench.store().change([&](store::Book& book) -> Result<shop::Letterhead> {
    if (!head.logo.empty()) {
      if (const auto logo = book.blob(head.logo); !logo) return Failure(logo.error());
    }
    book.put(head);
    return head;
  });
}

}  // namespace film::workbench
