// Putting right: which look is meant, what follows from it, and what goes with a sowing's change.
#include "bench/amending.hpp"

#include <doctest/doctest.h>

#include "bench/ending.hpp"
#include "bench/jars.hpp"
#include "bench/trials.hpp"
#include "logbook/keeping.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

records::Sowing open(Keeping& keeping, const char* label) {
  return logbook::sowing_named(keeping.book, label);
}

bench::CountAmended amend(Keeping& keeping, const char* label, std::optional<records::Moment> on,
                          std::int64_t value) {
  return keeping.command("amend", [&](logbook::Entry& entry) {
    return bench::amend_count(entry, open(keeping, label), on, records::Entered{.value = value});
  });
}

}  // namespace

TEST_SUITE("amending") {
  TEST_CASE("the look that is meant, and the totals that follow") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    CHECK(said([&] { amend(keeping, "K3", {}, 4); }) == "K3 has not been counted yet.");
    keeping.count("K3=4", "2026-04-10T08:00");
    keeping.count("K3=5", "2026-04-10T17:00");
    keeping.count("K3+3", "2026-04-12");
    CHECK(said([&] { amend(keeping, "K3", at("2026-04-10"), 4); }) ==
          "K3 has several looks on that day: 2026-04-10T08:00 and 2026-04-10T17:00. Give its time "
          "too.");
    CHECK(said([&] { amend(keeping, "K3", at("2026-04-11"), 4); }) ==
          "K3 has no count of Sat 11 Apr. Its last looks: Fri 10 Apr 08:00, Fri 10 Apr 17:00 and "
          "Sun 12 Apr.");
    const bench::CountAmended amended = amend(keeping, "K3", at("2026-04-10T17:00"), 7);
    CHECK(amended.was.entered.value == 5);
    REQUIRE(amended.moved.size() == 1);
    CHECK(amended.moved[0].total == 10);
    CHECK(amended.moved[0].was == 8);
    CHECK(amend(keeping, "K3", {}, 12).was.total == 10);  // the last one
  }

  TEST_CASE("what is kept aside is settled by its name") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    keeping.count("K3=4", "2026-04-10", "ada");
    keeping.count("K3=6", "2026-04-10", "ben");
    const auto settle = [&](const char* aside, bool keep) {
      return keeping.command("amend", [&](logbook::Entry& entry) {
        return bench::settle(entry, open(keeping, "K3"), aside, keep);
      });
    };
    for (const char* none : {"r9", "d1", "r", "", "r1x", "1"})
      CHECK(advised([&] { settle(none, true); }) == Advised{records::Advice::show_aside});
    CHECK(settle("r1", true).count.entered.value == 6);
    CHECK(logbook::counts_of(keeping.book, open(keeping, "K3").id)[0].total == 6);
  }

  TEST_CASE("another trial has other blocks, another treatment another jar") {
    Keeping keeping;
    keeping.command("set up", [&](logbook::Entry& entry) {
      for (const char* code : {"ONE", "TWO"}) {
        records::Trial trial;
        trial.code = code;
        logbook::add_trial(entry, trial);
      }
      records::Treatment soak;
      soak.label = "soak";
      soak.soak_hours = 8;
      logbook::add_treatment(entry, soak);
      records::Sowing sowing = tray("K3");
      sowing.trial = "ONE";
      sowing.block = "1";
      sowing.treatment = "soak";
      bench::put_in_jar(entry, "J1", sowing);
      logbook::add_sowing(entry, sowing);
    });
    const auto change = [&](const bench::SowingChange& wanted) {
      return keeping.command("amend", [&](logbook::Entry& entry) {
        return bench::amend_sowing(entry, open(keeping, "K3"), wanted);
      });
    };
    bench::SowingChange other{.fields = open(keeping, "K3"), .trial = "TWO"};
    CHECK(change(other).block.empty());
    bench::SowingChange plain{.fields = open(keeping, "K3"),
                              .treatment = records::Treatment{.label = "untreated"}};
    CHECK(change(plain).batch.empty());
    CHECK(said([&] { change({.fields = open(keeping, "K3"), .jar = "J1"}); }) ==
          "Jar J1 holds seed of soak, not of untreated. Give this jar another name.");
    CHECK(change({.fields = open(keeping, "K3"), .trial = ""}).trial.empty());
  }

  TEST_CASE("a trial's plan: looks up to its last day, from its first sowing that is open") {
    Keeping keeping;
    records::Sowing sowing = tray("K3");
    sowing.trial = "ONE";
    keeping.command("set up", [&](logbook::Entry& entry) {
      records::Trial trial;
      trial.code = "ONE";
      logbook::add_trial(entry, trial);
      logbook::add_sowing(entry, sowing);
    });
    const auto plan = [&](const bench::TrialPlan& wanted) {
      return keeping.command(
          "amend", [&](logbook::Entry& entry) { return bench::amend_plan(entry, "ONE", wanted); });
    };
    CHECK(said([&] { plan({.every = 4}); }) ==
          "Looks are planned up to a last day, which comes after the sowing: give that too.");
    const auto amended = plan({.until = day("2026-04-15"), .every = 4});
    CHECK(amended.after.inspections ==
          std::vector<records::Date>{day("2026-04-07"), day("2026-04-11"), day("2026-04-15")});
  }

  TEST_CASE("ending a trial is about its open sowings, and forgotten looks are found") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    keeping.sow(tray("K4"));
    keeping.count("K3=4", "2026-04-10");
    keeping.count("K4=4", "2026-04-12");
    CHECK(bench::sowings_to_end(keeping.book, "K3").size() == 1);
    const auto open_ones = logbook::open_sowings(keeping.book);
    const records::Ending ending{records::EndingKind::finished, at("2026-04-12"), {}};
    const auto forgotten = bench::not_looked_at(keeping.book, open_ones, ending);
    REQUIRE(forgotten.size() == 1);
    CHECK(forgotten[0].label == "K3");
    CHECK(bench::not_looked_at(keeping.book, open_ones,
                               {records::EndingKind::accident, at("2026-04-12"), "eaten"})
              .empty());
    CHECK(said([&] { bench::sowings_to_end(keeping.book, "untreated"); }) ==
          "untreated is no sowing and no trial: only those end.");
  }
}
