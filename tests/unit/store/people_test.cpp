// People, customers and the audit trail in every kind of store.

#include "store/acting.h"
#include "unit/store/book_of.h"
#include "unit/store/example_book.h"

namespace film::store {
namespace {

shop::Person lead(const std::string& sign_in) {
  shop::Person person;
  person.name = "Lead " + sign_in;
  person.sign_in = sign_in;
  person.role = shop::Role::lead;
  person.created = "2031-05-04T10:00:00Z";
  return person;
}

TEST_P(BookOf, PeopleComeBackAndStaleChangesAreRefused) {
  const auto ada = store_->change([](Book& book) { return book.add(lead("ada")); }).value();
  EXPECT_EQ(ada.id, "U-0001");
  EXPECT_EQ(look([](Book& book) { return book.person_signing_in("ada"); }), ada);
  EXPECT_EQ(store_->change([](Book& book) { return book.add(lead("ada")); }).error().code,
            ErrorCode::conflict);
  shop::Person changed = ada;
  changed.name = "Ada Example";
  changed.revision = 2;
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(changed); }));
  EXPECT_EQ(store_->change([&](Book& book) { return book.update(changed); }).error().code,
            ErrorCode::conflict);
  EXPECT_EQ(look([](Book& book) { return book.people(); }), std::vector{changed});
}

TEST_P(BookOf, OneActiveLeadIsAlwaysLeft) {
  auto ada = store_->change([](Book& book) { return book.add(lead("ada")); }).value();
  ada.revision = 2;
  ada.active = false;
  EXPECT_FALSE(store_->change([&](Book& book) { return book.update(ada); }));
  ASSERT_TRUE(store_->change([](Book& book) { return book.add(lead("bo")); }));
  EXPECT_TRUE(store_->change([&](Book& book) { return book.update(ada); }));
}

TEST_P(BookOf, SessionsAndLinksEnd) {
  fill(*store_);
  const auto ada = store_->change([](Book& book) { return book.add(lead("ada")); }).value();
  const shop::Session session{"d1", ada.id, "t1", "t1", "t5"};
  ASSERT_TRUE(store_->change([&](Book& book) {
    book.put_password(ada.id, "hash");
    book.put(session);
    book.put(shop::Session{"d2", ada.id, "t1", "t1", "t9"});
  }));
  EXPECT_EQ(look([](Book& book) { return book.session("d1"); }), session);
  EXPECT_EQ(look([&](Book& book) { return book.password(ada.id); }), "hash");
  ASSERT_TRUE(store_->change([](Book& book) { book.end_sessions_before("t6"); }));
  EXPECT_FALSE(look([](Book& book) { return book.session("d1"); }));
  EXPECT_TRUE(look([](Book& book) { return book.session("d2"); }));
  ASSERT_TRUE(store_->change([&](Book& book) { book.end_sessions(ada.id); }));
  EXPECT_FALSE(look([](Book& book) { return book.session("d2"); }));

  const auto link =
      store_
          ->change([](Book& book) {
            return book.add(shop::ShareLink{"", "d", "J-0001", "me", "t1", "t9", false});
          })
          .value();
  EXPECT_EQ(look([](Book& book) { return book.share_link("d"); }), link);
  ASSERT_TRUE(store_->change([&](Book& book) { return book.revoke_link(link.id); }));
  EXPECT_TRUE(look([](Book& book) { return book.share_links("J-0001"); }).front().revoked);
}

TEST_P(BookOf, ChangesOfRecordsLeaveALineInTheAuditTrail) {
  fill(*store_);
  const Acting acting("Ada");
  auto job = *look([](Book& book) { return book.job("J-0001"); });
  const std::string title = job.title;
  job.title = "Another title";
  ++job.revision;
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(job); }));
  const auto lines = look([](Book& book) { return book.audit("job J-0001", 10); });
  ASSERT_EQ(lines.size(), 2u);
  EXPECT_EQ(lines[0].who, "Ada");
  EXPECT_EQ(lines[0].what, "changed");
  EXPECT_EQ(lines[0].detail, "title: " + title + " -> Another title; ");
  EXPECT_EQ(lines[0].revision_before, job.revision - 1);
  EXPECT_EQ(lines[0].revision_after, job.revision);
  EXPECT_EQ(lines[0].at.size(), 20u);
  EXPECT_EQ(lines[1].what, "added");
}

