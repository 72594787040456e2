#include "workbench/share_job.h"

#include <algorithm>

#include "host/secrets.h"
#include "store/acting.h"
#include "store/store.h"
#include "workbench/detail/lookup.h"

namespace film::workbench {

Result<NewLink> share_job(Workbench& workbench, const std::string& job, int days,
                          const std::string& who) {
  if (days < 1 || days > 365) {
    return fail(ErrorCode::invalid_input, "a link lasts 1 to 365 days", "days",
                "Give a number of days.");
  }
  NewLink made;
  made.token = host::random_token();
  made.link = {"", host::token_digest(made.token), job, who, now(), now(days * 86400.0), false};
  const auto kept = workbench.store().change([&](store::Book& book) -> Result<shop::ShareLink> {
    if (auto found = find_job(book, job); !found) return Failure(found.error());
    shop::ShareLink link = book.add(made.link);
    book.append(shop::AuditLine{now(), who, "job " + job, "shared",
                                link.id + " until " + link.expires, 0, 0});
    return link;
  });
  if (!kept) return Failure(kept.error());
  made.link = *kept;
  return made;
}

Result<std::vector<shop::ShareLink>> share_links(Workbench& workbench, const std::string& job) {
  return workbench.store().look([&](store::Book& book) { return book.share_links(job); });
}

Result<void> revoke_link(Workbench& workbench, const std::string& job, const std::string& link) {
  return workbench.store().change([&](store::Book& book) -> Result<void> {
    const auto links = book.share_links(job);
    const bool own = std::any_of(links.begin(), links.end(),
                                 [&](const shop::ShareLink& each) { return each.id == link; });
    if (!own) {
      return fail(ErrorCode::not_found, "the job has no such link", "link " + link,
                  "Choose one of the job's links.");
    }
    book.append(
        shop::AuditLine{now(), store::Acting::who(), "job " + job, "link ended", link, 0, 0});
    return book.revoke_link(link);
  });
}

Result<std::string> shared_quote(Workbench& workbench, const std::string& token) {
  const auto job = shared_job(workbench, token);
  if (!job) return Failure(job.error());
  return workbench.store().look([&job](store::Book& book) {
    const auto quotes = book.quotes_of_job(job->id);
    return quotes.empty() ? std::string() : quotes.back().id;
  });
}

Result<shop::Job> shared_job(Workbench& workbench, const std::string& token) {
  const std::string digest = host::token_digest(token);
  return workbench.store().look([&](store::Book& book) -> Result<shop::Job> {
    const auto link = book.share_link(digest);
    if (!link || link->revoked || link->expires < now()) {
      return fail(ErrorCode::not_found, "this link does not open anything, or no longer", "link",
                  "Ask the shop for a new one.");
    }
    return find_job(book, link->job);
  });
}

}  // namespace film::workbench
