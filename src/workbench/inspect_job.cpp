#include "workbench/inspect_job.h"

#include <algorithm>
#include <set>

#include "base/text.h"
#include "shop/names.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"
#include "workbench/detail/steps.h"

namespace film::workbench {
namespace {

using shop::JobState;

shop::Certificate add_certificate(store::Book& book, const std::string& job, const std::string& who,
                                  const std::string& at) {
  shop::Certificate certificate;
  certificate.job = job;
  certificate.issued_by = who;
  certificate.issued = at;
  std::set<std::string> films;
  for (const shop::InstalledPiece& piece : pieces_on(book.installed_of_job(job))) {
    films.insert(piece.film);
  }
  for (const std::string& id : films) {
    const auto film = book.film(id);
    const auto term = book.film_term(id);
    certificate.terms.push_back({id, film ? film->name : id, term ? term->months : 0});
  }
  certificate = book.add(std::move(certificate));
  book.append(job, {at, who, "certificate issued", certificate.id});
  return certificate;
}

std::string in_words(const shop::Inspection& inspection) {
  std::string faults;
  for (const shop::Finding& finding : inspection.findings) {
    if (finding.good) continue;
    faults += format("{}{}: {}", faults.empty() ? "" : "; ", finding.item, finding.note);
  }
  return faults;
}

}  // namespace

Result<shop::Inspection> inspect_job(Workbench& workbench, shop::Inspection inspection) {
  if (auto sound = shop::check(inspection); !sound) return Failure(sound.error());
  inspection.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Inspection> {
    const auto job = find_job(book, inspection.job);
    if (!job) return Failure(job.error());
    if (job->state != JobState::installing && job->state != JobState::inspected) {
      return fail(ErrorCode::conflict,
                  format("a job that is {} is not inspected", shop::name_of(job->state)),
                  "job " + job->id, "Lay its pieces first.");
    }
    for (const shop::Finding& finding : inspection.findings) {
      if (finding.photo.empty()) continue;
      if (const auto photo = book.blob(finding.photo); !photo) return Failure(photo.error());
    }
    book.append(inspection);
    const bool good = shop::passed(inspection);
    book.append(job->id,
                {inspection.at, inspection.who,
                 good ? "inspection passed" : "inspection found faults", in_words(inspection)});
    if (good && !steps_done(book, *job).pieces) return inspection;
    const JobState to = good ? JobState::inspected : JobState::installing;
    if (to == job->state) return inspection;
    const auto moved =
        record_move(book, *job, to, in_words(inspection), inspection.who, inspection.at);
    if (!moved) return Failure(moved.error());
    return inspection;
  });
}

Result<shop::Certificate> hand_over_job(Workbench& workbench, shop::HandOver hand_over) {
  if (auto sound = shop::check(hand_over); !sound) return Failure(sound.error());
  hand_over.at = now();
  return workbench.store().change([&](store::Book& book) -> Result<shop::Certificate> {
    const auto job = find_job(book, hand_over.job);
    if (!job) return Failure(job.error());
    book.append(hand_over);
    const auto moved =
        record_move(book, *job, JobState::handed_over, "", hand_over.given_by, hand_over.at);
    if (!moved) return Failure(moved.error());
    return add_certificate(book, job->id, hand_over.given_by, hand_over.at);
  });
}

Result<shop::Certificate> issue_certificate(Workbench& workbench, const std::string& id,
                                            const std::string& who) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Certificate> {
    const auto job = find_job(book, id);
    if (!job) return Failure(job.error());
    if (job->state != JobState::handed_over) {
      return fail(ErrorCode::conflict, "the job was not handed over", "job " + id,
                  "The certificate is issued with the hand-over.");
    }
    return add_certificate(book, id, who, now());
  });
}

}  // namespace film::workbench
