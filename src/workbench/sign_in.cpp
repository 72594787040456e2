#include "workbench/sign_in.h"

#include "host/secrets.h"
#include "store/acting.h"
#include "store/store.h"
#include "workbench/people.h"

namespace film::workbench {
namespace {

// `seen` is written at most this often: a page asks many times a minute.
constexpr double kSeenSeconds = 300;

std::string earlier(const std::string& a, const std::string& b) { return a < b ? a : b; }

Result<SignedIn> begin(Workbench& workbench, const shop::Person& person) {
  const SignedIn signed_in{host::random_token(), person};
  const store::Acting acting(person.name);
  const auto done = workbench.store().change([&](store::Book& book) {
    book.end_sessions_before(now());
    book.put(shop::Session{host::token_digest(signed_in.token), person.id, now(), now(),
                           now(kIdleSeconds)});
    book.append(shop::AuditLine{now(), person.name, "person " + person.id, "signed in", "", 0, 0});
  });
  if (!done) return Failure(done.error());
  return signed_in;
}

}  // namespace

Result<SignedIn> sign_in(Workbench& workbench, const std::string& name,
                         const std::string& password) {
  std::optional<std::string> hash;
  const auto person = workbench.store().look([&](store::Book& book) -> std::optional<shop::Person> {
    auto found = book.person_signing_in(name);
    if (found) hash = book.password(found->id);
    return found;
  });
  if (!person) return Failure(person.error());
  // Nobody, a person without a password and a wrong password take the same time.
  const bool right = hash ? host::is_password(password, *hash) : host::refuse_password(password);
  if (!right || !(*person)->active) {
    if (*person) {
      (void)workbench.store().change([&](store::Book& book) {
        book.append(
            shop::AuditLine{now(), "", "person " + (*person)->id, "sign-in refused", "", 0, 0});
      });
    }
    return fail(ErrorCode::invalid_input, "the name or the password is wrong", "sign-in",
                "Try again, or ask a lead to set a new password.");
  }
  return begin(workbench, **person);
}

Result<SignedIn> sign_in_unasked(Workbench& workbench, const std::string& id) {
  const auto person = workbench.store().look([&](store::Book& book) { return book.person(id); });
  if (!person) return Failure(person.error());
  if (*person && (*person)->active) return begin(workbench, **person);
  return fail(ErrorCode::not_found, "there is no such person", "person " + id, "Choose another.");
}

Result<std::optional<shop::Person>> session_person(Workbench& workbench, const std::string& token) {
  using Found = std::optional<shop::Person>;
  const std::string digest = host::token_digest(token);
  std::optional<shop::Session> session;
  auto person = workbench.store().look([&](store::Book& book) -> Found {
    session = book.session(digest);
    if (!session || session->expires < now()) return std::nullopt;
    Found found = book.person(session->person);
    return found && found->active ? found : std::nullopt;
  });
  if (person && *person && session->seen < now(-kSeenSeconds)) {
    session->seen = now();
    session->expires = earlier(now(kIdleSeconds), later(session->created, kLongestSeconds));
    // A server that may only read still knows its people.
    (void)workbench.store().change([&](store::Book& book) { book.put(*session); });
  }
  return person;
}

Result<void> sign_out(Workbench& workbench, const std::string& token) {
  const std::string digest = host::token_digest(token);
  return workbench.store().change([&](store::Book& book) { book.end_session(digest); });
}

Result<SignedIn> change_password(Workbench& workbench, const shop::Person& person,
                                 const std::string& old_password, const std::string& new_password) {
  const auto hash =
      workbench.store().look([&](store::Book& book) { return book.password(person.id); });
  if (!hash) return Failure(hash.error());
  if (!*hash || !host::is_password(old_password, **hash)) {
    return fail(ErrorCode::invalid_input, "the old password is wrong", "old_password",
                "Try again, or ask a lead to set a new one.");
  }
  if (auto done = set_password(workbench, person.id, new_password); !done) {
    return Failure(done.error());
  }
  return begin(workbench, person);
}

}  // namespace film::workbench
