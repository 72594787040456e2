// Every paper, read back by programs of others, in both languages and sizes.

#include <algorithm>

#include <gtest/gtest.h>

#include "documents/bill.h"
#include "documents/certificate.h"
#include "documents/claim_report.h"
#include "documents/glass_sheet.h"
#include "documents/inspection_sheet.h"
#include "documents/label_sheet.h"
#include "documents/work_order.h"
#include "unit/documents/independent_reader.h"

namespace film::documents {
namespace {

Stationery stationery(shop::Language language = shop::Language::english) {
  Stationery s;
  s.shop = "Kestrel Lane Film Works";
  s.head.lines = {"Nowhere Lane 7", "00000 Nowhere"};
  s.head.tax_id = "XX 123";
  s.head.bank = "Bank of Nowhere, XX00 0000";
  s.head.address = "https://film.example";
  s.head.language = language;
  return s;
}

Stationery in_german() { return stationery(shop::Language::german); }

CertificatePaper certificate(std::size_t pieces = 40) {
  CertificatePaper paper;
  paper.certificate = {
      "W-0003",
      "J-0007",
      {{"clear", "Clear gloss", 120}, {"shade", "Lamp shade", 30}, {"x", "Trim", 0}},
      "Bo Sample",
      "2031-05-04T10:00:00Z"};
  paper.title = "Full body, clear gloss";
  paper.vehicle = "Meridian Estate";
  paper.customer = "A. Example";
  for (std::size_t i = 1; i <= pieces; ++i) {
    paper.pieces.push_back({format("P-{}", i), format("Panel number {}", i), "Clear gloss",
                            format("L-{}", 100 + i), "2031-05-03"});
  }
  paper.readings = {{"Rear window", "Shade 35", "74.0 % ± 2.0", "33.1 % ± 2.0"}};
  paper.received_by = "A. Example";
  paper.declined = "Inner sills";
  return paper;
}

InvoicePaper invoice() {
  InvoicePaper paper;
  paper.invoice = {"I-0002",
                   "J-0007",
                   "A. Example\nNowhere 1",
                   "EUR",
                   {{"Full front", Money{100'005}, shop::Rate::percent(19)},
                    {"Book of care", Money{1'999}, shop::Rate::percent(7)}},
                   "Thank you.",
                   "2031-05-18",
                   "desk",
                   "2031-05-04T10:00:00Z"};
  paper.payments = {{"J-0007", shop::PaymentKind::deposit, Money{50'000}, "cash", "", "desk",
                     "2031-04-20T10:00:00Z"}};
  paper.title = "Full body";
  paper.vehicle = "Meridian Estate";
  return paper;
}

ClaimPaper claim() {
  ClaimPaper paper;
  paper.record = {
      {"K-0001",
       "J-0007",
       1,
       "Edge lifts at the corner",
       "A. Example",
       "desk",
       "2037-05-04T10:00:00Z",
       {}},
      {{"K-0001", shop::Ruling::warranty, "Glue let go", true, "lead", "2037-05-05T10:00:00Z"}},
      {}};
  paper.vehicle = "Meridian Estate";
  paper.customer = "A. Example";
  paper.panel = "Hood";
  paper.film = "Clear gloss";
  paper.term_end = "2041-05-04";
  shop::InstalledPiece piece;
  piece.number = 1;
  piece.lot = "44-A";
  piece.source = "R-0001";
  piece.at = "2031-05-03T10:00:00Z";
  piece.who = "Ada";
  paper.pieces = {piece};
  return paper;
}

TEST(Papers, ACertificateNamesTermLotAndReadings) {
  const auto pdf = write_certificate(certificate(), stationery());
  ASSERT_TRUE(pdf);
  expect_words(text_of(*pdf), {"Kestrel Lane Film Works", "Nowhere Lane 7", "Certificate W-0003",
                               "J-0007", "Meridian Estate", "A. Example", "10 years", "30 months",
                               "4 May 2041", "4 November 2033", "Panel number 40", "P-40", "L-140",
                               "33.1 %", "Inner sills", "Page 1 of 2", "Page 2 of 2"});
}

TEST(Papers, AGermanCertificateHasNoEnglishLeft) {
  const auto pdf = write_certificate(certificate(3), in_german());
  ASSERT_TRUE(pdf);
  const std::string text = text_of(*pdf);
  expect_words(text, {"Zertifikat W-0003", "10 Jahre", "30 Monate", "4. Mai 2041",
                      "4. November 2033", "Charge", "Fahrzeug", "Kunde", "Seite 1 von 1"});
  for (const char* english : {"Certificate", "Vehicle", "years", "Lot", "Page", "Term", "Issued"}) {
    EXPECT_EQ(text.find(english), std::string::npos) << english;
  }
}

TEST(Papers, ATableThatGoesOverRepeatsItsHead) {
  const auto pdf = write_certificate(certificate(90), stationery());
  ASSERT_TRUE(pdf);
  const std::string text = text_of(*pdf);
  std::size_t pages = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\f', at), text.size());  // ends a page
    const std::string page = text.substr(at, end - at);
    at = end + 1;
    if (page.find("Panel number") == std::string::npos) continue;
    ++pages;
    EXPECT_NE(page.find("Laid"), std::string::npos) << page;
  }
  EXPECT_GE(pages, 3u);
}

// ISO 216 and ANSI/ASME Y14.1 sizes, in points as pdfinfo tells them.
TEST(Papers, AreAsLargeAsTheirPaper) {
  EXPECT_NE(info_of(*write_certificate(certificate(1), stationery())).find("595.276 x 841.89"),
            std::string::npos);
  Stationery letter = stationery();
  letter.head.paper = shop::PaperSize::letter;
  EXPECT_NE(info_of(*write_certificate(certificate(1), letter)).find("612 x 792"),
            std::string::npos);
}

TEST(Papers, QrCodesLeadBackToTheRecord) {
  EXPECT_EQ(codes_of(*write_certificate(certificate(1), stationery())),
            "https://film.example/jobs/J-0007/history\n");
  EXPECT_EQ(codes_of(*write_invoice(invoice(), in_german())), "https://film.example/jobs/J-0007\n");
  EXPECT_EQ(codes_of(*write_claim_report(claim(), stationery())),
            "https://film.example/claims/K-0001\n");
  Stationery bare = stationery();
  bare.head.address.clear();
  EXPECT_EQ(codes_of(*write_claim_report(claim(), bare)), "filmwright:claims/K-0001\n");
}

TEST(Papers, EveryLabelHasItsOwnCode) {
  LabelSheet sheet{"J-0007", "Meridian Estate", "2031-05-04T10:00:00Z", {}};
  for (std::size_t i = 1; i <= 5; ++i) {
    sheet.labels.push_back(
        {i, format("panel_{}", i), format("Panel {}", i), "front", "Clear gloss, lot 44-A"});
  }
  const auto pdf = write_labels(sheet, stationery());
  ASSERT_TRUE(pdf);
  expect_words(codes_of(*pdf), {"https://film.example/jobs/J-0007/card#panel_1\n",
                                "https://film.example/jobs/J-0007/card#panel_5\n"});
}

// By hand: 1000.05 x 19 % = 190.0095, 190.01; 19.99 x 7 % = 1.3993, 1.40. Net 1020.04, total
// 1211.45; 500.00 paid, 711.45 open.
TEST(Papers, AnInvoiceAddsUpAndTellsWhatIsOpen) {
  const auto pdf = write_invoice(invoice(), stationery());
  ASSERT_TRUE(pdf);
  expect_words(text_of(*pdf), {"Invoice I-0002", "1,020.04", "190.01", "1.40", "1,211.45", "500.00",
                               "711.45", "18 May 2031", "Tax id XX 123", "Bank of Nowhere"});
  expect_words(text_of(*write_invoice(invoice(), in_german())),
               {"Rechnung I-0002", "1.211,45", "711,45", "Anzahlung", "Offen", "18. Mai 2031"});
}

TEST(Papers, AnInspectionIsFilledInOrEmpty) {
  InspectionPaper paper{
      "J-0007", "Full body", "Meridian Estate", "A. Example", "2031-05-04T10:00:00Z", {}};
  expect_words(text_of(*write_inspection_sheet(paper, stationery())),
               {"Inspection", "to be filled in", "Every edge lies down"});
  shop::Inspection done{"J-0007", {}, "Bo Sample", "2031-05-04T10:00:00Z"};
  for (const shop::CheckItem& item : shop::inspection_list()) {
    done.findings.push_back({std::string(item.id), true, "", ""});
  }
  done.findings[1] = {"corners", false, "finger at the left lamp", ""};
  paper.inspection = done;
  expect_words(text_of(*write_inspection_sheet(paper, stationery())),
               {"Not passed", "finger at the left lamp", "Bo Sample"});
  expect_words(text_of(*write_inspection_sheet(paper, in_german())),
               {"Nicht bestanden", "Mangel", "Jede Kante liegt an"});
}

TEST(Papers, AClaimTellsLotTermAndRuling) {
  expect_words(text_of(*write_claim_report(claim(), stationery())),
               {"Claim K-0001", "44-A", "4 May 2041 (in term)", "Edge lifts", "Glue let go",
                "The piece is made again"});
  expect_words(text_of(*write_claim_report(claim(), in_german())),
               {"Reklamation K-0001", "in der Frist", "Gewährleistung"});
}

TEST(Papers, CareIsToldInBothLanguages) {
  expect_words(
      text_of(*write_care_sheet("J-0007", "Meridian Estate", "2031-05-04T10:00:00Z", stationery())),
      {"Care", "The first days", "From then on"});
  expect_words(
      text_of(*write_care_sheet("J-0007", "Meridian Estate", "2031-05-04T10:00:00Z", in_german())),
      {"Pflege", "Die ersten Tage", "Danach"});
}

TEST(Papers, AQuoteSetsItsAlternativesSideBySide) {
  QuotePaper paper;
  paper.quote.id = "Q-0001";
  paper.quote.title = "Full front";
  paper.quote.currency = "EUR";
  paper.quote.created = paper.quote.sent = "2031-05-04T10:00:00Z";
  paper.quote.valid_until = "2031-06-03";
  shop::Alternative offer;
  offer.name = "Full front, as it is";
  offer.price.lines = {{shop::PriceKind::film, "clear", "Clear gloss", 0, shop::Measure::vehicle,
                        Money{90'000}, Money{0}, Money{11'111}, shop::Rate::percent(19)}};
  offer.price.net = Money{90'000};
  offer.price.taxes = {{shop::Rate::percent(19), Money{90'000}, Money{17'100}}};
  offer.price.total = Money{107'100};
  paper.quote.offers = {offer, offer};
  paper.scopes = {{{"Hood", "Clear gloss"}}, {{"Roof", "Clear gloss"}}};
  const std::string text = text_of(*write_quote(paper, stationery()));
  expect_words(text, {"Quote Q-0001", "Valid until", "3 June 2031", "Full front, as it is",
                      "1,071.00", "Clear gloss: Hood", "Clear gloss: Roof"});
  EXPECT_EQ(text.find("111.11"), std::string::npos);  // what it costs the shop
  paper.quote.language = shop::Language::german;
  expect_words(text_of(*write_quote(paper, stationery())),
               {"Angebot Q-0001", "Gültig bis", "1.071,00"});
}

TEST(Papers, SameRecordsAreSameBytes) {
  EXPECT_EQ(*write_certificate(certificate(), stationery()),
            *write_certificate(certificate(), stationery()));
  EXPECT_EQ(*write_invoice(invoice(), in_german()), *write_invoice(invoice(), in_german()));
}

TEST(Stationery, LengthsDatesAndLinksInBothLanguages) {
  using shop::Language;
  using shop::LengthUnit;
  EXPECT_EQ(length_text(Mm{15240}, LengthUnit::mm, Language::german), "15,24 m");
  EXPECT_EQ(length_text(Mm{1524}, LengthUnit::inch, Language::english), "60.0 in");
  EXPECT_EQ(date_text("2031-03-09T10:00:00Z", Language::german), "9. März 2031");
  EXPECT_EQ(date_text("soon", Language::english), "soon");
  Stationery slash = stationery();
  slash.head.address = "https://film.example/shop/";
  EXPECT_EQ(link_to(slash, "jobs/J-1"), "https://film.example/shop/jobs/J-1");
}

}  // namespace
}  // namespace film::documents
