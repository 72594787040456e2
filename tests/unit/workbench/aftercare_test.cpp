// Years later: what is found, what goes out as papers and tables, what comes in.

#include <gtest/gtest.h>

#include "store/store.h"
#include "unit/store/example_book.h"
#include "workbench/bill.h"
#include "workbench/claims.h"
#include "workbench/csv_tables.h"
#include "workbench/customers.h"
#include "workbench/install_piece.h"
#include "workbench/papers.h"
#include "workbench/search.h"
#include "workbench/trace.h"

namespace film::workbench {
namespace {

class Aftercare : public testing::Test {
 protected:
  void SetUp() override {
    workbench_ = workbench_in_memory().value();
    job_ = store::fill(workbench_->store());
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Job job = *book.job(job_);
      job.state = shop::JobState::released;
      ++job.revision;
      return book.update(job);
    }));
    lay("event-01", "hood", 0, "");
    lay("event-02", "roof", 0, "");
    lay("event-03", "hood", 1, "a crease");
  }

  void lay(const char* event, const char* panel, std::int64_t replaces, const char* reason) {
    PieceLaid laid;
    laid.event = event;
    laid.job = job_;
    laid.panel = panel;
    laid.source = "R-1";
    laid.replaces = replaces;
    laid.reason = reason;
    const auto piece = install_piece(*workbench_, laid, "Ada");
    ASSERT_TRUE(piece) << piece.error().message();
  }
  std::vector<Found> find(const std::string& text) {
    const auto found = search(*workbench_, {text, "", "", 50});
    EXPECT_TRUE(found);
    return found.value_or(std::vector<Found>{});
  }
  std::size_t pieces() {
    return workbench_->store()
        .look([&](store::Book& book) { return book.installed_of_job(job_).size(); })
        .value();
  }

  std::unique_ptr<Workbench> workbench_;
  std::string job_;
};

TEST_F(Aftercare, ALotLeadsToItsVehiclesAndPanels) {
  const auto trace = trace_lot(*workbench_, "LOT 7/R-1");
  ASSERT_TRUE(trace);
  ASSERT_EQ(trace->vehicles.size(), 1u);
  EXPECT_EQ(trace->vehicles[0].vehicle_name, "Example wagon");
  ASSERT_EQ(trace->vehicles[0].pieces.size(), 3u);
  EXPECT_EQ(trace->vehicles[0].pieces[0].panel_name, "The hood");
  EXPECT_EQ(trace->vehicles[0].pieces[0].replaced_by, 3);
  EXPECT_EQ(trace->vehicles[0].pieces[2].replaced_by, 0);
  EXPECT_EQ(trace->next, 0);
  const auto page = trace_lot(*workbench_, "LOT 7/R-1", 0, 2);
  EXPECT_EQ(page->next, 2);
  EXPECT_EQ(trace_lot(*workbench_, "LOT 7/R-1", 2, 2)->vehicles[0].pieces.size(), 1u);
  EXPECT_EQ(trace_lot(*workbench_, "none").error().code, ErrorCode::not_found);
}

TEST_F(Aftercare, NamesNumbersAndLotsAreFound) {
  ASSERT_EQ(find("nobody").size(), 1u);
  EXPECT_EQ(find("nobody")[0].kind, FoundKind::job);
  EXPECT_EQ(find("p-2")[0].kind, FoundKind::piece);
  EXPECT_EQ(find("p-2")[0].job, job_);
  EXPECT_EQ(find("LOT")[0].kind, FoundKind::lot);
  EXPECT_TRUE(find("somebody else").empty());
  EXPECT_TRUE(find("P-99").empty());
  EXPECT_EQ(search(*workbench_, {}).error().code, ErrorCode::invalid_input);
  EXPECT_EQ(search(*workbench_, {"", "2031-02-30", "", 5}).error().code, ErrorCode::invalid_input);
  EXPECT_EQ(search(*workbench_, {"", "2031-05-04", "2031-05-04", 5})->size(), 1u);
}

