// What went onto vehicles, certificates, claims, invoices: the same on every kind of store.

#include "unit/store/book_of.h"
#include "unit/store/example_book.h"

namespace film::store {
namespace {

class InstallationBookOf : public BookOf {
 protected:
  void SetUp() override {
    BookOf::SetUp();
    if (store_) job_ = fill(*store_);
  }

  shop::InstalledPiece piece(const std::string& event, const std::string& panel = "hood") const {
    shop::InstalledPiece piece;
    piece.event = event;
    piece.job = job_;
    piece.panel = piece.piece = panel;
    piece.film = "clear";
    piece.lot = "LOT 7/R-1";
    piece.source = "R-1";
    piece.who = "Ada";
    piece.at = "2031-05-04T10:00:00Z";
    return piece;
  }
  Result<shop::InstalledPiece> lay(const shop::InstalledPiece& piece) {
    return store_->change([&](Book& book) { return book.add(piece); });
  }

  std::string job_;
};

TEST_P(InstallationBookOf, PiecesAreFoundByNumberJobLotAndEvent) {
  const auto hood = lay(piece("event-01"));
  const auto roof = lay(piece("event-02", "roof"));
  ASSERT_TRUE(hood && roof);
  EXPECT_EQ(hood->number, 1);
  EXPECT_EQ(roof->number, 2);
  look([&](Book& book) {
    EXPECT_EQ(book.installed(1), *hood);
    EXPECT_EQ(book.installed(3), std::nullopt);
    EXPECT_EQ(book.installed_by_event("event-02"), *roof);
    EXPECT_EQ(book.installed_of_job(job_), (std::vector{*hood, *roof}));
    EXPECT_EQ(book.installed_of_lot("LOT 7/R-1", 0, 10), (std::vector{*hood, *roof}));
    EXPECT_EQ(book.installed_of_lot("LOT 7/R-1", 1, 10), std::vector{*roof});
    EXPECT_EQ(book.installed_of_lot("LOT 7/R-1", 0, 1), std::vector{*hood});
    EXPECT_TRUE(book.installed_of_lot("LOT 7", 0, 10).empty());
    EXPECT_EQ(book.lots_like("LOT", 5), std::vector<std::string>{"LOT 7/R-1"});
    EXPECT_EQ(book.lots_like("", 5), std::vector<std::string>{"LOT 7/R-1"});
    EXPECT_TRUE(book.lots_like("M", 5).empty());
  });
}

TEST_P(InstallationBookOf, JobsAreFoundByWhatStandsOnThem) {
  const auto found = [&](const char* text, const char* from = "", const char* before = "") {
    return look([&](Book& book) { return book.jobs_like(text, from, before, 9).size(); });
  };
  EXPECT_EQ(found("nobody"), 1u);
  EXPECT_EQ(found("FULL f"), 1u);
  EXPECT_EQ(found("j-0001"), 1u);
  EXPECT_EQ(found(""), 1u);
  EXPECT_EQ(found("%"), 0u);
  EXPECT_EQ(found("_"), 0u);
  EXPECT_EQ(found("'; --"), 0u);
  EXPECT_EQ(found("", "2031-05-04"), 1u);
  EXPECT_EQ(found("", "2031-05-05"), 0u);
  EXPECT_EQ(found("", "2031-05-04", "2031-05-05"), 1u);
  EXPECT_EQ(found("", "", "2031-05-04"), 0u);
}

TEST_P(InstallationBookOf, LotsAreListedOnceEachInOrder) {
  int event = 0;
  for (const char* lot : {"B 2", "A 1", "B 2", "B 10", "a"}) {
    shop::InstalledPiece each = piece("event-lot-" + std::to_string(event++));
    each.lot = lot;
    ASSERT_TRUE(lay(each));
  }
  look([](Book& book) {
    EXPECT_EQ(book.lots_like("", 9), (std::vector<std::string>{"A 1", "B 10", "B 2", "a"}));
    EXPECT_EQ(book.lots_like("B", 9), (std::vector<std::string>{"B 10", "B 2"}));
    EXPECT_EQ(book.lots_like("B", 1), (std::vector<std::string>{"B 10"}));
  });
}

TEST_P(InstallationBookOf, AnEventCountsOnceAndAPieceComesOffOnce) {
  ASSERT_TRUE(lay(piece("event-01")));
  EXPECT_EQ(lay(piece("event-01", "roof")).error().code, ErrorCode::conflict);
  shop::InstalledPiece second = piece("event-02");
  second.replaces = 1;
  second.reason = "torn at the edge";
  const auto laid = lay(second);
  ASSERT_TRUE(laid);
  EXPECT_EQ(look([](Book& book) { return book.replacement_of(1); }), *laid);
  EXPECT_EQ(look([](Book& book) { return book.replacement_of(2); }), std::nullopt);
  second.event = "event-03";
  EXPECT_EQ(lay(second).error().code, ErrorCode::conflict);
  second.replaces = 9;
  EXPECT_EQ(lay(second).error().code, ErrorCode::not_found);
  second.replaces = 2;
  second.panel = "roof";
  EXPECT_EQ(lay(second).error().code, ErrorCode::conflict);
}

TEST_P(InstallationBookOf, InspectionsHandOversAndPhotosAreKeptInOrder) {
  shop::Inspection first{job_, {{"edges", false, "lifts at the corner", ""}}, "Bo", "t1"};
  shop::Inspection second{job_, {{"edges", true, "", ""}, {"water", true, "", ""}}, "Bo", "t2"};
  const shop::HandOver given{job_, "Bo", "A. Nobody", "inner sills", "", "t3"};
  shop::Photo photo{job_, "hood", "survey", "", "image/png", "Bo", "t4"};
  ASSERT_TRUE(store_->change([&](Book& book) {
    photo.hash = book.put_blob("bytes of a photo");
    book.append(first);
    book.append(second);
    book.append(given);
    book.append(photo);
  }));
  look([&](Book& book) {
    EXPECT_EQ(book.inspections(job_), (std::vector{first, second}));
    EXPECT_EQ(book.hand_overs(job_), std::vector{given});
    EXPECT_EQ(book.photos(job_), std::vector{photo});
    EXPECT_TRUE(book.inspections("J-9").empty());
  });
}

TEST_P(InstallationBookOf, CertificatesAndClaimsAreKeptWhole) {
  ASSERT_TRUE(lay(piece("event-01")));
  const shop::FilmTerm term{"clear", "Example clear", 120};
  shop::Claim claim{"", job_, 1, "edge lifts", "A. Nobody", "desk", "t2", {}};
  shop::ClaimRuling ruling{"", shop::Ruling::warranty, "glue let go", true, "lead", "t3"};
  const auto certificate = store_->change([&](Book& book) {
    book.put(term);
    claim.photos = {book.put_blob("one"), book.put_blob("two")};
    claim = book.add(claim);
    ruling.claim = claim.id;
    book.append(ruling);
    return book.add(shop::Certificate{"", job_, {term}, "Bo", "t1"});
  });
  ASSERT_TRUE(certificate);
  EXPECT_EQ(certificate->id, "W-0001");
  EXPECT_EQ(claim.id, "K-0001");
  const shop::ClaimRecord record{claim, {ruling}, {}};
  look([&](Book& book) {
    EXPECT_EQ(book.film_term("clear"), term);
    EXPECT_EQ(book.film_term("none"), std::nullopt);
    EXPECT_EQ(book.certificates(job_), std::vector{*certificate});
    EXPECT_EQ(book.claims(), std::vector{record});
    EXPECT_EQ(book.claims(job_), std::vector{record});
    EXPECT_EQ(book.claim("K-0001"), record);
    EXPECT_EQ(book.claim("K-0002"), std::nullopt);
  });
}

TEST_P(InstallationBookOf, InvoicesPaymentsAndTheLetterheadAreKept) {
  shop::Letterhead head;
  head.lines = {"Nowhere Lane 1", "", "000 Nowhere"};
  head.tax_id = "T-1";
  head.language = shop::Language::german;
  head.paper = shop::PaperSize::letter;
  shop::Invoice invoice{"",
                        job_,
                        "A. Nobody",
                        "EUR",
                        {{"Full front", Money{8'999'999'999'999}, shop::Rate::percent(19)},
                         {"Discount", Money{-5}, shop::Rate{88'750}}},
                        "",
                        "2031-06-04",
                        "desk",
                        "t1"};
  const shop::Payment payment{job_, shop::PaymentKind::deposit, Money{5'000}, "cash", "", "desk",
                              "t0"};
  EXPECT_EQ(look([](Book& book) { return book.letterhead(); }), std::nullopt);
  ASSERT_TRUE(store_->change([&](Book& book) {
    book.put(shop::Letterhead{});
    book.put(head);
    invoice = book.add(invoice);
    book.append(payment);
  }));
  EXPECT_EQ(invoice.id, "I-0001");
  look([&](Book& book) {
    EXPECT_EQ(book.letterhead(), head);
    EXPECT_EQ(book.invoices(job_), std::vector{invoice});
    EXPECT_EQ(book.payments(job_), std::vector{payment});
  });
}

INSTANTIATE_TEST_SUITE_P(Each, InstallationBookOf, kinds_of_book(),
                         [](const auto& each) { return each.param.name; });

}  // namespace
}  // namespace film::store
