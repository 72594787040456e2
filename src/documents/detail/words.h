#pragma once

#include <string_view>

#include "shop/language.h"

// Every word that the papers print, in the languages of the shop, side by side.

namespace film::documents {

struct Word {
  std::string_view english;
  std::string_view german;

  constexpr std::string_view operator()(shop::Language language) const {
    return language == shop::Language::german ? german : english;
  }
};

namespace words {

// The sheet.
inline constexpr Word page{"Page", "Seite"};
inline constexpr Word of{"of", "von"};
inline constexpr Word date{"Date", "Datum"};
inline constexpr Word customer{"Customer", "Kunde"};
inline constexpr Word vehicle{"Vehicle", "Fahrzeug"};
inline constexpr Word job{"Job", "Auftrag"};
inline constexpr Word film{"Film", "Folie"};
inline constexpr Word lot{"Lot", "Charge"};
inline constexpr Word panel{"Panel", "Fläche"};
inline constexpr Word piece{"Piece", "Zuschnitt"};
inline constexpr Word roll{"Roll", "Rolle"};
inline constexpr Word pieces{"pieces", "Zuschnitte"};
inline constexpr Word by{"By", "Von"};
inline constexpr Word note{"Note", "Bemerkung"};
inline constexpr Word sign{"Place, date and signature", "Ort, Datum und Unterschrift"};
inline constexpr Word for_the_shop{"For the shop", "Für den Betrieb"};
inline constexpr Word for_the_customer{"For the customer", "Für den Kunden"};
inline constexpr Word reminders{"These are reminders. Local code and licensed practice decide.",
                                "Dies sind Hinweise. Örtliches Recht und zugelassene Fachleute "
                                "entscheiden."};

// Work order, cards, cut map, labels.
inline constexpr Word work_order{"Work order", "Arbeitsauftrag"};
inline constexpr Word panels{"Panels", "Flächen"};
inline constexpr Word bulk_sheets{"of them bulk sheets", "davon freie Bahnen"};
inline constexpr Word film_from_rolls{"Film from the rolls", "Folie von den Rollen"};
inline constexpr Word rolls{"Rolls", "Rollen"};
inline constexpr Word before_you_start{"Before you start", "Bevor es losgeht"};
inline constexpr Word waste{"waste", "Verschnitt"};
inline constexpr Word wide{"wide", "breit"};
inline constexpr Word used{"used", "verbraucht"};
inline constexpr Word to{"to", "bis"};
inline constexpr Word cut_map{"Cut map", "Schnittplan"};
inline constexpr Word numbers_are_of_cards{"numbers are those of the cards",
                                           "Nummern wie auf den Karten"};
inline constexpr Word panel_cards{"Panel cards", "Flächenkarten"};
inline constexpr Word precut{"Pre-cut piece", "Vorgeschnitten"};
inline constexpr Word bulk_sheet{"Bulk sheet", "Freie Bahn"};
inline constexpr Word dashed_is_fold{"dashed: fold line", "gestrichelt: Umlegekante"};
inline constexpr Word laid_by{"Laid by", "Verlegt von"};
inline constexpr Word at_time{"at", "um"};
inline constexpr Word tuck_from{"tuck from", "umlegen ab"};
inline constexpr Word tack_first{"Tack here first: ring", "Zuerst hier ansetzen: Ring"};
inline constexpr Word pull{"Pull", "Ziehen"};
inline constexpr Word push{"Work out", "Ausstreichen"};
inline constexpr Word stretch{"stretch", "Dehnung"};
inline constexpr Word draws_back{"draws back", "geht zurück um"};
inline constexpr Word fingers_on{"Fingers on", "Falten auf"};
inline constexpr Word of_the_panel{"of the panel", "der Fläche"};
inline constexpr Word stretched_up_to{"stretched up to", "gedehnt bis"};
inline constexpr Word lies_without_fingers{"Lies down without fingers", "Legt sich ohne Falten"};
inline constexpr Word relief_cuts{"Relief cuts", "Entlastungsschnitte"};
inline constexpr Word wait_before_tuck{
    "Let it dry about half an hour before the edge is tucked (common practice).",
    "Etwa eine halbe Stunde trocknen lassen, bevor die Kante umgelegt wird (übliche Praxis)."};
inline constexpr Word labels{"Labels", "Etiketten"};
inline constexpr Word forward{"front", "vorn"};
inline constexpr Word backward{"rear", "hinten"};
inline constexpr Word leftward{"left", "links"};
inline constexpr Word rightward{"right", "rechts"};
inline constexpr Word upward{"up", "oben"};
inline constexpr Word downward{"down", "unten"};

// Glass and lamps.
inline constexpr Word glass_and_lamps{"Glass and lamps", "Glas und Leuchten"};
inline constexpr Word windows{"Windows", "Scheiben"};
inline constexpr Word no_place{"No place was chosen, so nothing is judged.",
                               "Es wurde kein Ort gewählt, also wird nichts beurteilt."};
inline constexpr Word held_against{"Held against the table for", "Verglichen mit der Tabelle für"};
inline constexpr Word before_film{"before", "vorher"};
inline constexpr Word after_film{"after", "nachher"};
inline constexpr Word signed_decisions{"Signed decisions: lamps, reflectors, sensors",
                                       "Unterschriebene Entscheidungen: Leuchten, Rückstrahler, "
                                       "Sensoren"};
inline constexpr Word meter_has_doubt{
    "Meter readings carry the meter's own uncertainty. Signature and date:",
    "Messwerte tragen die Unsicherheit des Messgeräts. Unterschrift und Datum:"};

// Inspection.
inline constexpr Word inspection{"Inspection", "Abnahme"};
inline constexpr Word item{"What must be so", "Was stimmen muss"};
inline constexpr Word good{"good", "gut"};
inline constexpr Word fault{"fault", "Mangel"};
inline constexpr Word finding{"Finding", "Befund"};
inline constexpr Word passed{"Passed", "Bestanden"};
inline constexpr Word not_passed{"Not passed", "Nicht bestanden"};
inline constexpr Word not_yet{"to be filled in", "noch auszufüllen"};
inline constexpr Word inspected_by{"Inspected by", "Abgenommen von"};

// Certificate and care.
inline constexpr Word certificate{"Certificate", "Zertifikat"};
inline constexpr Word issued{"Issued", "Ausgestellt"};
inline constexpr Word films_and_terms{"Films and terms", "Folien und Fristen"};
inline constexpr Word term{"Term", "Frist"};
inline constexpr Word until{"Until", "Bis"};
inline constexpr Word no_term{"none", "keine"};
inline constexpr Word years{"years", "Jahre"};
inline constexpr Word months{"months", "Monate"};
inline constexpr Word pieces_on_vehicle{"Pieces on the vehicle", "Zuschnitte auf dem Fahrzeug"};
inline constexpr Word laid{"Laid", "Verlegt"};
inline constexpr Word readings{"Windows read with the meter",
                               "Scheiben mit dem Messgerät gemessen"};
inline constexpr Word window{"Window", "Scheibe"};
inline constexpr Word declined{"Offered and declined", "Angeboten und nicht gewünscht"};
inline constexpr Word certificate_text{
    "The shop answers for each piece named here for the term of its film, counted from the day of "
    "issue. Bring this paper when you claim: piece number and lot tell which film is on the panel.",
    "Der Betrieb steht für jeden hier genannten Zuschnitt für die Frist seiner Folie ein, "
    "gerechnet "
    "ab dem Tag der Ausstellung. Bringen Sie dieses Blatt zu einer Reklamation mit: Nummer und "
    "Charge sagen, welche Folie auf der Fläche ist."};
inline constexpr Word care{"Care", "Pflege"};
inline constexpr Word care_first{"The first days", "Die ersten Tage"};
inline constexpr Word care_always{"From then on", "Danach"};
inline constexpr Word care_basis{
    "Common practice; what the film's maker writes comes first. See the shop when an edge lifts.",
    "Übliche Praxis; was der Hersteller der Folie schreibt, geht vor. Kommen Sie vorbei, wenn sich "
    "eine Kante hebt."};

// Invoice, quote.
inline constexpr Word invoice{"Invoice", "Rechnung"};
inline constexpr Word quote{"Quote", "Angebot"};
inline constexpr Word bill_to{"To", "An"};
inline constexpr Word due{"Due", "Fällig"};
inline constexpr Word tax_id{"Tax id", "Steuernummer"};
inline constexpr Word what{"What", "Leistung"};
inline constexpr Word net{"Net", "Netto"};
inline constexpr Word tax{"Tax", "Steuer"};
inline constexpr Word total{"Total", "Gesamt"};
inline constexpr Word payments{"Payments", "Zahlungen"};
inline constexpr Word deposit{"Deposit", "Anzahlung"};
inline constexpr Word payment{"Payment", "Zahlung"};
inline constexpr Word refund{"Refund", "Erstattung"};
inline constexpr Word paid{"Paid", "Bezahlt"};
inline constexpr Word open_amount{"Open", "Offen"};
inline constexpr Word discount{"Discount", "Nachlass"};
inline constexpr Word valid_until{"Valid until", "Gültig bis"};
inline constexpr Word covered{"What is covered", "Was bedeckt wird"};
inline constexpr Word accept{"Accepted: place, date and signature",
                             "Angenommen: Ort, Datum und Unterschrift"};

// Claim.
inline constexpr Word claim{"Claim", "Reklamation"};
inline constexpr Word reported_by{"Reported by", "Gemeldet von"};
inline constexpr Word taken_down_by{"Taken down by", "Aufgenommen von"};
inline constexpr Word complaint{"What is wrong", "Was nicht stimmt"};
inline constexpr Word history{"History of the panel", "Geschichte der Fläche"};
inline constexpr Word decision{"Decision", "Entscheidung"};
inline constexpr Word undecided{"Not decided yet", "Noch nicht entschieden"};
inline constexpr Word by_warranty{"Warranty", "Gewährleistung"};
inline constexpr Word by_goodwill{"Goodwill", "Kulanz"};
inline constexpr Word ruled_out{"Declined", "Abgelehnt"};
inline constexpr Word recut{"The piece is made again", "Der Zuschnitt wird neu gemacht"};
inline constexpr Word in_term{"in term", "in der Frist"};
inline constexpr Word out_of_term{"out of term", "außerhalb der Frist"};
inline constexpr Word replaced{"came off for", "ersetzt durch"};
inline constexpr Word on_vehicle{"on the vehicle", "auf dem Fahrzeug"};
inline constexpr Word photos{"Photos", "Fotos"};

}  // namespace words
}  // namespace film::documents