TEST_F(Aftercare, CustomersAndVehiclesAreFoundInAnyWriting) {
  shop::Customer customer;
  customer.name = "Ottoline Brambleby";
  customer.phone = "555 0100";
  customer = keep_customer(*workbench_, customer).value();
  shop::CustomerVehicle vehicle;
  vehicle.customer = customer.id;
  vehicle.plate = "FW-207 E";
  vehicle.vin = "1M8GDM9AXKP042788";  // 49 CFR 565.15 has how its check digit is reckoned
  vehicle = keep_customer_vehicle(*workbench_, vehicle).value();
  const auto job = workbench_->store().look([&](store::Book& book) { return *book.job(job_); });
  ASSERT_TRUE(link_customer(*workbench_, {job_, customer.id, vehicle.id}, job->revision, "desk"));

  for (const char* plate : {"FW-207 E", "fw 207", "fw207e", "042788", "v-0001"}) {
    const auto found = find(plate);
    ASSERT_FALSE(found.empty()) << plate;
    EXPECT_EQ(found[0].kind, FoundKind::vehicle) << plate;
    EXPECT_EQ(found[0].id, vehicle.id);
    EXPECT_EQ(found[0].job, job_);
  }
  for (const char* name : {"ottoline", "BRAMBLE", "k-0001"}) {
    const auto found = find(name);
    ASSERT_FALSE(found.empty()) << name;
    EXPECT_EQ(found[0].kind, FoundKind::customer) << name;
    EXPECT_EQ(found[0].title, customer.name);
    EXPECT_EQ(found[0].job, job_);
  }
  EXPECT_EQ(find("lot 7")[0].kind, FoundKind::lot);  // kept in capitals
  // With days only jobs are looked for.
  const auto dated = search(*workbench_, {"ottoline", "2031-05-04", "2031-05-04", 5});
  ASSERT_EQ(dated->size(), 1u);
  EXPECT_EQ(dated->front().kind, FoundKind::job);
}

TEST_F(Aftercare, CustomersGoOutAndComeIn) {
  const std::string head =
      "id,name,phone,email,address,language,plate,vin,vin_reason,model,note\r\n";
  const std::string good =
      "a,Ottoline B.,555 0100,,,en,FW 1,,,wagon,\r\n"
      "a,Ottoline B.,555 0100,,,en,FW 2,,,,second\r\n"
      ",Cuthbert F.,,,,de,,,,,\r\n";
  const auto refused = [&](const std::string& row) {
    const auto done = import_csv(*workbench_, "customers", head + good + row, "desk");
    EXPECT_FALSE(done) << row;
    EXPECT_TRUE(customers(*workbench_, "")->empty());
    return done ? "" : done.error().where;
  };
  EXPECT_EQ(refused("b,,,,,en,,,,,\r\n").substr(0, 6), "line 5");
  EXPECT_EQ(refused("b,B,,,,xx,,,,,\r\n").substr(0, 6), "line 5");
  EXPECT_EQ(refused("b,B,,,,en,FW 3,1M8GDM9A_KP042788,,,\r\n").substr(0, 6), "line 5");
  EXPECT_EQ(refused("a,Another,,,,en,,,,,\r\n"), "line 5, column id");
  refused("b,B,,,,en,FW 3,,,spaceship,\r\n");
  const auto done = import_csv(*workbench_, "customers", head + good, "desk");
  ASSERT_TRUE(done) << done.error().message();
  EXPECT_EQ(done->rows, 3u);
  EXPECT_EQ(customers(*workbench_, "")->size(), 2u);
  EXPECT_EQ(customer(*workbench_, "K-0001")->vehicles.size(), 2u);
  const auto out = export_csv(*workbench_, "customers");
  ASSERT_TRUE(out);
  EXPECT_EQ(out->substr(0, head.size()), head);
  EXPECT_NE(out->find("K-0001,Ottoline B.,555 0100,,,en,FW 2,,,,second"), std::string::npos);
  EXPECT_EQ(import_csv(*workbench_, "customers", *out, "desk").error().code, ErrorCode::conflict);
}

TEST_F(Aftercare, TablesGoOutAndComeBack) {
  const auto out = export_csv(*workbench_, "pieces");
  ASSERT_TRUE(out);
  EXPECT_EQ(out->substr(0, 12), "number,event");
  // The same reports are refused whole, with the line.
  const auto again = import_csv(*workbench_, "pieces", *out, "desk");
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().where.substr(0, 6), "line 2");
  EXPECT_EQ(pieces(), 3u);
  std::string other = *out;
  for (std::size_t at = 0; (at = other.find("event-0", at)) != std::string::npos; at += 7) {
    other.replace(at, 7, "before-");
  }
  other = other.substr(0, other.find("\r\n", other.find("before-2")) + 2);  // without the recut
  const auto taken = import_csv(*workbench_, "pieces", other, "desk");
  ASSERT_TRUE(taken) << taken.error().message();
  EXPECT_EQ(taken->rows, 2u);
  EXPECT_EQ(pieces(), 5u);
  EXPECT_EQ(export_csv(*workbench_, "secrets").error().code, ErrorCode::not_found);
  EXPECT_EQ(import_csv(*workbench_, "jobs", "id\r\n", "desk").error().code, ErrorCode::unsupported);
}

