// People, their sessions, customers' links and the audit trail.

#include "store/detail/sql_people.h"

#include "base/text.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::Person> SqlPeople::people() { return people_where("'' = :value", ""); }

std::optional<shop::Person> SqlPeople::person(const std::string& id) {
  auto found = people_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::optional<shop::Person> SqlPeople::person_signing_in(const std::string& sign_in) {
  auto found = people_where("sign_in = :value", sign_in);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::Person> SqlPeople::people_where(const std::string& condition,
                                                  const std::string& value) {
  shop::Person person;
  std::string role;
  int active = 0;
  long long revision = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT id, name, sign_in, role, active, revision, created FROM people"
                       " WHERE " +
                           condition + " ORDER BY name, id",
       into(person.id), into(person.name), into(person.sign_in), into(role), into(active),
       into(revision), into(person.created), use(value));
  statement.execute();
  std::vector<shop::Person> people;
  while (statement.fetch()) {
    const auto known = shop::role_of(role);
    if (!known) throw Damaged("'" + role + "' is no role");
    person.role = *known;
    person.active = active != 0;
    person.revision = revision;
    people.push_back(person);
  }
  return people;
}

Result<void> SqlPeople::check_sign_in_is_free(const shop::Person& person) {
  const auto other = person_signing_in(person.sign_in);
  if (!other || other->id == person.id) return {};
  return fail(ErrorCode::conflict, format("{} signs in with this name", other->name), "sign_in",
              "Choose another name to sign in with.");
}

Result<shop::Person> SqlPeople::add(shop::Person person) {
  if (auto is_free = check_sign_in_is_free(person); !is_free) return Failure(is_free.error());
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM people", into(number);
  person.id = format("U-{:04}", number);
  person.revision = 1;
  const std::string role(name_of(person.role));
  const int active = person.active;
  const long long revision = person.revision;
  sql_ << "INSERT INTO people (number, id, name, sign_in, role, active, revision, created)"
          " VALUES (:number, :id, :name, :sign_in, :role, :active, :revision, :created)",
      use(number), use(person.id), use(person.name), use(person.sign_in), use(role), use(active),
      use(revision), use(person.created);
  return person;
}

Result<void> SqlPeople::update(const shop::Person& person) {
  if (auto is_free = check_sign_in_is_free(person); !is_free) return is_free;
  const std::string role(name_of(person.role));
  const int active = person.active;
  const long long revision = person.revision;
  const long long before = revision - 1;
  soci::statement statement =
      (sql_.prepare << "UPDATE people SET name = :name, sign_in = :sign_in, role = :role,"
                       " active = :active, revision = :revision WHERE id = :id AND revision ="
                       " :before",
       use(person.name), use(person.sign_in), use(role), use(active), use(revision), use(person.id),
       use(before));
  statement.execute(true);
  if (statement.get_affected_rows() != 1) {
    return fail(ErrorCode::conflict, "someone else changed this person first",
                "person " + person.id, "Look at the person as it is now, then decide again.");
  }
  int leads = 0;
  sql_ << "SELECT count(*) FROM people WHERE role = 'lead' AND active = 1", into(leads);
  if (leads == 0) {
    return fail(ErrorCode::conflict, "nobody would be left to lead the shop", "person " + person.id,
                "Make someone else a lead first.");
  }
  return {};
}

std::optional<std::string> SqlPeople::password(const std::string& person) {
  std::string hash;
  sql_ << "SELECT hash FROM passwords WHERE person = :person", into(hash), use(person);
  if (!sql_.got_data()) return std::nullopt;
  return hash;
}

void SqlPeople::put_password(const std::string& person, const std::string& hash) {
  sql_ << "INSERT INTO passwords (person, hash) VALUES (:person, :hash)"
          " ON CONFLICT (person) DO UPDATE SET hash = excluded.hash",
      use(person), use(hash);
}

std::optional<shop::Session> SqlPeople::session(const std::string& digest) {
  shop::Session session;
  sql_ << "SELECT digest, person, created, seen, expires FROM sessions WHERE digest = :digest",
      into(session.digest), into(session.person), into(session.created), into(session.seen),
      into(session.expires), use(digest);
  if (!sql_.got_data()) return std::nullopt;
  return session;
}

void SqlPeople::put(const shop::Session& s) {
  sql_ << "INSERT INTO sessions (digest, person, created, seen, expires)"
          " VALUES (:digest, :person, :created, :seen, :expires)"
          " ON CONFLICT (digest) DO UPDATE SET seen = excluded.seen, expires = excluded.expires",
      use(s.digest), use(s.person), use(s.created), use(s.seen), use(s.expires);
}

void SqlPeople::end_session(const std::string& digest) {
  sql_ << "DELETE FROM sessions WHERE digest = :digest", use(digest);
}

void SqlPeople::end_sessions(const std::string& person) {
  sql_ << "DELETE FROM sessions WHERE person = :person", use(person);
}

void SqlPeople::end_sessions_before(const std::string& expires) {
  sql_ << "DELETE FROM sessions WHERE expires < :expires", use(expires);
}

std::vector<shop::ShareLink> SqlPeople::share_links(const std::string& job) {
  return links_where("job = :value", job);
}

std::optional<shop::ShareLink> SqlPeople::share_link(const std::string& digest) {
  auto found = links_where("digest = :value", digest);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::ShareLink> SqlPeople::links_where(const std::string& condition,
                                                    const std::string& value) {
  shop::ShareLink link;
  int revoked = 0;
  soci::statement statement =
      (sql_.prepare << "SELECT id, digest, job, made_by, created, expires, revoked FROM share_links"
                       " WHERE " +
                           condition + " ORDER BY number DESC",
       into(link.id), into(link.digest), into(link.job), into(link.made_by), into(link.created),
       into(link.expires), into(revoked), use(value));
  statement.execute();
  std::vector<shop::ShareLink> links;
  while (statement.fetch()) {
    link.revoked = revoked != 0;
    links.push_back(link);
  }
  return links;
}

shop::ShareLink SqlPeople::add(shop::ShareLink link) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM share_links", into(number);
  link.id = format("L-{:04}", number);
  const int revoked = link.revoked;
  sql_ << "INSERT INTO share_links (number, id, digest, job, made_by, created, expires, revoked)"
          " VALUES (:number, :id, :digest, :job, :made_by, :created, :expires, :revoked)",
      use(number), use(link.id), use(link.digest), use(link.job), use(link.made_by),
      use(link.created), use(link.expires), use(revoked);
  return link;
}

Result<void> SqlPeople::revoke_link(const std::string& id) {
  soci::statement statement =
      (sql_.prepare << "UPDATE share_links SET revoked = 1 WHERE id = :id", use(id));
  statement.execute(true);
  if (statement.get_affected_rows() == 1) return {};
  return fail(ErrorCode::not_found, "there is no such link", "link " + id,
              "Choose one of the job's links.");
}

std::vector<shop::AuditLine> SqlPeople::audit(const std::string& record, std::size_t most) {
  shop::AuditLine line;
  long long before = 0;
  long long after = 0;
  const auto limit = static_cast<long long>(most);
  const std::string condition = record.empty() ? "'' = :record" : "record = :record";
  soci::statement statement =
      (sql_.prepare << "SELECT at, who, record, what, detail, revision_before, revision_after"
                       " FROM audit WHERE " +
                           condition + " ORDER BY entry DESC LIMIT :most",
       into(line.at), into(line.who), into(line.record), into(line.what), into(line.detail),
       into(before), into(after), use(record), use(limit));
  statement.execute();
  std::vector<shop::AuditLine> lines;
  while (statement.fetch()) {
    line.revision_before = before;
    line.revision_after = after;
    lines.push_back(line);
  }
  return lines;
}

void SqlPeople::append(const shop::AuditLine& line) {
  const long long before = line.revision_before;
  const long long after = line.revision_after;
  sql_ << "INSERT INTO audit (at, who, record, what, detail, revision_before, revision_after)"
          " VALUES (:at, :who, :record, :what, :detail, :before, :after)",
      use(line.at), use(line.who), use(line.record), use(line.what), use(line.detail), use(before),
      use(after);
}

}  // namespace film::store::detail
