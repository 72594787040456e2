#include "workbench/detail/owner_papers.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "shop/day.h"
#include "store/store.h"

namespace film::workbench {
namespace {

using shop::Language;

std::string reading_text(const shop::GlassReading* reading, Language in) {
  if (reading == nullptr) return "\u2013";
  return format("{} % \u00b1 {}", documents::number_text(100 * reading->transmittance, 1, in),
                documents::number_text(100 * reading->uncertainty, 1, in));
}

/// The certificate that stood when the claim was made, and the film's months on it.
void add_term(const JobTrace& trace, const shop::InstalledPiece& piece,
              documents::ClaimPaper& paper) {
  for (const shop::Certificate& each : trace.certificates) {
    if (each.issued < piece.at) continue;
    for (const shop::FilmTerm& term : each.terms) {
      if (term.film != piece.film || term.months == 0) continue;
      paper.issued = each.issued;
      paper.term_end =
          shop::months_after(each.issued.substr(0, 10), term.months).value_or("9999-12-31");
      return;
    }
  }
}

}  // namespace

documents::InspectionPaper inspection_paper_of(const JobTrace& trace) {
  documents::InspectionPaper paper{trace.job.id,       trace.job.title,   trace.vehicle_name,
                                   trace.job.customer, trace.job.created, {}};
  if (!trace.inspections.empty()) {
    paper.inspection = trace.inspections.back();
    paper.date = paper.inspection->at;
  }
  return paper;
}

Result<documents::CertificatePaper> certificate_paper_of(Workbench& workbench,
                                                         const JobTrace& trace, Language language) {
  if (trace.certificates.empty()) {
    return fail(ErrorCode::not_found, "no certificate was issued yet", "job " + trace.job.id,
                "It is issued with the hand-over.");
  }
  documents::CertificatePaper paper;
  paper.certificate = trace.certificates.back();
  paper.title = trace.job.title;
  paper.vehicle = trace.vehicle_name;
  paper.customer = trace.job.customer;
  std::map<std::string, const TracedPiece*> on;
  for (const TracedPiece& each : trace.pieces) {
    if (each.replaced_by != 0) continue;
    on[each.piece.panel] = &each;
    paper.pieces.push_back({shop::number_text(each.piece), each.panel_name, each.film_name,
                            each.piece.lot, each.piece.at.substr(0, 10)});
  }
  if (!trace.hand_overs.empty()) {
    paper.received_by = trace.hand_overs.back().received_by;
    paper.declined = trace.hand_overs.back().declined;
  }
  const auto readings =
      workbench.store().look([&](store::Book& book) { return book.readings(trace.job.id); });
  if (!readings) return Failure(readings.error());
  std::vector<std::string> seen;
  for (const shop::GlassReading& each : *readings) {
    if (std::find(seen.begin(), seen.end(), each.panel) != seen.end()) continue;
    seen.push_back(each.panel);
    const auto piece = on.find(each.panel);
    paper.readings.push_back(
        {piece == on.end() ? each.panel : piece->second->panel_name,
         piece == on.end() ? "\u2013" : piece->second->film_name,
         reading_text(shop::newest(*readings, each.panel, shop::Stage::before), language),
         reading_text(shop::newest(*readings, each.panel, shop::Stage::after), language)});
  }
  return paper;
}

Result<documents::InvoicePaper> invoice_paper_of(Workbench& workbench, const JobTrace& trace) {
  return workbench.store().look([&](store::Book& book) -> Result<documents::InvoicePaper> {
    auto invoices = book.invoices(trace.job.id);
    if (invoices.empty()) {
      return fail(ErrorCode::not_found, "no invoice was issued yet", "job " + trace.job.id,
                  "Issue one first.");
    }
    return documents::InvoicePaper{std::move(invoices.back()), book.payments(trace.job.id),
                                   trace.job.title, trace.vehicle_name};
  });
}

Result<documents::ClaimPaper> claim_paper_of(Workbench& workbench, const std::string& id) {
  auto paper = workbench.store().look([&](store::Book& book) -> Result<documents::ClaimPaper> {
    auto record = book.claim(id);
    if (!record) {
      return fail(ErrorCode::not_found, "there is no such claim", "claim " + id,
                  "Choose one of the claims in the book.");
    }
    documents::ClaimPaper found;
    for (const std::string& hash : record->claim.photos) {
      if (auto bytes = book.blob(hash)) found.photos.push_back(std::move(*bytes));
    }
    found.record = std::move(*record);
    return found;
  });
  if (!paper) return paper;
  const auto trace = trace_job(workbench, paper->record.claim.job);
  if (!trace) return Failure(trace.error());
  paper->vehicle = trace->vehicle_name;
  paper->customer = trace->job.customer;
  const auto claimed = std::find_if(
      trace->pieces.begin(), trace->pieces.end(),
      [&](const TracedPiece& each) { return each.piece.number == paper->record.claim.piece; });
  if (claimed == trace->pieces.end()) return paper;
  paper->panel = claimed->panel_name;
  paper->film = claimed->film_name;
  for (const TracedPiece& each : trace->pieces) {
    if (each.piece.panel == claimed->piece.panel) paper->pieces.push_back(each.piece);
  }
  add_term(*trace, claimed->piece, *paper);
  return paper;
}

Result<documents::QuotePaper> quote_paper_of(Workbench& workbench, const std::string& id,
                                             int version) {
  std::map<std::string, std::string> films;
  auto quote = workbench.store().look([&](store::Book& book) -> Result<shop::Quote> {
    auto found = book.quote(id, version);
    if (!found) {
      return fail(ErrorCode::not_found, "there is no such quote", "quote " + id,
                  "Choose one of the quotes in the book.");
    }
    for (const shop::Film& film : book.films()) films[film.id] = film.name;
    return std::move(*found);
  });
  if (!quote) return Failure(quote.error());
  documents::QuotePaper paper;
  const auto vehicle = workbench.vehicle(quote->vehicle, quote->vehicle_version);
  paper.vehicle = vehicle ? (*vehicle)->name : quote->vehicle;
  paper.customer = quote->customer;
  for (const shop::Alternative& offer : quote->offers) {
    auto& scope = paper.scopes.emplace_back();
    for (const shop::ScopeItem& item : offer.scope) {
      const shop::Panel* panel = vehicle ? shop::find_panel(**vehicle, item.panel) : nullptr;
      const auto film = films.find(item.film);
      scope.emplace_back(panel == nullptr ? item.panel : panel->name,
                         film == films.end() ? item.film : film->second);
    }
  }
  paper.quote = std::move(*quote);
  return paper;
}

}  // namespace film::workbench