TEST_F(Aftercare, AnImportIsAllOrNothingAndNamesTheCell) {
  const std::string head = "id,film,lot,width_mm,length_mm,remaining_mm,received,place\r\n";
  const std::string good = "R-7,clear,L 9,1524,15000,15000,2031-05-04,rack\r\n";
  const auto faulty = [&](const std::string& row) {
    const auto done = import_csv(*workbench_, "rolls", head + good + row, "desk");
    EXPECT_FALSE(done);
    EXPECT_FALSE(workbench_->store()
                     .look([](store::Book& book) { return book.roll("R-7").has_value(); })
                     .value());
    return done ? "" : done.error().where;
  };
  EXPECT_EQ(faulty("R-8,clear,L 9,wide,15000,15000,2031-05-04,rack\r\n"),
            "line 3, column width_mm");
  EXPECT_EQ(faulty("R-8,none,L 9,1524,15000,15000,2031-05-04,rack\r\n"), "line 3, column film");
  EXPECT_EQ(faulty(good), "line 3, column id");
  EXPECT_EQ(faulty("R-8,clear,L 9,1524\r\n"), "line 3, column 4");
  EXPECT_EQ(faulty("R-8,clear,,1524,15000,15000,2031-05-04,rack\r\n").substr(0, 6), "line 3");
  EXPECT_EQ(import_csv(*workbench_, "rolls", "id,film\r\n", "desk").error().where, "line 1");
  ASSERT_TRUE(import_csv(*workbench_, "rolls", head + good, "desk"));
}

TEST_F(Aftercare, PapersAreMadeOfWhatIsThere) {
  EXPECT_EQ(write_paper(*workbench_, job_, "certificate").error().code, ErrorCode::not_found);
  EXPECT_EQ(write_paper(*workbench_, job_, "invoice").error().code, ErrorCode::not_found);
  EXPECT_EQ(write_paper(*workbench_, job_, "poster").error().code, ErrorCode::not_found);
  for (const char* paper : {"inspection", "care"}) {
    const auto pdf = write_paper(*workbench_, job_, paper);
    ASSERT_TRUE(pdf) << paper;
    EXPECT_EQ(pdf->substr(0, 5), "%PDF-");
    EXPECT_EQ(*pdf, *write_paper(*workbench_, job_, paper));
  }
  shop::Claim claim;
  claim.piece = 2;
  claim.what = "edge lifts";
  claim.reported_by = "A. Nobody";
  claim.who = "desk";
  const auto opened = open_claim(*workbench_, claim);
  ASSERT_TRUE(opened);
  EXPECT_TRUE(write_claim_paper(*workbench_, opened->id));
  EXPECT_FALSE(write_claim_paper(*workbench_, "K-0009"));
}

TEST_F(Aftercare, PaymentsCountAgainstInvoices) {
  shop::Invoice invoice;
  invoice.job = job_;
  invoice.bill_to = "A. Nobody";
  invoice.lines = {{"Full front", Money{10'000}, shop::Rate::percent(19)}};
  invoice.issued_by = "desk";
  ASSERT_TRUE(issue_invoice(*workbench_, invoice));
  const shop::Payment deposit{job_, shop::PaymentKind::deposit, Money{5'000}, "cash", "", "desk",
                              ""};
  ASSERT_TRUE(record_payment(*workbench_, deposit));
  shop::Payment refund = deposit;
  refund.kind = shop::PaymentKind::refund;
  refund.amount = Money{5'001};
  EXPECT_EQ(record_payment(*workbench_, refund).error().code, ErrorCode::conflict);
  const auto account = account_of(*workbench_, job_);
  ASSERT_TRUE(account);
  EXPECT_EQ(account->billed, Money{11'900});
  EXPECT_EQ(account->paid, Money{5'000});
  EXPECT_TRUE(write_paper(*workbench_, job_, "invoice"));
}

}  // namespace
}  // namespace film::workbench
