#include "documents/certificate.h"

#include <array>

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"
#include "shop/day.h"

namespace film::documents {
namespace {

using shop::Language;

std::string term_text(int months, Language in) {
  if (months == 0) return std::string(words::no_term(in));
  if (months % 12 == 0) return format("{} {}", months / 12, words::years(in));
  return format("{} {}", months, words::months(in));
}

void terms(const CertificatePaper& paper, Sheet& sheet) {
  const Language in = sheet.language();
  std::vector<TableRow> rows;
  for (const shop::FilmTerm& term : paper.certificate.terms) {
    const auto end = shop::months_after(paper.certificate.issued.substr(0, 10), term.months);
    rows.push_back({{term.name, term_text(term.months, in),
                     term.months == 0 || !end ? "" : date_text(*end, in)}});
  }
  sheet.heading(words::films_and_terms(in));
  sheet.table({{std::string(words::film(in)), 5},
               {std::string(words::term(in)), 2},
               {std::string(words::until(in)), 3}},
              rows);
}

void pieces(const CertificatePaper& paper, Sheet& sheet) {
  const Language in = sheet.language();
  std::vector<TableRow> rows;
  for (const CertifiedPiece& piece : paper.pieces) {
    rows.push_back({{piece.panel, piece.number, piece.film, piece.lot, date_text(piece.laid, in)}});
  }
  sheet.heading(words::pieces_on_vehicle(in));
  sheet.table({{std::string(words::panel(in)), 4.2},
               {std::string(words::piece(in)), 1.4},
               {std::string(words::film(in)), 3},
               {std::string(words::lot(in)), 2.4},
               {std::string(words::laid(in)), 2.6}},
              rows);
}

void readings(const CertificatePaper& paper, Sheet& sheet) {
  if (paper.readings.empty()) return;
  const Language in = sheet.language();
  std::vector<TableRow> rows;
  for (const CertifiedReading& reading : paper.readings) {
    rows.push_back({{reading.window, reading.film, reading.before, reading.after}});
  }
  sheet.heading(words::readings(in));
  sheet.table({{std::string(words::window(in)), 3},
               {std::string(words::film(in)), 3},
               {std::string(words::before_film(in)), 3},
               {std::string(words::after_film(in)), 3}},
              rows);
}

// Common practice, no source.
constexpr std::array kFirstDays{
    Word{"Leave the windows shut and the edges alone for three days.",
         "Drei Tage lang Scheiben geschlossen halten und Kanten in Ruhe lassen."},
    Word{"Do not wash the vehicle for seven days, and not under high pressure for two weeks.",
         "Sieben Tage nicht waschen, zwei Wochen lang nicht mit Hochdruck."},
    Word{"Small bubbles of water and a slight haze dry out within weeks; do not prick or press "
         "them.",
         "Kleine Wasserblasen und ein leichter Schleier trocknen in Wochen aus; nicht anstechen "
         "oder drücken."},
    Word{"Keep it out of frost and rain on the first day where you can.",
         "Am ersten Tag möglichst vor Frost und Regen schützen."},
};
constexpr std::array kFromThenOn{
    Word{"Wash by hand with a mild, acid-free shampoo; rinse grit off first.",
         "Von Hand mit mildem, säurefreiem Shampoo waschen; groben Schmutz vorher abspülen."},
    Word{"Keep a high-pressure nozzle at least half a metre away and never aim it at an edge.",
         "Hochdruckdüse mindestens einen halben Meter entfernt halten und nie auf eine Kante "
         "richten."},
    Word{"Take off insects, resin and bird droppings soon, with water and a soft cloth.",
         "Insekten, Harz und Vogelkot bald mit Wasser und weichem Tuch entfernen."},
    Word{"No solvents, no polish with abrasives, no wax that is not meant for film.",
         "Keine Lösemittel, keine schleifende Politur, kein Wachs, das nicht für Folie gedacht "
         "ist."},
    Word{"Matte film: no wax and no polish at all; they leave shiny spots.",
         "Matte Folie: weder Wachs noch Politur; sie hinterlassen glänzende Stellen."},
    Word{
        "Do not pull at an edge that lifts. Come to the shop: early, it can be laid again.",
        "Nicht an einer abstehenden Kante ziehen. Kommen Sie vorbei: früh lässt sie sich anlegen."},
};

}  // namespace

Result<std::string> write_certificate(const CertificatePaper& paper, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const shop::Certificate& c = paper.certificate;
  const PaperTitle title{format("{} {}", words::certificate(in), c.id), c.job, c.issued,
                         link_to(stationery, "jobs/" + c.job + "/history")};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({paper.title});
    sheet.facts({{std::string(words::vehicle(in)), paper.vehicle},
                 {std::string(words::customer(in)), paper.customer},
                 {std::string(words::job(in)), c.job},
                 {std::string(words::issued(in)), date_text(c.issued, in)}});
    terms(paper, sheet);
    sheet.say(words::certificate_text(in), kBody, 6);
    pieces(paper, sheet);
    readings(paper, sheet);
    if (!paper.declined.empty()) {
      sheet.heading(words::declined(in));
      sheet.say(paper.declined, kBody, 5);
    }
    sheet.signatures({format("{}: {}", words::for_the_shop(in), c.issued_by),
                      format("{}: {}", words::for_the_customer(in), paper.received_by)});
  });
}

Result<std::string> write_care_sheet(const std::string& job, const std::string& vehicle,
                                     const std::string& date, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const PaperTitle title{std::string(words::care(in)), job, date, ""};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({vehicle});
    const auto list = [&](const Word& heading, const auto& lines) {
      sheet.heading(heading(in));
      for (const Word& line : lines) {
        sheet.keep(10);
        sheet.canvas().text("\u2022", {sheet.left(), sheet.y}, kStrong);
        sheet.say(line(in), kBody, 2, 5);
      }
      sheet.gap(5);
    };
    list(words::care_first, kFirstDays);
    list(words::care_always, kFromThenOn);
    sheet.say(words::care_basis(in), kSmall);
  });
}

}  // namespace film::documents
