// What went onto vehicles and how it was found.

#include "store/detail/sql_installations.h"

#include "base/text.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::vector<shop::InstalledPiece> SqlInstallations::installed_where(const std::string& condition,
                                                                    const std::string& text,
                                                                    long long number,
                                                                    std::size_t most) {
  shop::InstalledPiece piece;
  long long own = 0, replaces = 0;
  const auto limit = static_cast<long long>(most);
  soci::statement statement =
      (sql_.prepare << "SELECT number, event, job, panel, piece, film, lot, source, run, who, at,"
                       " replaces, reason FROM installed_pieces WHERE " +
                           condition + " ORDER BY number LIMIT :most",
       into(own), into(piece.event), into(piece.job), into(piece.panel), into(piece.piece),
       into(piece.film), into(piece.lot), into(piece.source), into(piece.run), into(piece.who),
       into(piece.at), into(replaces), into(piece.reason), use(text), use(number), use(limit));
  statement.execute();
  std::vector<shop::InstalledPiece> pieces;
  while (statement.fetch()) {
    piece.number = own;
    piece.replaces = replaces;
    pieces.push_back(piece);
  }
  return pieces;
}

namespace {

constexpr std::size_t kAll = 1'000'000;

template <class Record>
std::optional<Record> first(std::vector<Record> found) {
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

Result<void> check_replaced(const std::optional<shop::InstalledPiece>& before,
                            const shop::InstalledPiece& piece) {
  const std::string where = format("P-{}", piece.replaces);
  if (!before) {
    return fail(ErrorCode::not_found, "there is no such installed piece", where,
                "Name the piece that came off.");
  }
  if (before->job != piece.job || before->panel != piece.panel) {
    return fail(ErrorCode::conflict, "that piece was laid on another panel", where,
                "Name the piece that came off this panel.");
  }
  return {};
}

}  // namespace

Result<shop::InstalledPiece> SqlInstallations::add(shop::InstalledPiece piece) {
  if (installed_by_event(piece.event)) {
    return fail(ErrorCode::conflict, "this event was reported before", "event " + piece.event,
                "Give each report an event of its own.");
  }
  if (piece.replaces != 0) {
    if (auto sound = check_replaced(installed(piece.replaces), piece); !sound) {
      return Failure(sound.error());
    }
    if (const auto other = replacement_of(piece.replaces)) {
      return fail(ErrorCode::conflict,
                  format("that piece came off before, for {}", shop::number_text(*other)),
                  format("P-{}", piece.replaces), "Name the piece that is on the panel now.");
    }
  }
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM installed_pieces", into(number);
  piece.number = number;
  const long long replaces = piece.replaces;
  sql_ << "INSERT INTO installed_pieces (number, event, job, panel, piece, film, lot, source, run,"
          " who, at, replaces, reason) VALUES (:number, :event, :job, :panel, :piece, :film, :lot,"
          " :source, :run, :who, :at, :replaces, :reason)",
      use(number), use(piece.event), use(piece.job), use(piece.panel), use(piece.piece),
      use(piece.film), use(piece.lot), use(piece.source), use(piece.run), use(piece.who),
      use(piece.at), use(replaces), use(piece.reason);
  return piece;
}

std::optional<shop::InstalledPiece> SqlInstallations::installed_by_event(const std::string& event) {
  return first(installed_where("event = :text AND number > :number", event, 0, 1));
}

std::optional<shop::InstalledPiece> SqlInstallations::installed(std::int64_t number) {
  return first(installed_where("'' = :text AND number = :number", "", number, 1));
}

std::vector<shop::InstalledPiece> SqlInstallations::installed_of_job(const std::string& job) {
  return installed_where("job = :text AND number > :number", job, 0, kAll);
}

std::vector<shop::InstalledPiece> SqlInstallations::installed_of_lot(const std::string& lot,
                                                                     std::int64_t after,
                                                                     std::size_t most) {
  return installed_where("lot = :text AND number > :number", lot, after, most);
}

std::optional<shop::InstalledPiece> SqlInstallations::replacement_of(std::int64_t number) {
  return first(
      installed_where("'' = :text AND replaces = :number AND replaces <> 0", "", number, 1));
}

std::vector<std::string> SqlInstallations::lots_like(const std::string& text, std::size_t most) {
  // Each step jumps over the pieces of one lot, along the index.
  std::vector<std::string> lots;
  std::string lot;
  const std::string past = text + "\xF4\x8F\xBF\xBF";  // the last character of Unicode
  std::string from = text;
  bool inclusive = true;
  while (lots.size() < most) {
    sql_ << format(
        "SELECT lot FROM installed_pieces WHERE lot {} :from AND lot < :past"
        " ORDER BY lot LIMIT 1",
        inclusive ? ">=" : ">"),
        into(lot), use(from), use(past);
    if (!sql_.got_data()) break;
    lots.push_back(lot);
    from = lot;
    inclusive = false;
  }
  return lots;
}

std::vector<std::string> SqlInstallations::jobs_like(const std::string& text,
                                                     const std::string& from,
                                                     const std::string& before, std::size_t most) {
  const std::string pattern = holding(text);
  const auto limit = static_cast<long long>(most);
  std::string id;
  soci::statement statement =
      (sql_.prepare << "SELECT id FROM jobs WHERE"
                       " lower(id || ' ' || title || ' ' || customer) LIKE lower(:text) ESCAPE '!'"
                       " AND created >= :start AND (:none = '' OR created < :past)"
                       " ORDER BY number DESC LIMIT :most",
       into(id), use(pattern), use(from), use(before), use(before), use(limit));
  statement.execute();
  std::vector<std::string> ids;
  while (statement.fetch()) ids.push_back(id);
  return ids;
}

std::vector<shop::Photo> SqlInstallations::photos(const std::string& job) {
  shop::Photo photo;
  soci::statement statement =
      (sql_.prepare << "SELECT job, panel, about, hash, type, who, at FROM photos"
                       " WHERE job = :job ORDER BY entry",
       into(photo.job), into(photo.panel), into(photo.about), into(photo.hash), into(photo.type),
       into(photo.who), into(photo.at), use(job));
  statement.execute();
  std::vector<shop::Photo> photos;
  while (statement.fetch()) photos.push_back(photo);
  return photos;
}

void SqlInstallations::append(const shop::Photo& photo) {
  sql_ << "INSERT INTO photos (job, panel, about, hash, type, who, at)"
          " VALUES (:job, :panel, :about, :hash, :type, :who, :at)",
      use(photo.job), use(photo.panel), use(photo.about), use(photo.hash), use(photo.type),
      use(photo.who), use(photo.at);
}

std::vector<shop::Inspection> SqlInstallations::inspections(const std::string& job) {
  long long number = 0;
  shop::Inspection inspection;
  inspection.job = job;
  std::vector<long long> numbers;
  std::vector<shop::Inspection> inspections;
  soci::statement statement =
      (sql_.prepare << "SELECT number, who, at FROM inspections WHERE job = :job ORDER BY number",
       into(number), into(inspection.who), into(inspection.at), use(job));
  statement.execute();
  while (statement.fetch()) {
    numbers.push_back(number);
    inspections.push_back(inspection);
  }
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    shop::Finding finding;
    int good = 0;
    soci::statement findings =
        (sql_.prepare << "SELECT item, good, note, photo FROM findings WHERE inspection = :number"
                         " ORDER BY position",
         into(finding.item), into(good), into(finding.note), into(finding.photo), use(numbers[i]));
    findings.execute();
    while (findings.fetch()) {
      finding.good = good != 0;
      inspections[i].findings.push_back(finding);
    }
  }
  return inspections;
}

