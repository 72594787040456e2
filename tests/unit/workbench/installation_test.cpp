// From the released job to the vehicle handed over, and what comes back.

#include <gtest/gtest.h>

#include "store/store.h"
#include "unit/store/example_book.h"
#include "workbench/claims.h"
#include "workbench/detail/steps.h"
#include "workbench/inspect_job.h"
#include "workbench/install_piece.h"
#include "workbench/move_job.h"
#include "workbench/trace.h"

namespace film::workbench {
namespace {

using shop::JobState;

class Installation : public testing::Test {
 protected:
  void SetUp() override {
    workbench_ = workbench_in_memory().value();
    job_ = store::fill(workbench_->store());
    ASSERT_TRUE(workbench_->store().change([&](store::Book& book) {
      shop::Job job = *book.job(job_);
      job.state = JobState::released;
      ++job.revision;
      book.put(shop::FilmTerm{"clear", "Example clear", 120});
      return book.update(job);
    }));
  }

  PieceLaid report(const std::string& event, const std::string& panel) const {
    PieceLaid laid;
    laid.event = event;
    laid.job = job_;
    laid.panel = panel;
    laid.source = "R-1";
    return laid;
  }
  Result<shop::InstalledPiece> lay(const PieceLaid& laid) {
    return install_piece(*workbench_, laid, "Ada");
  }
  Result<shop::Inspection> inspect(bool good) {
    shop::Inspection inspection;
    inspection.job = job_;
    inspection.who = "Bo";
    for (const shop::CheckItem& item : shop::inspection_list()) {
      inspection.findings.push_back({std::string(item.id), true, "", ""});
    }
    if (!good) inspection.findings[0] = {"edges", false, "lifts at the corner", ""};
    return inspect_job(*workbench_, inspection);
  }
  Result<shop::Certificate> hand_over() {
    return hand_over_job(*workbench_, {job_, "Bo", "A. Nobody", "", "", ""});
  }
  JobState state() {
    return workbench_->store()
        .look([&](store::Book& book) { return book.job(job_)->state; })
        .value();
  }
  std::size_t pieces() {
    return workbench_->store()
        .look([&](store::Book& book) { return book.installed_of_job(job_).size(); })
        .value();
  }

