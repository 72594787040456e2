#include "store/migrations.h"

#include <deque>
#include <string>
#include <utility>

#include "base/text.h"

namespace film::store {

namespace {

/// Keeps a statement that is put together here; the steps hold views.
std::string_view keep(std::string statement) {
  static std::deque<std::string> kept;
  return kept.emplace_back(std::move(statement));
}

// Every new or changed row of a table with `id` and `revision` leaves a line in the audit trail.
// `record` is what the line calls it: "job".

std::string_view audit_added(std::string_view table, std::string_view record) {
  return keep(
      format("CREATE TRIGGER {0}_added AFTER INSERT ON {0}"
             " BEGIN INSERT INTO audit (at, who, record, what, detail, revision_before,"
             " revision_after) SELECT at, who, '{1} ' || NEW.id, 'added', '', 0,"
             " NEW.revision FROM author; END",
             table, record));
}

/// The line tells the columns `told` before and after when they changed.
std::string_view audit_changed(std::string_view table, std::string_view record,
                               const std::vector<std::string_view>& told) {
  std::string detail = "''";
  for (const std::string_view column : told) {
    detail += format(
        " || CASE WHEN OLD.{0} <> NEW.{0} THEN '{0}: ' || OLD.{0} || ' -> ' || NEW.{0}"
        " || '; ' ELSE '' END",
        column);
  }
  return keep(
      format("CREATE TRIGGER {0}_changed AFTER UPDATE ON {0}"
             " BEGIN INSERT INTO audit (at, who, record, what, detail, revision_before,"
             " revision_after) SELECT at, who, '{1} ' || NEW.id, 'changed', {2},"
             " OLD.revision, NEW.revision FROM author; END",
             table, record, detail));
}

// Records without `id` and `revision`: `record`, `detail` are expressions over NEW.

std::string_view trail_added(std::string_view table, std::string_view record, std::string_view what,
                             std::string_view detail) {
  return keep(
      format("CREATE TRIGGER {0}_told AFTER INSERT ON {0}"
             " BEGIN INSERT INTO audit (at, who, record, what, detail, revision_before,"
             " revision_after) SELECT at, who, {1}, '{2}', {3}, 0, 0 FROM author; END",
             table, record, what, detail));
}

/// Tells the columns `told` before and after; of those in `big` only that they changed.
std::string_view trail_changed(std::string_view table, std::string_view record,
                               const std::vector<std::string_view>& told,
                               const std::vector<std::string_view>& big = {}) {
  std::string detail = "''";
  std::string differs;
  for (const std::string_view column : told) {
    detail += format(
        " || CASE WHEN OLD.{0} <> NEW.{0} THEN '{0}: ' || OLD.{0} || ' -> ' || NEW.{0}"
        " || '; ' ELSE '' END",
        column);
  }
  for (const std::string_view column : big) {
    detail += format(" || CASE WHEN OLD.{0} <> NEW.{0} THEN '{0}; ' ELSE '' END", column);
  }
  for (const auto* columns : {&told, &big}) {
    for (const std::string_view column : *columns) {
      differs += format("{}OLD.{} <> NEW.{}", differs.empty() ? "" : " OR ", column, column);
    }
  }
  return keep(
      format("CREATE TRIGGER {0}_retold AFTER UPDATE ON {0} WHEN {3}"
             " BEGIN INSERT INTO audit (at, who, record, what, detail, revision_before,"
             " revision_after) SELECT at, who, {1}, 'changed', {2}, 0, 0 FROM author; END",
             table, record, detail, differs));
}

/// The audit trail of every record that has none yet. Not told twice: history, stock ledger,
/// journals of runs and cards' events, which are trails themselves (docs/decisions/0103).
std::vector<std::string_view> trails_of_the_shop() {
  return {
      trail_added("settings", "'shop'", "added", "NEW.name"),
      trail_changed("settings", "'shop'",
                    {"name", "currency", "length_unit", "piece_gap", "bulk_trim",
                     "outline_tolerance", "demo"}),
      trail_added("rolls", "'roll ' || NEW.id", "added", "NEW.film || ', lot ' || NEW.lot"),
      trail_changed("rolls", "'roll ' || NEW.id", {"film", "lot", "place"}, {"defects"}),
      trail_added("offcuts", "'offcut ' || NEW.id", "added", "NEW.source || ' ' || NEW.run"),
      trail_added("supplies", "'supply ' || NEW.film || ' ' || CAST(NEW.width AS INTEGER)", "added",
                  "'minimum ' || NEW.minimum"),
      trail_changed("supplies", "'supply ' || NEW.film || ' ' || CAST(NEW.width AS INTEGER)",
                    {"minimum", "roll_length", "lead_days", "areal_gsm", "wound_um", "core_g",
                     "core_diameter"}),
      trail_added("profiles", "'plotter ' || NEW.id", "added", "NEW.name"),
      trail_changed("profiles", "'plotter ' || NEW.id", {"name"}, {"settings"}),
      trail_added("glass_places", "'job ' || NEW.job", "place of use", "NEW.place"),
      trail_changed("glass_places", "'job ' || NEW.job", {"place"}),
      trail_added("glass_readings", "'job ' || NEW.job", "reading",
                  "NEW.panel || ' ' || NEW.stage || ' ' || NEW.transmittance"),
      trail_added("decisions", "'job ' || NEW.job", "decision",
                  "NEW.panel || ' ' || NEW.concern || ' ' || NEW.signed_by"),
      trail_added("roll_layouts", "'job ' || NEW.job", "layout", "NEW.film || ' ' || NEW.roll"),
      trail_added("roll_cuts", "'job ' || NEW.job", "knife path",
                  "NEW.film || ' ' || NEW.roll || ' ' || NEW.profile"),
      trail_added("cut_runs", "'run ' || NEW.id", "added", "NEW.job || ' ' || NEW.roll"),
      trail_changed("cut_runs", "'run ' || NEW.id", {"used", "over"}),
      trail_added("recuts", "'recut ' || NEW.id", "added",
                  "NEW.job || ' ' || NEW.piece || ' ' || NEW.stock || ' ' || NEW.reason"),
      trail_added("installed_pieces", "'piece P-' || NEW.number", "laid",
                  "NEW.job || ' ' || NEW.panel || ', lot ' || NEW.lot"),
      trail_added("photos", "'job ' || NEW.job", "photo", "NEW.hash"),
      trail_added("inspections", "'job ' || NEW.job", "inspection", "'' || NEW.number"),
      trail_added("hand_overs", "'job ' || NEW.job", "handed over", "NEW.received_by"),
      trail_added("film_terms", "'film ' || NEW.film", "term", "NEW.months || ' months'"),
      trail_changed("film_terms", "'film ' || NEW.film", {"months", "name"}),
      trail_added("certificates", "'certificate ' || NEW.id", "added", "NEW.job"),
      trail_added("claims", "'claim ' || NEW.id", "added",
                  "NEW.job || ' P-' || NEW.piece || ': ' || NEW.what"),
      trail_added("claim_rulings", "'claim ' || NEW.claim", "decided",
                  "NEW.ruling || ': ' || NEW.reason"),
      trail_added("letterhead", "'letterhead'", "added", "''"),
      trail_changed("letterhead", "'letterhead'",
                    {"lines", "tax_id", "bank", "logo", "address", "language", "paper"}),
      trail_added("invoices", "'invoice ' || NEW.id", "added", "NEW.job"),
      trail_added("payments", "'job ' || NEW.job", "payment",
                  "NEW.kind || ' ' || NEW.amount || ' ' || NEW.way"),
      trail_added("price_lists", "'price list ' || NEW.revision", "added", "''"),
      trail_added("quotes", "'quote ' || NEW.id || ' ' || NEW.version", "added", "NEW.title"),
      trail_changed("quotes", "'quote ' || NEW.id || ' ' || NEW.version",
                    {"state", "title", "customer", "vehicle", "sent", "valid_until", "job"},
                    {"document"}),
      trail_added("worked", "'job ' || NEW.job", "hours",
                  "NEW.who || ' ' || NEW.task || ' ' || NEW.minutes || ' min'"),
      trail_added("workplaces", "'workplace'", "added", "'revision ' || NEW.revision"),
      trail_changed("workplaces", "'workplace'", {"revision"}, {"text"}),
      trail_added("plans", "'plan ' || NEW.number", "added", "NEW.what"),
      trail_added("plan_feeds", "'calendar of ' || NEW.person", "added", "''"),
      trail_added("passwords", "'person ' || NEW.person", "password set", "''"),
      trail_changed("passwords", "'person ' || NEW.person", {}, {"hash"}),
      trail_added("job_customers", "'job ' || NEW.job", "customer",
                  "NEW.customer || ' ' || NEW.vehicle"),
      trail_changed("job_customers", "'job ' || NEW.job", {"customer", "vehicle"}),
  };
}

std::vector<std::string_view> trails_of_the_library() {
  return {
      trail_added("films", "'film ' || NEW.id", "added", "NEW.name"),
      trail_changed("films", "'film ' || NEW.id",
                    {"name", "made_for", "gloss", "colour", "thickness_um", "grain"},
                    {"behaviour"}),
      trail_added("film_optics", "'film ' || NEW.film", "optics", "''"),
      trail_changed("film_optics", "'film ' || NEW.film", {}, {"layer"}),
      trail_added("vehicles", "'model ' || NEW.id || ' ' || NEW.version", "added", "NEW.name"),
      trail_changed("vehicles", "'model ' || NEW.id || ' ' || NEW.version", {"name", "standing"}),
  };
}

template <class... More>
std::vector<std::string_view> with(std::vector<std::string_view> statements, More... more) {
  statements.insert(statements.begin(), {std::string_view(more)...});
  return statements;
}

}  // namespace

const std::vector<Migration>& migrations() {
  static const std::vector<Migration> kAll{
      {1,
       "the shop, its stock and its jobs",
       {
           "CREATE TABLE settings ("
           " one INTEGER PRIMARY KEY CHECK (one = 1),"
           " name TEXT NOT NULL, currency TEXT NOT NULL, length_unit TEXT NOT NULL,"
           " piece_gap DOUBLE PRECISION NOT NULL, bulk_trim DOUBLE PRECISION NOT NULL,"
           " outline_tolerance DOUBLE PRECISION NOT NULL, demo INTEGER NOT NULL)",
           "CREATE TABLE rolls ("
           " id TEXT PRIMARY KEY, film TEXT NOT NULL REFERENCES films (id), lot TEXT NOT NULL,"
           " width DOUBLE PRECISION NOT NULL CHECK (width > 0),"
           " length DOUBLE PRECISION NOT NULL CHECK (length > 0),"
           " remaining DOUBLE PRECISION NOT NULL CHECK (remaining >= 0 AND remaining <= length),"
           " received TEXT NOT NULL, place TEXT NOT NULL)",
           "CREATE INDEX rolls_by_film ON rolls (film)",
           "CREATE INDEX rolls_by_lot ON rolls (lot)",
           "CREATE TABLE profiles ("
           " id TEXT PRIMARY KEY, name TEXT NOT NULL, settings TEXT NOT NULL)",
           "CREATE TABLE jobs ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, title TEXT NOT NULL,"
           " customer TEXT NOT NULL, vehicle TEXT NOT NULL, vehicle_version INTEGER NOT NULL,"
           " state TEXT NOT NULL CHECK (state IN"
           " ('scoped', 'laid_out', 'cut_planned', 'released', 'cancelled')),"
           " revision INTEGER NOT NULL, created TEXT NOT NULL,"
           " FOREIGN KEY (vehicle, vehicle_version) REFERENCES vehicles (id, version))",
           "CREATE TABLE scope_items ("
           " job TEXT NOT NULL REFERENCES jobs (id), position INTEGER NOT NULL,"
           " panel TEXT NOT NULL, film TEXT NOT NULL REFERENCES films (id),"
           " PRIMARY KEY (job, panel))",
           "CREATE TABLE layouts ("
           " job TEXT NOT NULL REFERENCES jobs (id), film TEXT NOT NULL REFERENCES films (id),"
           " roll TEXT NOT NULL REFERENCES rolls (id), width DOUBLE PRECISION NOT NULL,"
           " length DOUBLE PRECISION NOT NULL, gap DOUBLE PRECISION NOT NULL,"
           " piece_area DOUBLE PRECISION NOT NULL, seed TEXT NOT NULL, iterations TEXT NOT NULL,"
           " seconds DOUBLE PRECISION NOT NULL, made TEXT NOT NULL,"
           " problem TEXT NOT NULL REFERENCES blobs (hash),"
           " sheet TEXT NOT NULL REFERENCES blobs (hash),"
           " pieces TEXT NOT NULL REFERENCES blobs (hash), PRIMARY KEY (job, film))",
           "CREATE TABLE cuts ("
           " job TEXT NOT NULL, film TEXT NOT NULL, sheet TEXT NOT NULL REFERENCES blobs (hash),"
           " profile TEXT NOT NULL REFERENCES profiles (id), cut_mm DOUBLE PRECISION NOT NULL,"
           " travel_mm DOUBLE PRECISION NOT NULL, estimated_seconds DOUBLE PRECISION NOT NULL,"
           " made TEXT NOT NULL, path TEXT NOT NULL REFERENCES blobs (hash),"
           " plot TEXT NOT NULL REFERENCES blobs (hash), PRIMARY KEY (job, film),"
           " FOREIGN KEY (job, film) REFERENCES layouts (job, film))",
           // What was booked out of a roll; remaining length is checked against it.
           "CREATE TABLE film_taken ("
           " entry INTEGER PRIMARY KEY, roll TEXT NOT NULL REFERENCES rolls (id),"
           " job TEXT NOT NULL REFERENCES jobs (id),"
           " length DOUBLE PRECISION NOT NULL CHECK (length > 0), at TEXT NOT NULL)",
           "CREATE INDEX film_taken_by_job ON film_taken (job)",
           "CREATE TABLE history ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id), at TEXT NOT NULL,"
           " who TEXT NOT NULL, what TEXT NOT NULL, detail TEXT NOT NULL)",
           "CREATE INDEX history_by_job ON history (job)",
           // Nobody rewrites what happened, not even this program by mistake.
           "CREATE TRIGGER history_is_kept BEFORE UPDATE ON history"
           " BEGIN SELECT RAISE(ABORT, 'history is append-only'); END",
           "CREATE TRIGGER history_stays BEFORE DELETE ON history"
           " BEGIN SELECT RAISE(ABORT, 'history is append-only'); END",
           "CREATE TRIGGER film_taken_is_kept BEFORE UPDATE ON film_taken"
           " BEGIN SELECT RAISE(ABORT, 'the stock ledger is append-only'); END",
           "CREATE TRIGGER film_taken_stays BEFORE DELETE ON film_taken"
           " BEGIN SELECT RAISE(ABORT, 'the stock ledger is append-only'); END",
       },
       {
           "CREATE TABLE blobs (hash TEXT PRIMARY KEY, bytes BLOB NOT NULL)",
           "CREATE TABLE films ("
           " id TEXT PRIMARY KEY, name TEXT NOT NULL, made_for TEXT NOT NULL, gloss TEXT NOT NULL,"
           " colour TEXT NOT NULL, thickness_um DOUBLE PRECISION NOT NULL,"
           " grain TEXT NOT NULL, behaviour TEXT NOT NULL)",
           "CREATE TABLE film_suits ("
           " film TEXT NOT NULL REFERENCES films (id), position INTEGER NOT NULL,"
           " finish TEXT NOT NULL, PRIMARY KEY (film, position))",
           "CREATE TABLE vehicles ("
           " id TEXT NOT NULL, version INTEGER NOT NULL, name TEXT NOT NULL,"
           " PRIMARY KEY (id, version))",
           "CREATE TABLE panels ("
           " vehicle TEXT NOT NULL, version INTEGER NOT NULL, position INTEGER NOT NULL,"
           " id TEXT NOT NULL, name TEXT NOT NULL, zone TEXT NOT NULL, side TEXT NOT NULL,"
           " finish TEXT NOT NULL, twin_of TEXT NOT NULL, sensor INTEGER NOT NULL,"
           " badge INTEGER NOT NULL, edges TEXT NOT NULL,"
           " surface TEXT NOT NULL REFERENCES blobs (hash),"
           " PRIMARY KEY (vehicle, version, id),"
           " FOREIGN KEY (vehicle, version) REFERENCES vehicles (id, version))",
           "CREATE TABLE scenery ("
           " vehicle TEXT NOT NULL, version INTEGER NOT NULL, position INTEGER NOT NULL,"
           " id TEXT NOT NULL, finish TEXT NOT NULL, surface TEXT NOT NULL REFERENCES blobs (hash),"
           " PRIMARY KEY (vehicle, version, id),"
           " FOREIGN KEY (vehicle, version) REFERENCES vehicles (id, version))",
           "CREATE TABLE computed ("
           " key TEXT PRIMARY KEY, result TEXT NOT NULL REFERENCES blobs (hash))",
       }},
      {2,
       "versions of vehicles: who, why, standing; prepared pieces",
       {},
       {
           "ALTER TABLE vehicles ADD COLUMN based_on INTEGER NOT NULL DEFAULT 0",
           "ALTER TABLE vehicles ADD COLUMN author TEXT NOT NULL DEFAULT ''",
           "ALTER TABLE vehicles ADD COLUMN note TEXT NOT NULL DEFAULT ''",
           "ALTER TABLE vehicles ADD COLUMN made TEXT NOT NULL DEFAULT ''",
           "ALTER TABLE vehicles ADD COLUMN standing TEXT NOT NULL DEFAULT 'accepted' CHECK"
           " (standing IN ('accepted', 'proposed', 'declined', 'removed'))",
           // The document of a panel's pieces by hash, or nothing.
           "ALTER TABLE panels ADD COLUMN pieces TEXT NOT NULL DEFAULT ''",
           // What a job was made with stays as it was.
           "CREATE TRIGGER used_versions_stay BEFORE UPDATE OF standing ON vehicles"
           " WHEN NEW.standing = 'removed' AND EXISTS (SELECT 1 FROM jobs WHERE vehicle = NEW.id"
           " AND vehicle_version = NEW.version)"
           " BEGIN SELECT RAISE(ABORT, 'a job uses this version'); END",
           "CREATE TRIGGER versions_stay BEFORE DELETE ON vehicles"
           " BEGIN SELECT RAISE(ABORT, 'versions are kept'); END",
           "CREATE TRIGGER panels_are_kept BEFORE UPDATE ON panels"
           " BEGIN SELECT RAISE(ABORT, 'a version is never changed'); END",
           "CREATE TRIGGER panels_stay BEFORE DELETE ON panels"
           " WHEN (SELECT standing FROM vehicles WHERE id = OLD.vehicle AND version ="
           " OLD.version) <> 'removed'"
           " BEGIN SELECT RAISE(ABORT, 'a version is never changed'); END",
       }},
      {3,
       "glass and lamps",
       {
           "CREATE TABLE glass_places ("
           " job TEXT PRIMARY KEY REFERENCES jobs (id), place TEXT NOT NULL)",
           "CREATE TABLE glass_readings ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " panel TEXT NOT NULL, stage TEXT NOT NULL CHECK (stage IN ('before', 'after')),"
           " transmittance DOUBLE PRECISION NOT NULL"
           " CHECK (transmittance >= 0 AND transmittance <= 1),"
           " uncertainty DOUBLE PRECISION NOT NULL CHECK (uncertainty > 0),"
           " meter TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX glass_readings_by_job ON glass_readings (job)",
           "CREATE TABLE decisions ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " panel TEXT NOT NULL,"
           " concern TEXT NOT NULL CHECK (concern IN ('lamp', 'reflector', 'sensor')),"
           " go_ahead INTEGER NOT NULL, signed_by TEXT NOT NULL, basis TEXT NOT NULL,"
           " at TEXT NOT NULL)",
           "CREATE INDEX decisions_by_job ON decisions (job)",
           // What was measured and what was signed is never rewritten.
           "CREATE TRIGGER glass_readings_are_kept BEFORE UPDATE ON glass_readings"
           " BEGIN SELECT RAISE(ABORT, 'readings are append-only'); END",
           "CREATE TRIGGER glass_readings_stay BEFORE DELETE ON glass_readings"
           " BEGIN SELECT RAISE(ABORT, 'readings are append-only'); END",
           "CREATE TRIGGER decisions_are_kept BEFORE UPDATE ON decisions"
           " BEGIN SELECT RAISE(ABORT, 'decisions are append-only'); END",
           "CREATE TRIGGER decisions_stay BEFORE DELETE ON decisions"
           " BEGIN SELECT RAISE(ABORT, 'decisions are append-only'); END",
       },
       {
           "CREATE TABLE film_optics ("
           " film TEXT PRIMARY KEY REFERENCES films (id), layer TEXT NOT NULL)",
       }},
      {4,
       "cutting runs",
       {
           "CREATE TABLE cut_runs ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), film TEXT NOT NULL REFERENCES films (id),"
           " roll TEXT NOT NULL REFERENCES rolls (id),"
           " machine TEXT NOT NULL REFERENCES profiles (id),"
           " plan TEXT NOT NULL REFERENCES blobs (hash),"
           " profile TEXT NOT NULL REFERENCES blobs (hash), contours INTEGER NOT NULL,"
           " used DOUBLE PRECISION NOT NULL CHECK (used >= 0), over INTEGER NOT NULL,"
           " started TEXT NOT NULL)",
           "CREATE UNIQUE INDEX one_run_a_machine ON cut_runs (machine) WHERE over = 0",
           "CREATE UNIQUE INDEX one_run_a_film ON cut_runs (job, film) WHERE over = 0",
           "CREATE TABLE cut_marks ("
           " entry INTEGER PRIMARY KEY, run TEXT NOT NULL REFERENCES cut_runs (id),"
           " at TEXT NOT NULL, text TEXT NOT NULL)",
           "CREATE INDEX cut_marks_by_run ON cut_marks (run)",
           "CREATE TRIGGER cut_marks_are_kept BEFORE UPDATE ON cut_marks"
           " BEGIN SELECT RAISE(ABORT, 'a run''s journal is append-only'); END",
           "CREATE TRIGGER cut_marks_stay BEFORE DELETE ON cut_marks"
           " BEGIN SELECT RAISE(ABORT, 'a run''s journal is append-only'); END",
       }},
      {5,
       "states of jobs are checked by the program; which versions any shop uses",
       {
           // A check inside the table could not grow with the states.
           "ALTER TABLE jobs RENAME COLUMN state TO state_before",
           "ALTER TABLE jobs ADD COLUMN state TEXT NOT NULL DEFAULT 'scoped'",
           "UPDATE jobs SET state = state_before",
           "ALTER TABLE jobs DROP COLUMN state_before",
           "INSERT INTO vehicle_uses (vehicle, version)"
           " SELECT DISTINCT vehicle, vehicle_version FROM jobs WHERE true ON CONFLICT DO NOTHING",
       },
       {
           "CREATE TABLE vehicle_uses ("
           " vehicle TEXT NOT NULL, version INTEGER NOT NULL, PRIMARY KEY (vehicle, version),"
           " FOREIGN KEY (vehicle, version) REFERENCES vehicles (id, version))",
           "CREATE TRIGGER uses_stay BEFORE DELETE ON vehicle_uses"
           " BEGIN SELECT RAISE(ABORT, 'what was used is kept'); END",
           "CREATE TRIGGER versions_in_use_stay BEFORE UPDATE OF standing ON vehicles"
           " WHEN NEW.standing = 'removed' AND EXISTS (SELECT 1 FROM vehicle_uses WHERE vehicle ="
           " NEW.id AND version = NEW.version)"
           " BEGIN SELECT RAISE(ABORT, 'a job of this or another shop uses this version'); END",
       }},
      {6,
       "what went onto vehicles, how it was found, what came back; invoices",
       {
           "CREATE TABLE installed_pieces ("
           " number INTEGER PRIMARY KEY, event TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), panel TEXT NOT NULL, piece TEXT NOT NULL,"
           " film TEXT NOT NULL REFERENCES films (id), lot TEXT NOT NULL, source TEXT NOT NULL,"
           " run TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL,"
           " replaces INTEGER NOT NULL DEFAULT 0, reason TEXT NOT NULL,"
           " CHECK ((replaces = 0) = (reason = '')))",
           "CREATE INDEX installed_pieces_by_job ON installed_pieces (job, number)",
           "CREATE INDEX installed_pieces_by_lot ON installed_pieces (lot, number)",
           "CREATE UNIQUE INDEX one_replacement ON installed_pieces (replaces) WHERE replaces <> 0",

           "CREATE TABLE photos ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " panel TEXT NOT NULL, about TEXT NOT NULL, hash TEXT NOT NULL REFERENCES blobs (hash),"
           " type TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX photos_by_job ON photos (job)",

           "CREATE TABLE inspections ("
           " number INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX inspections_by_job ON inspections (job)",
           "CREATE TABLE findings ("
           " inspection INTEGER NOT NULL REFERENCES inspections (number),"
           " position INTEGER NOT NULL, item TEXT NOT NULL, good INTEGER NOT NULL,"
           " note TEXT NOT NULL, photo TEXT NOT NULL, PRIMARY KEY (inspection, position))",
           "CREATE TABLE hand_overs ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " given_by TEXT NOT NULL, received_by TEXT NOT NULL, declined TEXT NOT NULL,"
           " note TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX hand_overs_by_job ON hand_overs (job)",

           "CREATE TABLE film_terms ("
           " film TEXT PRIMARY KEY REFERENCES films (id), name TEXT NOT NULL,"
           " months INTEGER NOT NULL CHECK (months >= 0))",
           "CREATE TABLE certificates ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), issued_by TEXT NOT NULL,"
           " issued TEXT NOT NULL)",
           "CREATE INDEX certificates_by_job ON certificates (job)",
           "CREATE TABLE certificate_terms ("
           " certificate TEXT NOT NULL REFERENCES certificates (id), position INTEGER NOT NULL,"
           " film TEXT NOT NULL, name TEXT NOT NULL, months INTEGER NOT NULL,"
           " PRIMARY KEY (certificate, position))",

           "CREATE TABLE claims ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id),"
           " piece INTEGER NOT NULL REFERENCES installed_pieces (number), what TEXT NOT NULL,"
           " reported_by TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX claims_by_job ON claims (job)",
           "CREATE INDEX claims_by_piece ON claims (piece)",
           "CREATE TABLE claim_photos ("
           " claim TEXT NOT NULL REFERENCES claims (id), position INTEGER NOT NULL,"
           " hash TEXT NOT NULL REFERENCES blobs (hash), PRIMARY KEY (claim, position))",
           "CREATE TABLE claim_rulings ("
           " entry INTEGER PRIMARY KEY, claim TEXT NOT NULL REFERENCES claims (id),"
           " ruling TEXT NOT NULL CHECK (ruling IN ('warranty', 'goodwill', 'declined')),"
           " reason TEXT NOT NULL, recut INTEGER NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX claim_rulings_by_claim ON claim_rulings (claim)",

           "CREATE TABLE letterhead ("
           " one INTEGER PRIMARY KEY CHECK (one = 1), lines TEXT NOT NULL, tax_id TEXT NOT NULL,"
           " bank TEXT NOT NULL, logo TEXT NOT NULL, address TEXT NOT NULL,"
           " language TEXT NOT NULL, paper TEXT NOT NULL)",
           "CREATE TABLE invoices ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), bill_to TEXT NOT NULL,"
           " currency TEXT NOT NULL, note TEXT NOT NULL, due TEXT NOT NULL,"
           " issued_by TEXT NOT NULL, issued TEXT NOT NULL)",
           "CREATE INDEX invoices_by_job ON invoices (job)",
           "CREATE TABLE invoice_lines ("
           " invoice TEXT NOT NULL REFERENCES invoices (id), position INTEGER NOT NULL,"
           " text TEXT NOT NULL, net INTEGER NOT NULL, tax INTEGER NOT NULL,"
           " PRIMARY KEY (invoice, position))",
           "CREATE TABLE payments ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " kind TEXT NOT NULL CHECK (kind IN ('deposit', 'payment', 'refund')),"
           " amount INTEGER NOT NULL CHECK (amount > 0), way TEXT NOT NULL, note TEXT NOT NULL,"
           " who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX payments_by_job ON payments (job)",

           // What was laid, found, promised, decided, billed and paid is never rewritten.
           "CREATE TRIGGER installed_pieces_are_kept BEFORE UPDATE ON installed_pieces"
           " BEGIN SELECT RAISE(ABORT, 'installed pieces are append-only'); END",
           "CREATE TRIGGER installed_pieces_stay BEFORE DELETE ON installed_pieces"
           " BEGIN SELECT RAISE(ABORT, 'installed pieces are append-only'); END",
           "CREATE TRIGGER photos_are_kept BEFORE UPDATE ON photos"
           " BEGIN SELECT RAISE(ABORT, 'photos are append-only'); END",
           "CREATE TRIGGER photos_stay BEFORE DELETE ON photos"
           " BEGIN SELECT RAISE(ABORT, 'photos are append-only'); END",
           "CREATE TRIGGER inspections_are_kept BEFORE UPDATE ON inspections"
           " BEGIN SELECT RAISE(ABORT, 'inspections are append-only'); END",
           "CREATE TRIGGER inspections_stay BEFORE DELETE ON inspections"
           " BEGIN SELECT RAISE(ABORT, 'inspections are append-only'); END",
           "CREATE TRIGGER findings_are_kept BEFORE UPDATE ON findings"
           " BEGIN SELECT RAISE(ABORT, 'inspections are append-only'); END",
           "CREATE TRIGGER findings_stay BEFORE DELETE ON findings"
           " BEGIN SELECT RAISE(ABORT, 'inspections are append-only'); END",
           "CREATE TRIGGER hand_overs_are_kept BEFORE UPDATE ON hand_overs"
           " BEGIN SELECT RAISE(ABORT, 'hand-overs are append-only'); END",
           "CREATE TRIGGER hand_overs_stay BEFORE DELETE ON hand_overs"
           " BEGIN SELECT RAISE(ABORT, 'hand-overs are append-only'); END",
           "CREATE TRIGGER certificates_are_kept BEFORE UPDATE ON certificates"
           " BEGIN SELECT RAISE(ABORT, 'certificates are append-only'); END",
           "CREATE TRIGGER certificates_stay BEFORE DELETE ON certificates"
           " BEGIN SELECT RAISE(ABORT, 'certificates are append-only'); END",
           "CREATE TRIGGER certificate_terms_are_kept BEFORE UPDATE ON certificate_terms"
           " BEGIN SELECT RAISE(ABORT, 'certificates are append-only'); END",
           "CREATE TRIGGER certificate_terms_stay BEFORE DELETE ON certificate_terms"
           " BEGIN SELECT RAISE(ABORT, 'certificates are append-only'); END",
           "CREATE TRIGGER claims_are_kept BEFORE UPDATE ON claims"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER claims_stay BEFORE DELETE ON claims"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER claim_photos_are_kept BEFORE UPDATE ON claim_photos"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER claim_photos_stay BEFORE DELETE ON claim_photos"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER claim_rulings_are_kept BEFORE UPDATE ON claim_rulings"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER claim_rulings_stay BEFORE DELETE ON claim_rulings"
           " BEGIN SELECT RAISE(ABORT, 'claims are append-only'); END",
           "CREATE TRIGGER invoices_are_kept BEFORE UPDATE ON invoices"
           " BEGIN SELECT RAISE(ABORT, 'invoices are append-only'); END",
           "CREATE TRIGGER invoices_stay BEFORE DELETE ON invoices"
           " BEGIN SELECT RAISE(ABORT, 'invoices are append-only'); END",
           "CREATE TRIGGER invoice_lines_are_kept BEFORE UPDATE ON invoice_lines"
           " BEGIN SELECT RAISE(ABORT, 'invoices are append-only'); END",
           "CREATE TRIGGER invoice_lines_stay BEFORE DELETE ON invoice_lines"
           " BEGIN SELECT RAISE(ABORT, 'invoices are append-only'); END",
           "CREATE TRIGGER payments_are_kept BEFORE UPDATE ON payments"
           " BEGIN SELECT RAISE(ABORT, 'payments are append-only'); END",
           "CREATE TRIGGER payments_stay BEFORE DELETE ON payments"
           " BEGIN SELECT RAISE(ABORT, 'payments are append-only'); END",
       }},
      {7,
       "price lists, quotes and hours",
       {
           "CREATE TABLE price_lists (revision INTEGER PRIMARY KEY, document TEXT NOT NULL)",
           "CREATE TRIGGER price_lists_are_kept BEFORE UPDATE ON price_lists"
           " BEGIN SELECT RAISE(ABORT, 'a price list is never changed'); END",
           "CREATE TRIGGER price_lists_stay BEFORE DELETE ON price_lists"
           " BEGIN SELECT RAISE(ABORT, 'price lists are kept'); END",

           "CREATE TABLE quotes ("
           " number INTEGER NOT NULL, id TEXT NOT NULL, version INTEGER NOT NULL,"
           " state TEXT NOT NULL, revision INTEGER NOT NULL, title TEXT NOT NULL,"
           " customer TEXT NOT NULL, vehicle TEXT NOT NULL, created TEXT NOT NULL,"
           " sent TEXT NOT NULL, valid_until TEXT NOT NULL, job TEXT NOT NULL,"
           " document TEXT NOT NULL, PRIMARY KEY (id, version))",
           "CREATE INDEX quotes_by_number ON quotes (number)",
           "CREATE INDEX quotes_by_customer ON quotes (customer)",
           "CREATE INDEX quotes_by_job ON quotes (job)",
           // What a customer accepted stands; the job that is made from it is written beside it.
           "CREATE TRIGGER accepted_quotes_are_frozen BEFORE UPDATE ON quotes"
           " WHEN OLD.state = 'accepted' AND (NEW.state <> OLD.state OR NEW.document <> "
           "OLD.document"
           " OR NEW.title <> OLD.title OR NEW.customer <> OLD.customer OR NEW.vehicle <>"
           " OLD.vehicle OR NEW.sent <> OLD.sent OR NEW.valid_until <> OLD.valid_until"
           " OR (OLD.job <> '' AND NEW.job <> OLD.job))"
           " BEGIN SELECT RAISE(ABORT, 'an accepted quote is frozen'); END",
           "CREATE TRIGGER quotes_stay BEFORE DELETE ON quotes"
           " BEGIN SELECT RAISE(ABORT, 'quotes are kept'); END",

           "CREATE TABLE worked ("
           " entry INTEGER PRIMARY KEY, job TEXT NOT NULL REFERENCES jobs (id),"
           " task TEXT NOT NULL, piece TEXT NOT NULL, who TEXT NOT NULL,"
           " minutes INTEGER NOT NULL CHECK (minutes > 0), note TEXT NOT NULL, at TEXT NOT NULL,"
           " amounts TEXT NOT NULL, strikes INTEGER NOT NULL)",
           "CREATE INDEX worked_by_job ON worked (job)",
           "CREATE TRIGGER worked_is_kept BEFORE UPDATE ON worked"
           " BEGIN SELECT RAISE(ABORT, 'hours are append-only'); END",
           "CREATE TRIGGER worked_stays BEFORE DELETE ON worked"
           " BEGIN SELECT RAISE(ABORT, 'hours are append-only'); END",
       }},
      {8,
       "the stock ledger, offcuts, supplies; layouts for each roll; recuts",
       {
           // Lengths are booked in steps of 1/1024 mm, so that a ledger adds up exactly.
           "UPDATE rolls SET length = round(length * 1024) / 1024,"
           " remaining = round(remaining * 1024) / 1024",
           "ALTER TABLE rolls ADD COLUMN defects TEXT NOT NULL DEFAULT '[]'",
           "CREATE TABLE stock_lines ("
           " entry INTEGER PRIMARY KEY, roll TEXT NOT NULL REFERENCES rolls (id),"
           " verb TEXT NOT NULL, change DOUBLE PRECISION NOT NULL, job TEXT NOT NULL,"
           " who TEXT NOT NULL, why TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX stock_lines_by_roll ON stock_lines (roll)",
           "INSERT INTO stock_lines (roll, verb, change, job, who, why, at)"
           " SELECT id, 'received', length, '', '', '', received || 'T00:00:00Z' FROM rolls",
           "INSERT INTO stock_lines (roll, verb, change, job, who, why, at)"
           " SELECT roll, 'cut', -round(length * 1024) / 1024, job, '', '', at FROM film_taken"
           " WHERE round(length * 1024) > 0 ORDER BY entry",
           "INSERT INTO stock_lines (roll, verb, change, job, who, why, at)"
           " SELECT id, 'counted', remaining - (SELECT sum(change) FROM stock_lines WHERE roll ="
           " rolls.id), '', '', 'used before', received || 'T00:00:00Z' FROM rolls"
           " WHERE remaining <> (SELECT sum(change) FROM stock_lines WHERE roll = rolls.id)",
           "DROP TABLE film_taken",
           "CREATE TRIGGER stock_lines_are_kept BEFORE UPDATE ON stock_lines"
           " BEGIN SELECT RAISE(ABORT, 'the stock ledger is append-only'); END",
           "CREATE TRIGGER stock_lines_stay BEFORE DELETE ON stock_lines"
           " BEGIN SELECT RAISE(ABORT, 'the stock ledger is append-only'); END",

           // An offcut is a short roll with an outline: what refers to rolls refers to it as well.
           "CREATE TABLE offcuts ("
           " id TEXT PRIMARY KEY REFERENCES rolls (id), outline TEXT NOT NULL,"
           " source TEXT NOT NULL, run TEXT NOT NULL)",
           "CREATE TABLE supplies ("
           " film TEXT NOT NULL REFERENCES films (id), width DOUBLE PRECISION NOT NULL,"
           " minimum DOUBLE PRECISION NOT NULL, roll_length DOUBLE PRECISION NOT NULL,"
           " lead_days INTEGER NOT NULL, areal_gsm DOUBLE PRECISION NOT NULL,"
           " wound_um DOUBLE PRECISION NOT NULL, core_g DOUBLE PRECISION NOT NULL,"
           " core_diameter DOUBLE PRECISION NOT NULL, PRIMARY KEY (film, width))",

           "CREATE TABLE roll_layouts ("
           " job TEXT NOT NULL REFERENCES jobs (id), film TEXT NOT NULL REFERENCES films (id),"
           " roll TEXT NOT NULL REFERENCES rolls (id), width DOUBLE PRECISION NOT NULL,"
           " length DOUBLE PRECISION NOT NULL, gap DOUBLE PRECISION NOT NULL,"
           " piece_area DOUBLE PRECISION NOT NULL, seed TEXT NOT NULL, iterations TEXT NOT NULL,"
           " seconds DOUBLE PRECISION NOT NULL, made TEXT NOT NULL,"
           " problem TEXT NOT NULL REFERENCES blobs (hash),"
           " sheet TEXT NOT NULL REFERENCES blobs (hash),"
           " pieces TEXT NOT NULL REFERENCES blobs (hash), PRIMARY KEY (job, film, roll))",
           "CREATE TABLE roll_cuts ("
           " job TEXT NOT NULL, film TEXT NOT NULL, roll TEXT NOT NULL,"
           " sheet TEXT NOT NULL REFERENCES blobs (hash),"
           " profile TEXT NOT NULL REFERENCES profiles (id), cut_mm DOUBLE PRECISION NOT NULL,"
           " travel_mm DOUBLE PRECISION NOT NULL, estimated_seconds DOUBLE PRECISION NOT NULL,"
           " made TEXT NOT NULL, path TEXT NOT NULL REFERENCES blobs (hash),"
           " plot TEXT NOT NULL REFERENCES blobs (hash), PRIMARY KEY (job, film, roll),"
           " FOREIGN KEY (job, film, roll) REFERENCES roll_layouts (job, film, roll))",
           "INSERT INTO roll_layouts (job, film, roll, width, length, gap, piece_area, seed,"
           " iterations, seconds, made, problem, sheet, pieces) SELECT job, film, roll, width,"
           " length, gap, piece_area, seed, iterations, seconds, made, problem, sheet, pieces"
           " FROM layouts",
           "INSERT INTO roll_cuts (job, film, roll, sheet, profile, cut_mm, travel_mm,"
           " estimated_seconds, made, path, plot) SELECT cuts.job, cuts.film, layouts.roll,"
           " cuts.sheet, profile, cut_mm, travel_mm, estimated_seconds, cuts.made, path, plot"
           " FROM cuts JOIN layouts ON layouts.job = cuts.job AND layouts.film = cuts.film",
           "DROP TABLE cuts",
           "DROP TABLE layouts",
           "DROP INDEX one_run_a_film",
           "CREATE UNIQUE INDEX one_run_a_roll ON cut_runs (job, film, roll) WHERE over = 0",

           "CREATE TABLE recuts ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), piece TEXT NOT NULL,"
           " film TEXT NOT NULL REFERENCES films (id), stock TEXT NOT NULL REFERENCES rolls (id),"
           " lot TEXT NOT NULL, reason TEXT NOT NULL, note TEXT NOT NULL,"
           " used DOUBLE PRECISION NOT NULL, area DOUBLE PRECISION NOT NULL, run TEXT NOT NULL,"
           " sheet TEXT NOT NULL REFERENCES blobs (hash),"
           " plot TEXT NOT NULL REFERENCES blobs (hash), who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX recuts_by_job ON recuts (job)",
           "CREATE TRIGGER recuts_are_kept BEFORE UPDATE ON recuts"
           " BEGIN SELECT RAISE(ABORT, 'recuts are append-only'); END",
           "CREATE TRIGGER recuts_stay BEFORE DELETE ON recuts"
           " BEGIN SELECT RAISE(ABORT, 'recuts are append-only'); END",
       }},
      {9,
       "people, their sessions, customers' links, the audit trail",
       {
           // Who makes the changes of the open transaction, and when.
           "CREATE TABLE author ("
           " one INTEGER PRIMARY KEY CHECK (one = 1), who TEXT NOT NULL, at TEXT NOT NULL)",
           "INSERT INTO author (one, who, at) VALUES (1, '', '')",
           "CREATE TABLE audit ("
           " entry INTEGER PRIMARY KEY, at TEXT NOT NULL, who TEXT NOT NULL, record TEXT NOT NULL,"
           " what TEXT NOT NULL, detail TEXT NOT NULL, revision_before INTEGER NOT NULL,"
           " revision_after INTEGER NOT NULL)",
           "CREATE INDEX audit_by_record ON audit (record, entry)",
           "CREATE TRIGGER audit_is_kept BEFORE UPDATE ON audit"
           " BEGIN SELECT RAISE(ABORT, 'the audit trail is append-only'); END",
           "CREATE TRIGGER audit_stays BEFORE DELETE ON audit"
           " BEGIN SELECT RAISE(ABORT, 'the audit trail is append-only'); END",
           audit_added("jobs", "job"),
           audit_changed("jobs", "job", {"title", "state", "customer", "vehicle_version"}),

           "CREATE TABLE people ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, name TEXT NOT NULL,"
           " sign_in TEXT NOT NULL UNIQUE,"
           " role TEXT NOT NULL CHECK (role IN ('lead', 'cutter', 'installer', 'desk', 'reader')),"
           " active INTEGER NOT NULL, revision INTEGER NOT NULL, created TEXT NOT NULL)",
           "CREATE TRIGGER people_stay BEFORE DELETE ON people"
           " BEGIN SELECT RAISE(ABORT, 'people are switched off, not removed'); END",
           audit_added("people", "person"),
           audit_changed("people", "person", {"name", "sign_in", "role", "active"}),
           "CREATE TABLE passwords ("
           " person TEXT PRIMARY KEY REFERENCES people (id), hash TEXT NOT NULL)",
           "CREATE TABLE sessions ("
           " digest TEXT PRIMARY KEY, person TEXT NOT NULL REFERENCES people (id),"
           " created TEXT NOT NULL, seen TEXT NOT NULL, expires TEXT NOT NULL)",
           "CREATE INDEX sessions_by_person ON sessions (person)",
           "CREATE TABLE share_links ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, digest TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), made_by TEXT NOT NULL, created TEXT NOT NULL,"
           " expires TEXT NOT NULL, revoked INTEGER NOT NULL)",
           "CREATE INDEX share_links_by_job ON share_links (job)",
       }},
      {10,
       "who works when and where, and the plan",
       {
           "CREATE TABLE workplaces ("
           " entry INTEGER PRIMARY KEY, text TEXT NOT NULL, revision INTEGER NOT NULL)",
           "CREATE TABLE plans ("
           " number INTEGER PRIMARY KEY, made TEXT NOT NULL, who TEXT NOT NULL, what TEXT NOT NULL,"
           " text TEXT NOT NULL)",
           "CREATE TABLE plan_feeds ("
           " secret_hash TEXT PRIMARY KEY, person TEXT NOT NULL, made TEXT NOT NULL)",
           "CREATE TRIGGER plans_are_kept BEFORE UPDATE ON plans"
           " BEGIN SELECT RAISE(ABORT, 'plans are append-only'); END",
           "CREATE TRIGGER plans_stay BEFORE DELETE ON plans"
           " BEGIN SELECT RAISE(ABORT, 'plans are append-only'); END",
       }},
      {11,
       "installers' cards",
       {
           "CREATE TABLE card_events ("
           " entry INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " job TEXT NOT NULL REFERENCES jobs (id), panel TEXT NOT NULL,"
           " word TEXT NOT NULL CHECK (word IN ('note', 'recut', 'photo')),"
           " text TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL)",
           "CREATE INDEX card_events_by_job ON card_events (job)",
           "CREATE TRIGGER card_events_are_kept BEFORE UPDATE ON card_events"
           " BEGIN SELECT RAISE(ABORT, 'card events are append-only'); END",
           "CREATE TRIGGER card_events_stay BEFORE DELETE ON card_events"
           " BEGIN SELECT RAISE(ABORT, 'card events are append-only'); END",
       }},
      {12,
       "customers and their vehicles",
       {
           "CREATE TABLE customers ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, name TEXT NOT NULL,"
           " phone TEXT NOT NULL, email TEXT NOT NULL, address TEXT NOT NULL,"
           " language TEXT NOT NULL, revision INTEGER NOT NULL, created TEXT NOT NULL)",
           "CREATE INDEX customers_by_name ON customers (name)",
           audit_added("customers", "customer"),
           audit_changed("customers", "customer",
                         {"name", "phone", "email", "address", "language"}),
           "CREATE TABLE customer_vehicles ("
           " number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE,"
           " customer TEXT NOT NULL REFERENCES customers (id), model TEXT NOT NULL,"
           " plate TEXT NOT NULL, vin TEXT NOT NULL, vin_reason TEXT NOT NULL, note TEXT NOT NULL,"
           " revision INTEGER NOT NULL, created TEXT NOT NULL)",
           "CREATE INDEX customer_vehicles_by_customer ON customer_vehicles (customer)",
           "CREATE INDEX customer_vehicles_by_plate ON customer_vehicles (plate)",
           "CREATE INDEX customer_vehicles_by_vin ON customer_vehicles (vin)",
           audit_added("customer_vehicles", "vehicle"),
           audit_changed("customer_vehicles", "vehicle",
                         {"model", "plate", "vin", "vin_reason", "note"}),
           "CREATE TABLE job_customers ("
           " job TEXT PRIMARY KEY REFERENCES jobs (id),"
           " customer TEXT NOT NULL REFERENCES customers (id), vehicle TEXT NOT NULL)",
           "CREATE INDEX job_customers_by_customer ON job_customers (customer)",
           // The names that jobs had as text become customers; the text stays.
           "INSERT INTO customers (number, id, name, phone, email, address, language, revision,"
           " created) SELECT n, 'K-' || CASE WHEN n < 10 THEN '000' WHEN n < 100 THEN '00' WHEN n"
           " < 1000 THEN '0' ELSE '' END || n, customer, '', '', '', 'en', 1, created FROM"
           " (SELECT row_number() OVER (ORDER BY customer) AS n, customer, min(created) AS created"
           " FROM jobs WHERE customer <> '' GROUP BY customer) AS named",
           "INSERT INTO job_customers (job, customer, vehicle) SELECT j.id, c.id, '' FROM jobs j"
           " JOIN customers c ON c.name = j.customer WHERE j.customer <> ''",
       }},
      {13, "recuts of claims; the audit trail of every record",
       with(trails_of_the_shop(), "ALTER TABLE recuts ADD COLUMN claim TEXT NOT NULL DEFAULT ''",
            "CREATE INDEX recuts_by_claim ON recuts (claim)",
            "CREATE INDEX job_customers_by_vehicle ON job_customers (vehicle)"),
       trails_of_the_library()},
  };
  return kAll;
}

}  // namespace film::store
