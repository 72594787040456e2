#include "documents/glass_sheet.h"

#include "base/text.h"
#include "documents/detail/sheet.h"
#include "documents/detail/words.h"

namespace film::documents {
namespace {

using shop::Language;

constexpr Word kNoAdvice{
    "This is a reading of a table and no legal advice. Local code prevails; the authority or a "
    "licensed inspection of the place decides, with its own meter on the finished window.",
    "Dies ist eine gelesene Tabelle und kein Rechtsrat. Es gilt das Recht am Ort; die Behörde oder "
    "eine zugelassene Prüfstelle entscheidet, mit eigenem Messgerät an der fertigen Scheibe."};
constexpr Word kLampCaution{
    "Film on lamps and reflectors takes light that others need to see this vehicle in time. It may "
    "void approval and insurance and may be forbidden whatever is left. Do it only with a signed "
    "decision; local code prevails and a licensed inspection decides.",
    "Folie auf Leuchten und Rückstrahlern nimmt Licht, das andere brauchen, um dieses Fahrzeug "
    "rechtzeitig zu sehen. Sie kann Zulassung und Versicherung kosten und verboten sein, gleich "
    "wie "
    "viel übrig bleibt. Nur mit unterschriebener Entscheidung; es gilt das Recht am Ort, eine "
    "zugelassene Prüfstelle entscheidet."};

void windows(const GlassSheet& paper, Sheet& sheet) {
  const Language in = sheet.language();
  sheet.heading(words::windows(in));
  sheet.say(paper.place.empty() ? std::string(words::no_place(in))
                                : format("{}: {}", words::held_against(in), paper.place),
            kBody, 2);
  sheet.say(kNoAdvice(in), kWarning, 4);
  for (const GlassLine& line : paper.windows) {
    sheet.keep(24);
    sheet.say(format("{}   {}", line.window, line.film), kStrong, 0.8);
    sheet.say(format("{}: {}", words::before_film(in), line.before), kBody, 0.6, 4);
    sheet.say(format("{}: {}", words::after_film(in), line.after), kBody, 0.6, 4);
    sheet.say(line.reason.empty() ? line.verdict : format("{}: {}", line.verdict, line.reason),
              kBody, 0.6, 4);
    sheet.say(line.law, kSmall, 0.6, 4);
    sheet.gap(2.5);
  }
}

void decisions(const GlassSheet& paper, Sheet& sheet) {
  if (paper.decisions.empty()) return;
  const Language in = sheet.language();
  sheet.gap(4);
  sheet.heading(words::signed_decisions(in), 40);
  sheet.say(kLampCaution(in), kWarning, 4);
  for (const SignedLine& line : paper.decisions) {
    sheet.keep(12);
    sheet.say(format("{}   {}: {}", line.panel, line.concern, line.decision), kStrong, 0.6);
    sheet.say(format("{}, {}. {}", line.signed_by, date_text(line.day, in), line.basis), kBody, 2,
              4);
  }
}

}  // namespace

Result<std::string> write_glass_sheet(const GlassSheet& paper, const Stationery& stationery) {
  const Language in = stationery.head.language;
  const PaperTitle title{std::string(words::glass_and_lamps(in)), paper.job, paper.date,
                         link_to(stationery, "jobs/" + paper.job + "/glass")};
  return composed(stationery, title, [&](Sheet& sheet) {
    sheet.masthead({paper.title});
    sheet.facts({{std::string(words::vehicle(in)), paper.vehicle},
                 {std::string(words::customer(in)), paper.customer},
                 {std::string(words::job(in)), paper.job},
                 {std::string(words::date(in)), date_text(paper.date, in)}});
    windows(paper, sheet);
    decisions(paper, sheet);
    sheet.gap(4);
    sheet.say(kNoAdvice(in), kWarning, 3);
    sheet.say(words::meter_has_doubt(in), kSmall, 4);
    sheet.signatures({std::string(words::sign(in))});
  });
}

}  // namespace film::documents
