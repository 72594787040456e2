// Terms, certificates and claims.

#include "store/detail/sql_warranties.h"

#include "base/text.h"
#include "shop/names.h"
#include "store/detail/parsed.h"

namespace film::store::detail {

using soci::into;
using soci::use;

std::optional<shop::FilmTerm> SqlWarranties::film_term(const std::string& film) {
  shop::FilmTerm term;
  sql_ << "SELECT film, name, months FROM film_terms WHERE film = :film", into(term.film),
      into(term.name), into(term.months), use(film);
  if (!sql_.got_data()) return std::nullopt;
  return term;
}

void SqlWarranties::put(const shop::FilmTerm& term) {
  sql_ << "INSERT INTO film_terms (film, name, months) VALUES (:film, :name, :months)"
          " ON CONFLICT (film) DO UPDATE SET name = excluded.name, months = excluded.months",
      use(term.film), use(term.name), use(term.months);
}

std::vector<shop::Certificate> SqlWarranties::certificates(const std::string& job) {
  shop::Certificate certificate;
  certificate.job = job;
  std::vector<shop::Certificate> all;
  soci::statement statement =
      (sql_.prepare << "SELECT id, issued_by, issued FROM certificates"
                       " WHERE job = :job ORDER BY number",
       into(certificate.id), into(certificate.issued_by), into(certificate.issued), use(job));
  statement.execute();
  while (statement.fetch()) all.push_back(certificate);
  for (shop::Certificate& each : all) {
    shop::FilmTerm term;
    soci::statement terms = (sql_.prepare << "SELECT film, name, months FROM certificate_terms"
                                             " WHERE certificate = :id ORDER BY position",
                             into(term.film), into(term.name), into(term.months), use(each.id));
    terms.execute();
    while (terms.fetch()) each.terms.push_back(term);
  }
  return all;
}

shop::Certificate SqlWarranties::add(shop::Certificate certificate) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM certificates", into(number);
  certificate.id = format("W-{:04}", number);
  sql_ << "INSERT INTO certificates (number, id, job, issued_by, issued)"
          " VALUES (:number, :id, :job, :issued_by, :issued)",
      use(number), use(certificate.id), use(certificate.job), use(certificate.issued_by),
      use(certificate.issued);
  int position = 0;
  for (const shop::FilmTerm& term : certificate.terms) {
    sql_ << "INSERT INTO certificate_terms (certificate, position, film, name, months)"
            " VALUES (:id, :position, :film, :name, :months)",
        use(certificate.id), use(position), use(term.film), use(term.name), use(term.months);
    ++position;
  }
  return certificate;
}

std::vector<shop::ClaimRecord> SqlWarranties::claims() { return claims_where("'' = :value", ""); }

std::vector<shop::ClaimRecord> SqlWarranties::claims(const std::string& job) {
  return claims_where("job = :value", job);
}

std::optional<shop::ClaimRecord> SqlWarranties::claim(const std::string& id) {
  auto found = claims_where("id = :value", id);
  if (found.empty()) return std::nullopt;
  return std::move(found.front());
}

std::vector<shop::ClaimRecord> SqlWarranties::claims_where(const std::string& condition,
                                                           const std::string& value) {
  std::vector<shop::ClaimRecord> all;
  {
    shop::Claim claim;
    long long piece = 0;
    soci::statement statement =
        (sql_.prepare << "SELECT id, job, piece, what, reported_by, who, at FROM claims WHERE " +
                             condition + " ORDER BY number DESC",
         into(claim.id), into(claim.job), into(piece), into(claim.what), into(claim.reported_by),
         into(claim.who), into(claim.at), use(value));
    statement.execute();
    while (statement.fetch()) {
      claim.piece = piece;
      all.push_back({claim, {}, {}});
    }
  }
  for (shop::ClaimRecord& each : all) {
    std::string hash;
    soci::statement photos =
        (sql_.prepare << "SELECT hash FROM claim_photos WHERE claim = :id ORDER BY position",
         into(hash), use(each.claim.id));
    photos.execute();
    while (photos.fetch()) each.claim.photos.push_back(hash);
    each.rulings = rulings(each.claim.id);
    std::string recut;
    soci::statement recuts =
        (sql_.prepare << "SELECT id FROM recuts WHERE claim = :id ORDER BY number", into(recut),
         use(each.claim.id));
    recuts.execute();
    while (recuts.fetch()) each.recuts.push_back(recut);
  }
  return all;
}

std::vector<shop::ClaimRuling> SqlWarranties::rulings(const std::string& claim) {
  shop::ClaimRuling ruling;
  std::string name;
  int recut = 0;
  ruling.claim = claim;
  soci::statement statement =
      (sql_.prepare << "SELECT ruling, reason, recut, who, at FROM claim_rulings"
                       " WHERE claim = :claim ORDER BY entry",
       into(name), into(ruling.reason), into(recut), into(ruling.who), into(ruling.at), use(claim));
  statement.execute();
  std::vector<shop::ClaimRuling> all;
  while (statement.fetch()) {
    ruling.ruling = parsed<shop::Ruling>(name);
    ruling.recut = recut != 0;
    all.push_back(ruling);
  }
  return all;
}

shop::Claim SqlWarranties::add(shop::Claim claim) {
  long long number = 0;
  sql_ << "SELECT coalesce(max(number), 0) + 1 FROM claims", into(number);
  claim.id = format("K-{:04}", number);
  const long long piece = claim.piece;
  sql_ << "INSERT INTO claims (number, id, job, piece, what, reported_by, who, at)"
          " VALUES (:number, :id, :job, :piece, :what, :reported_by, :who, :at)",
      use(number), use(claim.id), use(claim.job), use(piece), use(claim.what),
      use(claim.reported_by), use(claim.who), use(claim.at);
  int position = 0;
  for (const std::string& hash : claim.photos) {
    sql_ << "INSERT INTO claim_photos (claim, position, hash) VALUES (:id, :position, :hash)",
        use(claim.id), use(position), use(hash);
    ++position;
  }
  return claim;
}

void SqlWarranties::append(const shop::ClaimRuling& ruling) {
  const std::string name(name_of(ruling.ruling));
  const int recut = ruling.recut;
  sql_ << "INSERT INTO claim_rulings (claim, ruling, reason, recut, who, at)"
          " VALUES (:claim, :ruling, :reason, :recut, :who, :at)",
      use(ruling.claim), use(name), use(ruling.reason), use(recut), use(ruling.who), use(ruling.at);
}

}  // namespace film::store::detail
