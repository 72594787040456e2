#include "spool/sender.h"

#include <gtest/gtest.h>

namespace film::spool {
namespace {

cutting::CutProgram three_parts() {
  cutting::CutProgram program;
  program.opening = "IN;SP1;\n";
  for (std::size_t k = 0; k < 3; ++k) {
    const int x = 100 * static_cast<int>(k + 1);
    program.parts.push_back({k, "PU0,0;\nPD" + std::to_string(x) + ",0;\n", {x, 0}, 10});
  }
  program.closing = "PU;\nSP0;\n";
  return program;
}

/// Does what the sender asks until it waits or has ended, and keeps what it said.
struct Listener {
  Sender& sender;
  std::string sent = {};
  std::vector<Entry> noted = {};
  double now = 0;

  Need go() {
    for (;;) {
      const Need need = sender.need(now);
      if (need.what == Need::What::note) {
        noted.push_back(need.entry);
        sender.noted();
      } else if (need.what == Need::What::write) {
        const std::string bytes(need.bytes);
        sent += bytes;
        sender.wrote(bytes.size(), now);
      } else if (need.what == Need::What::drain) {
        sender.still_here(0, now);
      } else {
        return need;
      }
    }
  }
  std::string take() { return std::exchange(sent, {}); }
};

TEST(SenderTest, AContourIsBegunOnlyWhenTheOneBeforeIsAcknowledged) {
  Sender sender(three_parts(), "tcp:machine:1", {.answers = true});
  Listener machine{sender};
  EXPECT_EQ(machine.go().what, Need::What::wait);
  EXPECT_EQ(machine.take(), "\x1b.KPU;OS;\n");
  sender.heard("16\r", 0);
  EXPECT_EQ(machine.go().what, Need::What::wait);
  EXPECT_EQ(machine.take(), "IN;SP1;\nPU0,0;\nPD100,0;\nPU;\nOA;\n");
  ASSERT_EQ(machine.noted.size(), 2u);
  EXPECT_EQ(machine.noted[1], (Entry{Mark::begun, 0, {}}));
  sender.heard("100,0", 0);
  EXPECT_EQ(machine.go().what, Need::What::wait);  // the answer is not whole
  sender.heard(",0\r", 0);
  machine.go();
  EXPECT_EQ(machine.noted[2], (Entry{Mark::done, 0, {}}));
  EXPECT_EQ(machine.noted[3], (Entry{Mark::begun, 1, {}}));
}

TEST(SenderTest, AnAnswerFromElsewhereIsNoAcknowledgement) {
  Sender sender(three_parts(), "tcp:machine:1", {.answers = true, .patience = 5});
  Listener machine{sender};
  machine.go();
  sender.heard("16\r", 0);
  machine.go();
  sender.heard("0,0,0\r", 1);
  machine.now = 1;
  EXPECT_EQ(machine.go().what, Need::What::wait);
  machine.now = 1.5;
  machine.take();
  machine.go();
  EXPECT_EQ(machine.take(), "OA;\n");  // asked again
  EXPECT_EQ(machine.noted.size(), 2u);
  machine.now = 20;
  EXPECT_EQ(machine.go().what, Need::What::ended);
  EXPECT_EQ(machine.noted.back().mark, Mark::interrupted);
  EXPECT_NE(machine.noted.back().detail.find("(0, 0)"), std::string::npos);
}

TEST(SenderTest, AnswersToEarlierQuestionsAreNotTakenForThisOne) {
  Sender sender(three_parts(), "tcp:machine:1", {.answers = true});
  Listener machine{sender};
  sender.heard("16\r", 0);  // before anything was asked
  machine.go();
  sender.heard("100,0,0\r", 0);  // no status
  EXPECT_EQ(machine.go().what, Need::What::wait);
  EXPECT_EQ(machine.noted.size(), 1u);
}

TEST(SenderTest, SilenceEndsInAnInterruption) {
  Sender sender(three_parts(), "tcp:machine:1", {.answers = true, .patience = 5});
  Listener machine{sender};
  machine.go();
  machine.now = 6;
  EXPECT_EQ(machine.go().what, Need::What::ended);
  EXPECT_EQ(machine.noted.back(), (Entry{Mark::interrupted, 0, "the machine does not answer"}));
}

TEST(SenderTest, APauseWaitsForTheContourAndLiftsTheKnife) {
  Sender sender(three_parts(), "tcp:machine:1", {.answers = true});
  Listener machine{sender};
  machine.go();
  sender.heard("16\r", 0);
  machine.go();
  sender.pause();
  machine.take();
  EXPECT_EQ(machine.go().what, Need::What::wait);
  sender.heard("100,0,0\r", 0);
  EXPECT_EQ(machine.go().what, Need::What::ended);
  EXPECT_EQ(machine.take(), "PU;\n");
  EXPECT_EQ(machine.noted.back().mark, Mark::paused);
}

TEST(SenderTest, OfASilentMachineNothingIsKnownToBeCut) {
  Sender sender(three_parts(), "device:/dev/x", {});
  Listener machine{sender};
  EXPECT_EQ(machine.go().what, Need::What::ended);
  EXPECT_EQ(machine.take(), three_parts().bytes());
  EXPECT_EQ(machine.noted.back().mark, Mark::all_sent);
  for (const Entry& entry : machine.noted) EXPECT_NE(entry.mark, Mark::done);
}

TEST(SenderTest, WhatASilentMachineCannotHoldAnyMoreIsCut) {
  // A part is 17 bytes: when the third is sent, only the first has surely left a buffer of 30.
  Sender sender(three_parts(), "device:/dev/x", {.buffer_bytes = 30});
  Listener machine{sender};
  machine.go();
  std::vector<Entry> done;
  for (const Entry& entry : machine.noted) {
    if (entry.mark == Mark::done) done.push_back(entry);
  }
  EXPECT_EQ(done, (std::vector<Entry>{{Mark::done, 0, {}}}));
}

TEST(SenderTest, AMachineAskedForItsRoomGetsNoMoreThanThat) {
  Sender sender(three_parts(), "serial:/dev/x", {.answers = true, .asked_for_room = true});
  Listener machine{sender};
  machine.go();
  EXPECT_EQ(machine.take(), "\x1b.B");
  sender.heard("13\r", 0);  // 8 are spared
  machine.go();
  EXPECT_EQ(machine.take(), "\x1b.KPU\x1b.B");
  sender.heard("0\r", 0);
  EXPECT_EQ(machine.go().what, Need::What::wait);
  EXPECT_EQ(machine.take(), "");
  machine.now = 0.2;
  machine.go();
  EXPECT_EQ(machine.take(), "\x1b.B");
}

}  // namespace
}  // namespace film::spool
