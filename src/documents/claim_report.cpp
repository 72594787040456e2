#include "documents/claim_report.h"

#include <algorithm>

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

using shop::Language;

Word word_for(shop::Ruling ruling) {
  switch (ruling) {
    case shop::Ruling::warranty: return words::by_warranty;
    case shop::Ruling::goodwill: return words::by_goodwill;
    case shop::Ruling::declined: return words::ruled_out;
  }
  return words::decision;
}

void history(const ClaimPaper& paper, Sheet& sheet) {
  const Language in = sheet.language();
  std::vector<TableRow> rows;
  for (std::size_t i = 0; i < paper.pieces.size(); ++i) {
    const shop::InstalledPiece& piece = paper.pieces[i];
    const auto next = std::find_if(
        paper.pieces.begin(), paper.pieces.end(),
        [&](const shop::InstalledPiece& each) { return each.replaces == piece.number; });
    const std::string fate =
        next == paper.pieces.end()
            ? std::string(words::on_vehicle(in))
            : format("{} {}: {}", words::replaced(in), shop::number_text(*next), next->reason);
    rows.push_back({{shop::number_text(piece), piece.lot, piece.source, date_text(piece.at, in),
                     piece.who, fate}});
  }
  sheet.heading(words::history(in));
  sheet.table({{std::string(words::piece(in)), 1.4},
               {std::string(words::lot(in)), 2.2},
               {std::string(words::roll(in)), 1.6},
               {std::string(words::laid(in)), 2.4},
               {std::string(words::by(in)), 1.8},
               {"", 3.4}},
              rows);
}

void photos(const ClaimPaper& paper, Sheet& sheet) {
  if (paper.photos.empty()) return;
  constexpr double kHigh = 62;
  sheet.heading(words::photos(sheet.language()), kHigh + 8);
  const double wide = (sheet.width() - 6) / 2;
  for (std::size_t i = 0; i < paper.photos.size(); ++i) {
    if (i % 2 == 0) sheet.keep(kHigh);
    const double x = sheet.left() + (i % 2 == 0 ? 0 : wide + 6);
    // A photo that cannot be read any more leaves its place bare.
    (void)sheet.canvas().picture(paper.photos[i], box_of(x, sheet.y, wide, kHigh - 4));
    if (i % 2 == 1 || i + 1 == paper.photos.size()) sheet.y += kHigh;
  }
}

void rulings(const ClaimPaper& paper, Sheet& sheet) {
  const Language in = sheet.language();
  sheet.heading(words::decision(in), 24);
  if (paper.record.rulings.empty()) sheet.say(words::undecided(in), kBody, 4);
  for (const shop::ClaimRuling& ruling : paper.record.rulings) {
    sheet.say(
        format("{}   {}, {}", word_for(ruling.ruling)(in), ruling.who, date_text(ruling.at, in)),
        kStrong, 0.8);
    sheet.say(ruling.reason, kBody, 0.8);
    if (ruling.recut) sheet.say(words::recut(in), kBody, 0.8);
    sheet.gap(3);
  }
}

}  // namespace

Result<std::string> write_claim_report(const ClaimPaper& paper, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const shop::Claim& claim = paper.record.claim;
  const PaperTitle title{format("{} {}", words::claim(in), claim.id), claim.job, claim.at,
                         link_to(stationery, "claims/" + claim.id)};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({format("{}, {}", paper.panel, paper.film)});
    const bool within = claim.at.substr(0, 10) <= paper.term_end;
    const std::string term = paper.term_end.empty()
                                 ? std::string(words::no_term(in))
                                 : format("{} ({})", date_text(paper.term_end, in),
                                          within ? words::in_term(in) : words::out_of_term(in));
    sheet.facts({{std::string(words::vehicle(in)), paper.vehicle},
                 {std::string(words::customer(in)), paper.customer},
                 {std::string(words::reported_by(in)), claim.reported_by},
                 {std::string(words::taken_down_by(in)),
                  format("{}, {}", claim.who, date_text(claim.at, in))},
                 {std::string(words::piece(in)), format("P-{}", claim.piece)},
                 {std::string(words::term(in)), term}});
    sheet.heading(words::complaint(in));
    sheet.say(claim.what, kBody, 5);
    history(paper, sheet);
    photos(paper, sheet);
    rulings(paper, sheet);
    sheet.signatures({std::string(words::sign(in))});
  });
}

}  // namespace film::documents
