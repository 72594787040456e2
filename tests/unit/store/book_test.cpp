// What every store must do; each kind of store runs the same tests.

#include "store/book.h"

#include <gtest/gtest.h>

#include "unit/store/book_of.h"
#include "unit/store/example_book.h"

namespace film::store {
namespace {

TEST_P(BookOf, ANewBookHoldsNothing) {
  EXPECT_FALSE(look([](Book& book) { return book.settings(); }));
  EXPECT_TRUE(look([](Book& book) { return book.jobs(); }).empty());
  EXPECT_TRUE(look([](Book& book) { return book.vehicles(); }).empty());
}

TEST_P(BookOf, RecordsComeBackAsTheyWerePut) {
  fill(*store_);
  EXPECT_EQ(look([](Book& book) { return book.film("clear"); }), example_film());
  EXPECT_EQ(look([](Book& book) { return book.roll("R-1"); }), example_roll());
  EXPECT_EQ(look([](Book& book) { return book.vehicle("wagon", 0); }), example_vehicle());
  EXPECT_EQ(look([](Book& book) { return book.settings()->name; }), "Example shop");
  EXPECT_FALSE(look([](Book& book) { return book.film("none"); }));
  EXPECT_FALSE(look([](Book& book) { return book.vehicle("wagon", 2); }));
}

TEST_P(BookOf, PuttingAgainReplaces) {
  fill(*store_);
  shop::Film film = example_film();
  film.name = "Renamed";
  film.suits = {shop::Finish::glass};
  ASSERT_TRUE(store_->change([&film](Book& book) { book.put(film); }));
  EXPECT_EQ(look([](Book& book) { return book.films(); }), std::vector{film});
}

TEST_P(BookOf, TextIsKeptAsItIs) {
  fill(*store_);
  shop::Film film = example_film();
  film.name = "'); DROP TABLE films; -- \" :name % \xC3\xA9";
  ASSERT_TRUE(store_->change([&film](Book& book) { book.put(film); }));
  EXPECT_EQ(look([](Book& book) { return book.film("clear"); })->name, film.name);
}

TEST_P(BookOf, VersionsOfAVehicleAreKept) {
  fill(*store_);
  shop::VehicleModel second = example_vehicle(2);
  second.panels.pop_back();
  ASSERT_TRUE(store_->change([&](Book& book) { return book.add(second); }));
  const auto again = store_->change([&](Book& book) { return book.add(second); });
  ASSERT_FALSE(again);
  EXPECT_EQ(again.error().code, ErrorCode::conflict);
  EXPECT_EQ(look([](Book& book) { return book.vehicle("wagon", 1); }), example_vehicle(1));
  EXPECT_EQ(look([](Book& book) { return book.vehicle("wagon", 0); }), second);
  const auto lines = look([](Book& book) { return book.vehicles(); });
  EXPECT_EQ(lines, (std::vector<VehicleLine>{{"wagon", "Example wagon", 2, 1}}));
}

TEST_P(BookOf, JobsGetNumbersAndTheNewestLeads) {
  const std::string first = fill(*store_);
  const shop::Job second =
      store_->change([](Book& book) { return book.add(example_job()); }).value();
  EXPECT_EQ(first, "J-0001");
  EXPECT_EQ(second.id, "J-0002");
  const auto jobs = look([](Book& book) { return book.jobs(); });
  ASSERT_EQ(jobs.size(), 2u);
  EXPECT_EQ(jobs[0], second);
  EXPECT_EQ(jobs[1].id, first);
}

TEST_P(BookOf, JobsAreListedAPageAtATime) {
  fill(*store_);
  ASSERT_TRUE(store_->change([](Book& book) {
    for (int i = 2; i <= 130; ++i) {
      shop::Job job = example_job();
      job.title = "Job of the day " + std::to_string(i);
      if (i % 2 == 0) job.state = shop::JobState::handed_over;
      book.add(job);
    }
  }));
  const auto listed = [this](const JobQuery& query) {
    std::vector<std::string> ids;
    for (const shop::Job& job : look([&](Book& book) { return book.jobs(query); })) {
      EXPECT_EQ(job.scope, example_job().scope) << job.id;
      ids.push_back(job.id);
    }
    return ids;
  };
  EXPECT_EQ(listed({"", {}, "", 2}), (std::vector<std::string>{"J-0130", "J-0129"}));
  EXPECT_EQ(listed({"", {}, "J-0129", 2}), (std::vector<std::string>{"J-0128", "J-0127"}));
  EXPECT_EQ(listed({"", {}, "", 1000}).size(), 130u);
  EXPECT_EQ(listed({"", {shop::JobState::handed_over}, "J-0005", 9}),
            (std::vector<std::string>{"J-0004", "J-0002"}));
  EXPECT_EQ(listed({"of the DAY 13", {}, "", 9}), (std::vector<std::string>{"J-0130", "J-0013"}));
  EXPECT_EQ(listed({"day 1%", {}, "", 9}).size(), 0u);
  EXPECT_EQ(listed({"J-0001", {}, "", 9}), std::vector<std::string>{"J-0001"});
}

TEST_P(BookOf, AStaleChangeIsRefusedAndChangesNothing) {
  fill(*store_);
  shop::Job mine = *look([](Book& book) { return book.job("J-0001"); });
  shop::Job theirs = mine;
  theirs.title = "Theirs";
  ++theirs.revision;
  ASSERT_TRUE(store_->change([&](Book& book) { return book.update(theirs); }));
  mine.title = "Mine";
  ++mine.revision;
  const auto stale = store_->change([&](Book& book) { return book.update(mine); });
  ASSERT_FALSE(stale);
  EXPECT_EQ(stale.error().code, ErrorCode::conflict);
  EXPECT_EQ(look([](Book& book) { return book.job("J-0001"); }), theirs);
}

TEST_P(BookOf, AFailedChangeLeavesNothingBehind) {
  fill(*store_);
  const auto refused = store_->change([](Book& book) -> Result<void> {
    book.put(example_film("other"));
    book.append("J-0001", {"2031-05-04T10:00:00Z", "me", "tried", ""});
    return fail(ErrorCode::invalid_input, "no");
  });
  EXPECT_FALSE(refused);
  EXPECT_THROW((void)store_->change([](Book& book) {
    book.put(example_film("third"));
    throw std::runtime_error("a defect");
  }),
               std::runtime_error);
  EXPECT_EQ(look([](Book& book) { return book.films(); }).size(), 1u);
  EXPECT_TRUE(look([](Book& book) { return book.history("J-0001"); }).empty());
}

TEST_P(BookOf, ARecordThatNamesAMissingOneIsRefused) {
  fill(*store_);
  EXPECT_FALSE(store_->change(
      [](Book& book) { (void)book.receive(example_roll("R-2", "no such film"), "", ""); }));
  EXPECT_FALSE(store_->change([](Book& book) {
    shop::Job job = example_job();
    job.vehicle = "no such vehicle";
    book.add(job);
  }));
  EXPECT_EQ(look([](Book& book) { return book.rolls(); }).size(), 1u);
  EXPECT_TRUE(store_->check_integrity());
}

TEST_P(BookOf, FilmIsTakenFromARollUntilNothingIsLeft) {
  fill(*store_);
  const auto take = [this](double mm) {
    return store_->change([mm](Book& book) -> Result<shop::Roll> {
      shop::StockLine line;
      line.roll = "R-1";
      line.verb = shop::StockVerb::cut;
      line.change = Mm{-mm};
      line.job = "J-0001";
      line.who = "ben";
      line.at = "2031-05-04T10:00:00Z";
      return book.enter(line);
    });
  };
  ASSERT_TRUE(take(10000));
  EXPECT_EQ(look([](Book& book) { return book.roll("R-1"); })->remaining, Mm{5240});
  const auto too_much = take(5240.5);
  ASSERT_FALSE(too_much);
  EXPECT_EQ(too_much.error().code, ErrorCode::conflict);
  ASSERT_TRUE(take(5240));
  EXPECT_EQ(look([](Book& book) { return book.roll("R-1"); })->remaining, Mm{0});
  const auto ledger = look([](Book& book) { return book.ledger("R-1"); });
  ASSERT_EQ(ledger.size(), 3u);
  EXPECT_EQ(ledger[0].verb, shop::StockVerb::received);
  EXPECT_EQ(ledger[1].who, "ben");
  EXPECT_EQ(shop::sum_of(ledger), Mm{0});
}

TEST_P(BookOf, ARollUsedBeforeComesInWithWhatIsLeft) {
  fill(*store_);
  shop::Roll used = example_roll("");
  used.remaining = Mm{4000.25};
  used.defects = {{Mm{100}, Mm{50}, Mm{0}, Mm{20.5}, "dent"}};
  const auto roll =
      store_->change([&](Book& book) { return book.receive(used, "ann", "2031-05-05T08:00:00Z"); });
  ASSERT_TRUE(roll) << roll.error().message();
  EXPECT_EQ(roll->id, "R-0002");
  EXPECT_EQ(look([](Book& book) { return book.roll("R-0002"); }), *roll);
  EXPECT_EQ(shop::sum_of(look([](Book& book) { return book.ledger("R-0002"); })), Mm{4000.25});
  const auto twice = store_->change([&](Book& book) { return book.receive(*roll, "", ""); });
  ASSERT_FALSE(twice);
  EXPECT_EQ(twice.error().code, ErrorCode::conflict);
}

TEST_P(BookOf, AnOffcutIsOnTheShelfUntilItIsUsed) {
  fill(*store_);
  shop::Offcut offcut{
      "",    "clear", "L7",         {{{0, 0}, {600.5, 0}, {600.5, 200}, {0, 300}}, {}},
      "R-1", "",      "2031-05-05", "shelf 2"};
  const auto kept =
      store_->change([&](Book& book) { return book.add(offcut, "ann", "2031-05-05T08:00:00Z"); });
  ASSERT_TRUE(kept) << kept.error().message();
  EXPECT_EQ(kept->id, "O-0001");
  EXPECT_EQ(look([](Book& book) { return book.offcuts(); }), std::vector{*kept});
  EXPECT_EQ(look([](Book& book) { return book.rolls(); }).size(), 1u);  // it is no roll
  EXPECT_EQ(look([](Book& book) { return book.roll("O-0001"); })->length, Mm{600.5});
  ASSERT_TRUE(store_->change(
      [](Book& book) { return book.enter(*shop::cut(*book.roll("O-0001"), Mm{400}, "J-0001")); }));
  EXPECT_TRUE(look([](Book& book) { return book.offcuts(); }).empty());
  EXPECT_TRUE(look([](Book& book) { return book.offcut("O-0001"); })->gone);
}

TEST_P(BookOf, SuppliesAndRecutsAreKept) {
  fill(*store_);
  shop::Supply supply{"clear", Mm{1524}, Mm{5000}, Mm{15000}, 10, 310.5, 290, 900, 87.5};
  shop::Recut recut;
  recut.job = "J-0001";
  recut.piece = "hood";
  recut.film = "clear";
  recut.stock = "R-1";
  recut.lot = "LOT 7/R-1";
  recut.reason = shop::RecutReason::dirt;
  recut.note = "a hair";
  recut.used = Mm{812.5};
  recut.area = 1.2e6;
  recut.who = "ben";
  recut.at = "2031-05-05T08:00:00Z";
  ASSERT_TRUE(store_->change([&](Book& book) {
    book.put(supply);
    supply.minimum = Mm{6000};
    book.put(supply);
    recut.sheet = book.put_blob("sheet");
    recut.plot = book.put_blob("plot");
    recut = book.add(recut);
  }));
  EXPECT_EQ(recut.id, "X-0001");
  EXPECT_EQ(look([](Book& book) { return book.supplies(); }), std::vector{supply});
  EXPECT_EQ(look([](Book& book) { return book.recuts(""); }), std::vector{recut});
  EXPECT_EQ(look([](Book& book) { return book.recuts("J-0001"); }), std::vector{recut});
  EXPECT_EQ(look([](Book& book) { return book.recut("X-0001"); }), recut);
}

TEST_P(BookOf, ANewLayoutTakesItsCutWithIt) {
  fill(*store_);
  shop::Film other = example_film("other");
  shop::KeptLayout layout{"J-0001",
                          "clear",
                          "R-1",
                          Mm{1524},
                          Mm{5000.5},
                          Mm{5},
                          6.5e6,
                          ~0ull,
                          12,
                          3.25,
                          "2031-05-04T10:00:00Z",
                          "",
                          "",
                          ""};
  shop::KeptCut cut{"J-0001", "clear", "R-1", "", "plotter", 1000, 200, Seconds{9.5}, "x", "", ""};
  ASSERT_TRUE(store_->change([&](Book& book) {
    layout.problem = book.put_blob("problem");
    layout.sheet = book.put_blob("sheet");
    layout.pieces = book.put_blob("pieces");
    cut.sheet = layout.sheet;
    cut.path = book.put_blob("path");
    cut.plot = book.put_blob("plot");
    shop::KnifeProfile profile;
    profile.id = "plotter";
    profile.settings.name = "Plotter";
    book.put(profile);
    book.put(layout);
    book.put(cut);
  }));
  EXPECT_EQ(look([](Book& book) { return book.layouts("J-0001"); }), std::vector{layout});
  EXPECT_EQ(look([](Book& book) { return book.cuts("J-0001"); }), std::vector{cut});
  ASSERT_TRUE(store_->change([&](Book& book) { book.put(layout); }));
  EXPECT_TRUE(look([](Book& book) { return book.cuts("J-0001"); }).empty());
  // The film's other roll keeps its own.
  shop::KeptLayout second = layout;
  second.roll = "R-2";
  second.piece_area = 1e6;
  ASSERT_TRUE(store_->change([&](Book& book) {
    (void)book.receive(example_roll("R-2"), "", "");
    book.put(second);
    book.put(cut);
    book.put(second);
  }));
  EXPECT_EQ(look([](Book& book) { return book.layouts("J-0001"); }), (std::vector{layout, second}));
  EXPECT_EQ(look([](Book& book) { return book.cuts("J-0001"); }), std::vector{cut});
  ASSERT_TRUE(store_->change([](Book& book) { book.drop_layouts("J-0001", "clear"); }));
  EXPECT_TRUE(look([](Book& book) { return book.layouts("J-0001"); }).empty());
  ASSERT_TRUE(store_->change([&](Book& book) { book.put(layout); }));
  ASSERT_TRUE(store_->change([](Book& book) { book.drop_work("J-0001"); }));
  EXPECT_TRUE(look([](Book& book) { return book.layouts("J-0001"); }).empty());
}

TEST_P(BookOf, HistoryIsInOrder) {
  fill(*store_);
  const std::vector<shop::HistoryEntry> entries{{"t1", "me", "opened", "2 panels"},
                                                {"t2", "you", "moved", ""}};
  for (const auto& entry : entries) {
    ASSERT_TRUE(store_->change([&](Book& book) { book.append("J-0001", entry); }));
  }
  EXPECT_EQ(look([](Book& book) { return book.history("J-0001"); }), entries);
}

TEST_P(BookOf, BlobsOfAnyBytesAreKeptOnce) {
  std::string bytes;
  for (int i = 0; i < 70000; ++i) bytes += static_cast<char>(i * 7 % 256);
  const auto put = [&](Book& book) { return book.put_blob(bytes); };
  const std::string hash = store_->change(put).value();
  EXPECT_EQ(store_->change(put).value(), hash);
  EXPECT_EQ(look([&](Book& book) { return book.blob(hash).value(); }), bytes);
  const std::string nothing = store_->change([](Book& book) { return book.put_blob(""); }).value();
  EXPECT_EQ(look([&](Book& book) { return book.blob(nothing).value(); }), "");
  EXPECT_EQ(store_->look([](Book& book) { return book.blob("00"); }).error().code,
            ErrorCode::not_found);
}

TEST_P(BookOf, ComputedResultsAreFoundByTheirKey) {
  EXPECT_FALSE(look([](Book& book) { return book.computed("k"); }));
  ASSERT_TRUE(store_->change([](Book& book) { book.put_computed("k", "one"); }));
  ASSERT_TRUE(store_->change([](Book& book) { book.put_computed("k", "two"); }));
  EXPECT_EQ(look([](Book& book) { return book.computed("k"); }), "two");
}

INSTANTIATE_TEST_SUITE_P(Each, BookOf, kinds_of_book(),
                         [](const auto& each) { return each.param.name; });

}  // namespace
}  // namespace film::store