  std::unique_ptr<Workbench> workbench_;
  std::string job_;
};

TEST_F(Installation, AJobGoesFromItsFirstPieceToItsOwner) {
  const auto hood = lay(report("event-01", "hood"));
  ASSERT_TRUE(hood) << hood.error().message();
  EXPECT_EQ(hood->lot, "LOT 7/R-1");
  EXPECT_EQ(hood->film, "clear");
  EXPECT_EQ(state(), JobState::installing);
  // Passed, but a panel is still bare.
  ASSERT_TRUE(inspect(true));
  EXPECT_EQ(state(), JobState::installing);
  ASSERT_TRUE(lay(report("event-02", "roof")));
  ASSERT_TRUE(inspect(false));
  EXPECT_EQ(state(), JobState::installing);
  EXPECT_EQ(hand_over().error().code, ErrorCode::conflict);
  ASSERT_TRUE(inspect(true));
  EXPECT_EQ(state(), JobState::inspected);
  const auto certificate = hand_over();
  ASSERT_TRUE(certificate) << certificate.error().message();
  EXPECT_EQ(certificate->terms, (std::vector<shop::FilmTerm>{{"clear", "Example clear", 120}}));
  EXPECT_EQ(state(), JobState::handed_over);
}

TEST_F(Installation, TheTraceTellsWhatMustBeDoneBeforeTheJobMovesOn) {
  const auto steps = [this] { return trace_job(*workbench_, job_)->steps; };
  ASSERT_TRUE(lay(report("event-01", "hood")));
  EXPECT_FALSE(steps().pieces);
  ASSERT_TRUE(lay(report("event-02", "roof")));
  EXPECT_TRUE(steps().pieces);
  EXPECT_FALSE(steps().inspection);
  ASSERT_TRUE(inspect(true));
  EXPECT_TRUE(steps().inspection);
  EXPECT_FALSE(steps().hand_over);
  ASSERT_TRUE(hand_over());
  EXPECT_TRUE(steps().hand_over);
}

TEST_F(Installation, AReportSentTwiceIsOnePiece) {
  const auto once = lay(report("event-01", "hood"));
  const auto again = lay(report("event-01", "hood"));
  ASSERT_TRUE(once && again);
  EXPECT_EQ(*once, *again);
  EXPECT_EQ(pieces(), 1u);
  EXPECT_EQ(lay(report("event-01", "roof")).error().code, ErrorCode::conflict);
  EXPECT_EQ(lay(report("event-02", "hood")).error().code, ErrorCode::conflict);
  PieceLaid recut = report("event-03", "hood");
  recut.replaces = once->number;
  EXPECT_EQ(lay(recut).error().code, ErrorCode::invalid_input);
  recut.reason = "a crease";
  EXPECT_TRUE(lay(recut));
  EXPECT_EQ(pieces(), 2u);
}

TEST_F(Installation, NothingIsLaidWithoutALotOrOutsideTheScope) {
  PieceLaid unknown = report("event-01", "hood");
  unknown.source = "an old box";
  EXPECT_EQ(lay(unknown).error().code, ErrorCode::invalid_input);
  unknown.lot = "L 44";
  EXPECT_TRUE(lay(unknown));
  EXPECT_EQ(lay(report("event-02", "boot")).error().code, ErrorCode::not_found);
  PieceLaid lost = report("event-03", "roof");
  lost.job = "J-9999";
  EXPECT_EQ(lay(lost).error().code, ErrorCode::not_found);
}

TEST_F(Installation, APieceLaidAfterTheInspectionOpensItAgain) {
  ASSERT_TRUE(lay(report("event-01", "hood")));
  ASSERT_TRUE(lay(report("event-02", "roof")));
  ASSERT_TRUE(inspect(true));
  PieceLaid recut = report("event-03", "hood");
  recut.replaces = 1;
  recut.reason = "a hair under it";
  recut.at = "2999-01-01T00:00:00Z";
  ASSERT_TRUE(lay(recut));
  EXPECT_EQ(state(), JobState::installing);
  JobMove move{job_, JobState::inspected, "", {}};
  EXPECT_EQ(move_job(*workbench_, move, "Bo").error().code, ErrorCode::conflict);
  move.reason = "seen by the lead";
  ASSERT_TRUE(move_job(*workbench_, move, "Bo"));
  const auto last = workbench_->store()
                        .look([&](store::Book& book) { return book.history(job_).back(); })
                        .value();
  EXPECT_NE(last.detail.find("without an inspection that passed: seen by the lead"),
            std::string::npos);
}

TEST_F(Installation, AClaimIsDecidedAndItsPieceRecut) {
  ASSERT_TRUE(lay(report("event-01", "hood")));
  ASSERT_TRUE(lay(report("event-02", "roof")));
  ASSERT_TRUE(inspect(true));
  ASSERT_TRUE(hand_over());
  EXPECT_EQ(lay(report("event-04", "hood")).error().code, ErrorCode::conflict);
  shop::Claim claim;
  claim.piece = 1;
  claim.what = "edge lifts at the front";
  claim.reported_by = "A. Nobody";
  claim.who = "desk";
  const auto opened = open_claim(*workbench_, claim);
  ASSERT_TRUE(opened) << opened.error().message();
  ASSERT_TRUE(rule_claim(*workbench_,
                         {opened->id, shop::Ruling::warranty, "glue let go", true, "lead", ""}));
  PieceLaid recut = report("event-05", "hood");
  recut.replaces = 1;
  recut.reason = opened->id;
  ASSERT_TRUE(lay(recut));
  EXPECT_EQ(state(), JobState::handed_over);
  // What came off is claimed no more.
  EXPECT_EQ(open_claim(*workbench_, claim).error().code, ErrorCode::conflict);
  claim.piece = 99;
  EXPECT_EQ(open_claim(*workbench_, claim).error().code, ErrorCode::not_found);
  const auto second = issue_certificate(*workbench_, job_, "lead");
  ASSERT_TRUE(second);
  EXPECT_EQ(second->id, "W-0002");
}

TEST_F(Installation, PhotosAreTakenByWhatTheirBytesSay) {
  shop::Photo photo;
  photo.job = job_;
  photo.about = "survey";
  photo.who = "Ada";
  EXPECT_EQ(keep_photo(*workbench_, photo, "GIF89a").error().code, ErrorCode::unsupported);
  const auto kept = keep_photo(*workbench_, photo, "\xFF\xD8\xFF\xE0 and more");
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->type, "image/jpeg");
  EXPECT_EQ(read_photo(*workbench_, kept->hash).value(), "\xFF\xD8\xFF\xE0 and more");
  EXPECT_EQ(read_photo(*workbench_, "00").error().code, ErrorCode::not_found);
}

}  // namespace
}  // namespace film::workbench