void SqlInstallations::append(const shop::Inspection& inspection) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM inspections", into(number);
  sql_ << "INSERT INTO inspections (number, job, who, at) VALUES (:number, :job, :who, :at)",
      use(number), use(inspection.job), use(inspection.who), use(inspection.at);
  int position = 0;
  for (const shop::Finding& finding : inspection.findings) {
    const int good = finding.good;
    sql_ << "INSERT INTO findings (inspection, position, item, good, note, photo)"
            " VALUES (:number, :position, :item, :good, :note, :photo)",
        use(number), use(position), use(finding.item), use(good), use(finding.note),
        use(finding.photo);
    ++position;
  }
}

std::vector<shop::HandOver> SqlInstallations::hand_overs(const std::string& job) {
  shop::HandOver given;
  given.job = job;
  soci::statement statement =
      (sql_.prepare << "SELECT given_by, received_by, declined, note, at FROM hand_overs"
                       " WHERE job = :job ORDER BY entry",
       into(given.given_by), into(given.received_by), into(given.declined), into(given.note),
       into(given.at), use(job));
  statement.execute();
  std::vector<shop::HandOver> all;
  while (statement.fetch()) all.push_back(given);
  return all;
}

void SqlInstallations::append(const shop::HandOver& given) {
  sql_ << "INSERT INTO hand_overs (job, given_by, received_by, declined, note, at)"
          " VALUES (:job, :given_by, :received_by, :declined, :note, :at)",
      use(given.job), use(given.given_by), use(given.received_by), use(given.declined),
      use(given.note), use(given.at);
}

}  // namespace film::store::detail