TEST_P(BookOf, CustomersAreFoundByNamePlateAndVin) {
  fill(*store_);
  shop::Customer customer;
  customer.name = "Ottoline Brambleby";
  customer.email = "ottoline@shop.example";
  customer.created = "t";
  customer = store_->change([&](Book& book) { return book.add(customer); }).value();
  EXPECT_EQ(customer.id, "K-0001");
  shop::CustomerVehicle vehicle;
  vehicle.customer = customer.id;
  vehicle.plate = "FW 207";
  vehicle.vin = "1G4AH59H45G118341";
  vehicle.created = "t";
  vehicle = store_->change([&](Book& book) { return book.add(vehicle); }).value();
  const auto found = [this](const std::string& start) {
    return look([&](Book& book) { return book.customers(start, 10); }).size();
  };
  EXPECT_EQ(found(""), 1u);
  EXPECT_EQ(found("Otto"), 1u);
  EXPECT_EQ(found("FW 2"), 1u);
  EXPECT_EQ(found("1G4AH"), 1u);
  EXPECT_EQ(found("Nobody"), 0u);
  EXPECT_EQ(look([](Book& book) { return book.vehicles_of("K-0001"); }), std::vector{vehicle});

  customer.name = "Ottoline B.";
  customer.revision = 2;
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(customer); }));
  EXPECT_EQ(store_->change([&](Book& book) { return book.update(customer); }).error().code,
            ErrorCode::conflict);
  EXPECT_EQ(look([](Book& book) { return book.customer("K-0001"); }), customer);

  const shop::JobCustomer link{"J-0001", customer.id, vehicle.id};
  ASSERT_TRUE(store_->change([&](Book& book) { book.put(link); }));
  EXPECT_EQ(look([](Book& book) { return book.job_customer("J-0001"); }), link);
  EXPECT_EQ(look([](Book& book) { return book.jobs_of_customer("K-0001"); }),
            std::vector<std::string>{"J-0001"});
  EXPECT_EQ(look([&](Book& book) { return book.jobs_of_vehicle(vehicle.id); }),
            std::vector<std::string>{"J-0001"});

  const auto by_name = [this](const std::string& text) {
    return look([&](Book& book) { return book.customers_holding(text, 10); }).size();
  };
  EXPECT_EQ(by_name("line b"), 1u);
  EXPECT_EQ(by_name("%"), 0u);  // no pattern but itself
  const auto by_plate = [this](const std::string& text) {
    return look([&](Book& book) { return book.vehicles_holding(text, 10); }).size();
  };
  EXPECT_EQ(by_plate("fw-207"), 1u);
  EXPECT_EQ(by_plate("w20"), 1u);
  EXPECT_EQ(by_plate("118341"), 1u);
  EXPECT_EQ(by_plate("fw 208"), 0u);
  EXPECT_EQ(by_plate("_"), 0u);
  EXPECT_EQ(by_plate(" - "), 0u);
}

// One change of every family; each leaves a line under its record.
TEST_P(BookOf, RecordsOfEveryKindLeaveATrail) {
  const Acting acting("Ada");
  fill(*store_);
  ASSERT_TRUE(store_->change([](Book& book) -> Result<void> {
    auto settings = *book.settings();
    settings.name = "Another name";
    book.put(settings);
    shop::Film film = *book.film("clear");
    film.thickness_um = 150;
    book.put(film);
    shop::KnifeProfile profile;
    profile.id = "plotter";
    profile.settings.name = "Plotter";
    book.put(profile);
    book.append("J-0001",
                shop::GlassReading{"hood", shop::Stage::before, 0.7, 0.02, "m", "Ada", "t"});
    shop::InstalledPiece piece;
    piece.event = "event-0001";
    piece.job = "J-0001";
    piece.panel = "hood";
    piece.film = "clear";
    piece.lot = "LOT 7/R-1";
    piece.who = "Ada";
    piece.at = "t";
    if (auto added = book.add(piece); !added) return Failure(added.error());
    shop::Claim claim;
    claim.job = "J-0001";
    claim.piece = 1;
    claim.what = "edge lifts";
    claim.reported_by = "somebody";
    claim.who = "Ada";
    claim.at = "t";
    book.add(claim);
    book.append(shop::ClaimRuling{"K-0001", shop::Ruling::goodwill, "why not", true, "Ada", "t"});
    book.append(
        shop::Payment{"J-0001", shop::PaymentKind::deposit, Money{500}, "cash", "", "Ada", "t"});
    auto list = book.add(shop::PriceList{});
    if (!list) return Failure(list.error());
    book.put_password(book.add(lead("ada")).value().id, "hash");
    return {};
  }));
  const auto told = [this](const std::string& record) {
    std::string all;
    for (const auto& line : look([&](Book& book) { return book.audit(record, 20); })) {
      EXPECT_EQ(line.who, "Ada") << record;
      all = line.what + " " + line.detail + "; " + all;
    }
    return all;
  };
  EXPECT_EQ(told("shop"), "added Example shop; changed name: Example shop -> Another name; ; ");
  EXPECT_EQ(told("film clear").rfind("added Example clear; changed thickness_um: 203.2 -> 150", 0),
            0u);
  EXPECT_EQ(told("roll R-1"), "added clear, lot LOT 7/R-1; ");
  EXPECT_EQ(told("plotter plotter"), "added Plotter; ");
  EXPECT_EQ(told("model wagon 1"), "added Example wagon; ");
  EXPECT_EQ(told("piece P-1"), "laid J-0001 hood, lot LOT 7/R-1; ");
  EXPECT_EQ(told("claim K-0001"), "added J-0001 P-1: edge lifts; decided goodwill: why not; ");
  EXPECT_EQ(told("price list 1"), "added ; ");
  EXPECT_NE(told("job J-0001").find("payment deposit 500 cash"), std::string::npos);
  EXPECT_NE(told("job J-0001").find("reading hood before 0.7"), std::string::npos);
  EXPECT_NE(told("person U-0001").find("password set"), std::string::npos);
  EXPECT_EQ(told("person U-0001").find("hash"), std::string::npos);
}

}  // namespace
}  // namespace film::store
