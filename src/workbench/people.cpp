#include "workbench/people.h"

#include "host/secrets.h"
#include "store/acting.h"
#include "store/store.h"

namespace film::workbench {
namespace {

Result<shop::Person> find_person(store::Book& book, const std::string& id) {
  auto person = book.person(id);
  if (person) return std::move(*person);
  return fail(ErrorCode::not_found, "there is no such person", "person " + id,
              "Choose one of the shop's people.");
}

/// The person, and the hash of the password when one was given.
struct Checked {
  shop::Person person;
  std::string hash;
};

// Hashing takes its time: before the book is locked, not while.
Result<Checked> check(const NewPerson& order) {
  Checked checked;
  checked.person.name = order.name;
  checked.person.sign_in = order.sign_in;
  checked.person.role = order.role;
  checked.person.created = now();
  if (auto sound = shop::check(checked.person); !sound) return Failure(sound.error());
  if (!order.password.empty()) {
    if (auto sound = shop::check_password(checked.person, order.password); !sound) {
      return Failure(sound.error());
    }
    checked.hash = host::hash_password(order.password);
  }
  return checked;
}

Result<shop::Person> add(store::Book& book, const Checked& checked) {
  auto added = book.add(checked.person);
  if (added && !checked.hash.empty()) book.put_password(added->id, checked.hash);
  return added;
}

}  // namespace

Result<std::vector<shop::Person>> people(Workbench& workbench) {
  return workbench.store().look([](store::Book& book) { return book.people(); });
}

Result<shop::Person> make_owner(Workbench& workbench, const shop::Settings& settings,
                                const NewPerson& owner) {
  if (auto sound = shop::check(settings); !sound) return Failure(sound.error());
  NewPerson order = owner;
  order.role = shop::Role::lead;
  if (order.password.empty()) {
    return fail(ErrorCode::invalid_input, "the owner needs a password", "password", "Choose one.");
  }
  const auto checked = check(order);
  if (!checked) return Failure(checked.error());
  const store::Acting acting(order.name);
  return workbench.store().change([&](store::Book& book) -> Result<shop::Person> {
    if (!book.people().empty()) {
      return fail(ErrorCode::conflict, "this shop has people already", "first start", "Sign in.");
    }
    if (!book.settings()) book.put(settings);
    return add(book, *checked);
  });
}

Result<shop::Person> add_person(Workbench& workbench, const NewPerson& order) {
  const auto checked = check(order);
  if (!checked) return Failure(checked.error());
  return workbench.store().change([&](store::Book& book) { return add(book, *checked); });
}

Result<shop::Person> change_person(Workbench& workbench, const PersonChange& change) {
  return workbench.store().change([&](store::Book& book) -> Result<shop::Person> {
    auto person = find_person(book, change.id);
    if (!person) return person;
    if (change.name) person->name = *change.name;
    if (change.sign_in) person->sign_in = *change.sign_in;
    if (change.role) person->role = *change.role;
    if (change.active) person->active = *change.active;
    person->revision = change.revision + 1;
    if (auto sound = shop::check(*person); !sound) return Failure(sound.error());
    if (auto done = book.update(*person); !done) return Failure(done.error());
    if (!person->active) book.end_sessions(person->id);
    return person;
  });
}

Result<void> set_password(Workbench& workbench, const std::string& id,
                          const std::string& password) {
  const auto person =
      workbench.store().look([&](store::Book& book) { return find_person(book, id); });
  if (!person) return Failure(person.error());
  if (auto sound = shop::check_password(*person, password); !sound) return sound;
  const std::string hash = host::hash_password(password);
  return workbench.store().change([&](store::Book& book) {
    book.put_password(id, hash);
    book.end_sessions(id);
    book.append(
        shop::AuditLine{now(), store::Acting::who(), "person " + id, "password set", "", 0, 0});
  });
}

Result<std::vector<shop::AuditLine>> audit(Workbench& workbench, const std::string& record,
                                           std::size_t most) {
  return workbench.store().look([&](store::Book& book) { return book.audit(record, most); });
}

}  // namespace film::workbench
