// Counts as they are kept: entered, repeated, corrected, kept aside.
#include "logbook/record/counts.hpp"
#include "logbook/record/aside.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
using plumule::records::Advice;
namespace records = plumule::records;

namespace {

Keeping with_k3() {
  Keeping keeping;
  keeping.sow(tray("K3"));
  return keeping;
}

std::string saying(Keeping& keeping, const std::string& typed, const char* on,
                   const std::string& who = "") {
  const std::string before = all_of(keeping.book);
  std::string sentence = said([&] { keeping.count(typed, on, who); });
  // A refusal leaves nothing behind, not even a line in the journal.
  CHECK(all_of(keeping.book) == before);
  return sentence;
}

}  // namespace

TEST_SUITE("counts") {
  TEST_CASE("a count is kept as it was entered, with the total that follows") {
    Keeping keeping = with_k3();
    CHECK(keeping.count("K3=3", "2026-04-08", "ben") == Kept::saved);
    CHECK(keeping.count("K3+4", "2026-04-09T07:30") == Kept::saved);
    CHECK(keeping.count("K3=6-1", "2026-04-10") == Kept::saved);
    CHECK(keeping.count("K3=9..12", "2026-04-11") == Kept::saved);
    CHECK(keeping.count("K3=same", "2026-04-12") == Kept::saved);
    const auto counts = counts_of(keeping.book, 1);
    REQUIRE(counts.size() == 5);
    CHECK(counts[0] == records::Count{at("2026-04-08"), {records::CountKind::total, 3}, "ben", 3});
    CHECK(counts[1] ==
          records::Count{at("2026-04-09T07:30"), {records::CountKind::newly, 4}, "", 7});
    CHECK(counts[2] ==
          records::Count{at("2026-04-10"), {records::CountKind::standing, 6, {}, 1}, "", 7});
    CHECK(counts[3] ==
          records::Count{at("2026-04-11"), {records::CountKind::total, 9, 12}, "", 10});
    CHECK(counts[4] == records::Count{at("2026-04-12"), {records::CountKind::newly, 0}, "", 10});
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("counts before 1970 stand on their own days") {
    Keeping keeping;
    keeping.sow(tray("OLD", "1938-03-01"));
    CHECK(keeping.count("OLD=0", "1938-03-01") == Kept::saved);
    CHECK(keeping.count("OLD=5", "1938-03-02T00:00") == Kept::saved);
    CHECK(saying(keeping, "OLD=0", "1938-02-28").rfind("OLD was sown on 1938-03-01", 0) == 0);
    keeping.end("OLD", records::EndingKind::finished, "1938-03-04");
    CHECK(check(keeping.book).empty());
    CHECK(keeping.number(
              "select count(*) from daily_counts where counted_on = '1938-03-02' and "
              "counted_time = '00:00' and newly_emerged = 5 and days_since_sowing = 0.5") == 1);
  }

  TEST_CASE("a correction of a total leaves later totals alone, one of a new count moves them") {
    Keeping keeping = with_k3();
    keeping.count("K3=3", "2026-04-08");
    keeping.count("K3+4", "2026-04-09");
    keeping.count("K3=9", "2026-04-10");
    keeping.count("K3+1", "2026-04-11");
    CHECK(keeping.totals("K3") == Totals{3, 7, 9, 10});
    keeping.amend("K3=5", "2026-04-08");
    CHECK(keeping.totals("K3") == Totals{5, 9, 9, 10});
    CHECK(said([&] { keeping.amend("K3=8", "2026-04-10"); }) ==
          "K3: 9 stood on Thursday, 8 on Friday.");
    CHECK(advised([&] { keeping.amend("K3=8", "2026-04-10"); }) ==
          Advised{Advice::some_died, Advice::amend_look});
    keeping.amend("K3+2", "2026-04-09");
    CHECK(keeping.totals("K3") == Totals{5, 7, 9, 10});
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a late entry goes to its place") {
    Keeping keeping = with_k3();
    keeping.count("K3=3", "2026-04-08");
    keeping.count("K3+4", "2026-04-12");
    keeping.count("K3+1", "2026-04-13");
    keeping.count("K3+2", "2026-04-10");
    CHECK(keeping.totals("K3") == Totals{3, 5, 9, 10});
    keeping.count("K3=10", "2026-04-14");
    CHECK(saying(keeping, "K3=8", "2026-04-11") ==
          "K3: with 8 up in all on Saturday there were 13 ever up, but 10 on Tue 14 Apr.");
  }

  TEST_CASE("the same figure again is nothing new, nor is `same` where a figure stands") {
    Keeping keeping = with_k3();
    keeping.count("K3=3", "2026-04-08", "ben");
    const std::string before = all_of(keeping.book);
    CHECK(keeping.count("K3=3", "2026-04-08", "ben") == Kept::nothing_new);
    CHECK(keeping.count("K3=3", "2026-04-08", "cy") == Kept::nothing_new);
    CHECK(keeping.count("K3=3", "2026-04-08T12:00") == Kept::nothing_new);
    CHECK(keeping.count("K3=same", "2026-04-08") == Kept::nothing_new);
    CHECK(all_of(keeping.book) == before);
  }

  TEST_CASE("another figure of the same counter is refused towards amend") {
    Keeping keeping = with_k3();
    keeping.count("K3=3", "2026-04-08", "ben");
    CHECK(saying(keeping, "K3=5", "2026-04-08", "ben") ==
          "K3: 3 up in all is written down for Wed 8 Apr 2026 by ben, not 5 up in all.");
    CHECK(saying(keeping, "K3=5", "2026-04-08").rfind("K3: 3 up in all is written down", 0) == 0);
    keeping.count("K3=6", "2026-05-01T08:15");
    CHECK(saying(keeping, "K3+3", "2026-05-01T08:15") ==
          "K3: 6 up in all is written down for today at 08:15, not 3 new.");
    CHECK(keeping.count("K3=8", "2026-05-01T17:00") == Kept::saved);
  }

  TEST_CASE("another person's figure is a second reading, in no figure until it is settled") {
    Keeping keeping = with_k3();
    keeping.count("K3=3", "2026-04-08", "ben");
    keeping.count("K3=9", "2026-04-10", "ben");
    CHECK(keeping.count("K3=5", "2026-04-08", "cy") == Kept::second_reading);
    CHECK(keeping.count("K3=5", "2026-04-08", "cy") == Kept::nothing_new);
    CHECK(keeping.totals("K3") == Totals{3, 9});
    auto readings = second_readings_of(keeping.book, 1);
    REQUIRE(readings.size() == 1);
    CHECK(readings[0].count.entered.value == 5);
    CHECK(readings[0].count.by == "cy");
    keeping.command("amend", [&](Entry& entry) {
      settle_second_reading(entry, readings[0].id, Settled::kept);
    });
    CHECK(keeping.totals("K3") == Totals{5, 9});
    CHECK(counts_of(keeping.book, 1)[0].by == "cy");
    CHECK(second_readings_of(keeping.book, 1).empty());
    CHECK(said([&] {
            keeping.command("amend", [&](Entry& entry) {
              settle_second_reading(entry, readings[0].id, Settled::kept);
            });
          }) == "There is no such reading left to settle.");
    CHECK(check(keeping.book).empty());
    undo(keeping.book, "ada");
    CHECK(keeping.totals("K3") == Totals{3, 9});
    CHECK(second_readings_of(keeping.book, 1).size() == 1);
    keeping.command("amend", [&](Entry& entry) {
      settle_second_reading(entry, readings[0].id, Settled::dropped);
    });
    CHECK(second_readings_of(keeping.book, 1).empty());
    CHECK(keeping.totals("K3") == Totals{3, 9});
  }

  TEST_CASE("a second reading that cannot be of any look is refused like a first count") {
    Keeping keeping = with_k3();
    keeping.count("K3=9", "2026-04-08", "ben");
    keeping.count("K3=9", "2026-04-10", "ben");
    CHECK(said([&] { keeping.count("K3=9999", "2026-04-10", "cy"); }).rfind("K3: ", 0) == 0);
    CHECK(second_readings_of(keeping.book, 1).empty());
    // What it says was lost stood at an earlier look.
    CHECK(keeping.count("K3=8-1", "2026-04-08", "cy") == Kept::second_reading);
    // Fewer than another person saw the day before is theirs to settle.
    CHECK(keeping.count("K3=7", "2026-04-10", "cy") == Kept::second_reading);
  }

  TEST_CASE("what was seen but cannot be is kept as doubtful until it is settled") {
    Keeping keeping = with_k3();
    keeping.count("K3=14", "2026-04-10");
    const records::Count seen{at("2026-04-14"), {records::CountKind::total, 12}, "cy", 0};
    const auto keep = [&] {
      return keeping.command("count", [&](Entry& entry) {
        return keep_doubtful(entry, sowing_named(keeping.book, "K3"), seen, "fewer than before");
      });
    };
    const records::Id id = keep();
    CHECK(keep() == id);
    CHECK(keeping.totals("K3") == Totals{14});
    CHECK(check(keeping.book).empty());
    const auto doubtful = doubtful_of(keeping.book, 1);
    REQUIRE(doubtful.size() == 1);
    CHECK(doubtful[0].why == "fewer than before");
    CHECK(doubtful[0].count.entered.value == 12);
    const auto settle = [&](Settled how) {
      keeping.command("amend", [&](Entry& entry) { settle_doubtful(entry, id, how); });
    };
    // Still against the rules: the earlier figure has to be put right first.
    CHECK(said([&] { settle(Settled::kept); }) == "K3: 14 stood on Friday, 12 on Tuesday.");
    CHECK(doubtful_of(keeping.book, 1).size() == 1);
    keeping.amend("K3=11", "2026-04-10");
    settle(Settled::kept);
    CHECK(keeping.totals("K3") == Totals{11, 12});
    CHECK(counts_of(keeping.book, 1)[1].by == "cy");
    CHECK(doubtful_of(keeping.book, 1).empty());
    undo(keeping.book, "ada");
    CHECK(keeping.totals("K3") == Totals{11});
    settle(Settled::dropped);
    CHECK(doubtful_of(keeping.book, 1).empty());
    CHECK(said([&] {
            keeping.command("count", [&](Entry& entry) {
              keep_doubtful(entry, sowing_named(keeping.book, "K3"),
                            {at("2026-05-02"), {records::CountKind::total, 30}, "", 0}, "");
            });
          }) == "K3: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
  }

  TEST_CASE("amending: the figure, out of the course, and what cannot be") {
    Keeping keeping = with_k3();
    keeping.count("K3=14", "2026-04-10", "ben");
    keeping.count("K3=15", "2026-04-12");
    keeping.amend("K3=12", "2026-04-10");
    CHECK(keeping.totals("K3") == Totals{12, 15});
    CHECK(counts_of(keeping.book, 1)[0].by == "ben");
    auto corrections = corrections_of(keeping.book, 1);
    REQUIRE(corrections.size() == 1);
    CHECK(corrections[0].by == "ada");
    CHECK(corrections[0].before == "Fri 10 Apr: 14 up in all");
    CHECK(corrections[0].after == "Fri 10 Apr: 12 up in all");
    CHECK(said([&] { keeping.amend("K3=16", "2026-04-10"); }) ==
          "K3: with 16 up in all on Friday there were 16 ever up, but 15 on Sun 12 Apr.");
    keeping.amend("K3", "2026-04-12");
    CHECK(keeping.totals("K3") == Totals{12});
    corrections = corrections_of(keeping.book, 1);
    REQUIRE(corrections.size() == 2);
    CHECK(corrections[1].after == "taken out");
    CHECK(said([&] { keeping.amend("K3=3", "2026-04-12"); }) ==
          "K3 has no count of 2026-04-12 to amend. The last ones are of 2026-04-10.");
    keeping.amend("K3", "2026-04-10");
    CHECK(said([&] { keeping.amend("K3=3", "2026-04-12"); }) ==
          "K3 has no count of 2026-04-12 to amend. It has none yet.");
    CHECK(check(keeping.book).empty());
    undo(keeping.book, "ada");
    undo(keeping.book, "ada");
    CHECK(corrections_of(keeping.book, 1).size() == 1);
    const std::string before = all_of(keeping.book);
    keeping.amend("K3=12", "2026-04-10");  // as it stands
    CHECK(all_of(keeping.book) == before);
  }

  TEST_CASE("refusals of the library come whole, and leave nothing") {
    Keeping keeping = with_k3();
    CHECK(saying(keeping, "K3=1", "2026-05-02", "newcomer") ==
          "K3: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(saying(keeping, "K3=21", "2026-05-01", "newcomer") == "K3: 20 sown, 21 up now.");
    keeping.count("K3=14", "2026-04-10");
    CHECK(saying(keeping, "K3=12", "2026-05-01", "newcomer") ==
          "K3: 14 stood on Fri 10 Apr, 12 now.");
    CHECK(saying(keeping, "K3=15", "2026-05-01", std::string(65, 'n')) ==
          "The name of who counted is too long: 64 characters at most.");
    keeping.end("K3", records::EndingKind::finished, "2026-04-20");
    CHECK(saying(keeping, "K3=15", "2026-04-21") ==
          "K3@2026-04-03 ended on 2026-04-20, before 2026-04-21.");
    CHECK(keeping.count("K3=15", "2026-04-19") == Kept::saved);
  }

  TEST_CASE("no more up than were sown and not found in the ground") {
    Keeping keeping = with_k3();
    keeping.count("K3=14", "2026-04-10");
    keeping.command("assess", [&](Entry& entry) {
      records::Assessment rotted;
      rotted.on = day("2026-04-12");
      rotted.outcome = records::Outcome::rotted;
      rotted.units = 4;
      add_assessment(entry, 1, rotted);
    });
    CHECK(keeping.count("K3=16", "2026-04-14") == Kept::saved);
    CHECK(saying(keeping, "K3=17", "2026-04-15") ==
          "K3: 20 sown, 4 of them found not to have come up, and 17 up makes more than was sown.");
  }
}
