// Lots with stock and storage, trials, treatments and batches: kept, changed, refused.
#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

template <class Act>
std::string doing(Keeping& keeping, const Act& act) {
  return said([&] { keeping.command("set up", act); });
}

}  // namespace

TEST_SUITE("lots, trials, treatments") {
  TEST_CASE("a lot comes back as given, with its parents, stock and storage") {
    Keeping keeping;
    keeping.lot("X2");
    records::Lot lot;
    lot.code = "X10";
    lot.crop = "bean";
    lot.variety = "Long Tom's";
    lot.source = "own garden";
    lot.parents = {{"x2", records::Descent::own_harvest}};
    lot.harvest_year = 2023;
    lot.packed_year = 2024;
    lot.label_germination = 0.85;
    lot.label_tested_on = day("2024-01-15");
    lot.coating = "film";
    lot.seed_treatment = "thiram";
    lot.seeds_per_gram = 2.9;
    lot.irreplaceable = true;
    keeping.command("lot", [&](Entry& entry) {
      add_lot(entry, lot);
      add_stock(entry, {0, "X10", day("2024-02-01"), 500, 172.4, "bought", {}});
      add_stock(entry, {0, "x10", day("2026-04-03"), -20, {}, "sown", {}});
      add_storage(entry, {0, "X10", day("2024-02-01"), 5.0, 0.4, {}, "fridge"});
    });
    const records::Lot found = lot_named(keeping.book, "x10");
    CHECK(found.code == "X10");
    CHECK(found.variety == lot.variety);
    REQUIRE(found.parents.size() == 1);
    CHECK(found.parents[0].lot == "X2");
    CHECK(found.parents[0].descent == records::Descent::own_harvest);
    CHECK(found.harvest_year == 2023);
    CHECK(found.packed_year == 2024);
    CHECK(found.label_germination == 0.85);
    CHECK(found.label_tested_on == lot.label_tested_on);
    CHECK(found.coating == "film");
    CHECK(found.seed_treatment == "thiram");
    CHECK(found.seeds_per_gram == 2.9);
    CHECK(found.irreplaceable);
    CHECK(lots(keeping.book)[0].code == "X2");
    const auto stock = stock_of(keeping.book, "X10");
    REQUIRE(stock.size() == 2);
    CHECK(stock[0].grams == 172.4);
    CHECK(stock[1].seeds == -20);
    CHECK(keeping.number("select seeds from lot_stock where lot = 'X10'") == 480);
    REQUIRE(storage_of(keeping.book, "X10").size() == 1);
    CHECK(storage_of(keeping.book, "X10")[0].place == "fridge");
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("refusals of lots") {
    Keeping keeping;
    keeping.lot("X7");
    keeping.lot("X8");
    records::Lot lot;
    lot.code = "x7";
    CHECK(doing(keeping, [&](Entry& entry) { add_lot(entry, lot); }) ==
          "There is a lot X7 already (bean).");
    lot.code = "X9";
    lot.parents = {{"X6", records::Descent::mix}};
    CHECK(doing(keeping, [&](Entry& entry) { add_lot(entry, lot); }) ==
          "There is no lot \"X6\". Near it: X7, X8.");
    lot.parents.clear();
    lot.label_tested_on = day("2026-05-02");
    CHECK(doing(keeping, [&](Entry& entry) { add_lot(entry, lot); }) ==
          "Lot X9: its label's test on Sat 2 May 2026 has not come yet.");
    CHECK(doing(keeping, [&](Entry& entry) {
            add_stock(entry, {0, "X7", day("2026-05-02"), 1, {}, "bought", {}});
          }) == "Lot X7: Sat 2 May 2026 has not come yet.");
    CHECK(doing(keeping, [&](Entry& entry) {
            add_storage(entry, {0, "X7", day("2026-05-02"), {}, {}, {}, "shed"});
          }) == "Lot X7: Sat 2 May 2026 has not come yet.");
    const auto shed = [&](Entry& entry) {
      add_storage(entry, {0, "X7", day("2026-04-02"), {}, {}, {}, "shed"});
    };
    CHECK(doing(keeping, shed) == "(not refused)");
    CHECK(doing(keeping, shed) ==
          "Lot X7: how it is kept from Thu 2 Apr 2026 on is written down already.");
    CHECK(lots(keeping.book).size() == 2);
  }

  TEST_CASE("a lot is changed, its parents too, and comes back by undo") {
    Keeping keeping;
    keeping.lot("X1");
    keeping.lot("X2");
    keeping.lot("X3");
    records::Lot lot = lot_named(keeping.book, "X3");
    lot.parents = {{"X1", records::Descent::split}, {"X2", records::Descent::mix}};
    const auto change = [&] {
      return doing(keeping, [&](Entry& entry) { change_lot(entry, lot); });
    };
    CHECK(change() == "(not refused)");
    const std::string before = record_of(keeping.book);
    lot.parents = {{"X2", records::Descent::split}};
    lot.variety = "Dun";
    lot.crop = "";
    CHECK(change() == "(not refused)");
    const records::Lot found = lot_named(keeping.book, "X3");
    REQUIRE(found.parents.size() == 1);
    CHECK(found.parents[0].descent == records::Descent::split);
    CHECK(found.crop.empty());
    CHECK(check(keeping.book).empty());
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
    lot.code = "x1";
    CHECK(change() == "There is a lot X1 already. Give this one another code.");
    lot = lot_named(keeping.book, "X1");
    lot.parents = {{"X3", records::Descent::split}};
    CHECK(change() == "Lot X1: X3 comes from it, so it cannot be its parent.");
  }

  TEST_CASE("trials: blocks and days come, stay and go") {
    Keeping keeping;
    records::Trial trial;
    trial.code = "beans26";
    trial.question = "Does soaking help?";
    trial.blocks = {"north", "south"};
    trial.inspections = {day("2026-04-10"), day("2026-04-12")};
    trial.closes_on = day("2026-04-30");
    trial.worth = 0.1;
    trial.blind = true;
    keeping.command("trial", [&](Entry& entry) { add_trial(entry, trial); });
    records::Trial found = trial_named(keeping.book, "BEANS26");
    CHECK(found.question == trial.question);
    CHECK(found.blocks == trial.blocks);
    CHECK(found.inspections == trial.inspections);
    CHECK(found.closes_on == trial.closes_on);
    CHECK(found.worth == 0.1);
    CHECK(found.blind);
    CHECK(doing(keeping, [&](Entry& entry) { add_trial(entry, trial); }) ==
          "There is a trial beans26 already. A new one needs another code, such as beans26-2.");
    records::Sowing sowing = tray("A1");
    sowing.trial = "beans26";
    sowing.block = "north";
    keeping.sow(sowing);
    const std::string before = record_of(keeping.book);
    found.blocks = {"west", "North"};
    found.inspections = {day("2026-04-12"), day("2026-04-14")};
    found.question = "";
    keeping.command("amend", [&](Entry& entry) { change_trial(entry, found); });
    CHECK(trial_named(keeping.book, "beans26").blocks == found.blocks);
    CHECK(trial_named(keeping.book, "beans26").inspections == found.inspections);
    CHECK(sowing_named(keeping.book, "A1").block == "North");
    CHECK(check(keeping.book).empty());
    found.blocks = {"west"};
    CHECK(doing(keeping, [&](Entry& entry) { change_trial(entry, found); }) ==
          "Trial beans26: block North holds A1, so it cannot go.");
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
    records::Trial other;
    other.code = "peas26";
    keeping.command("trial", [&](Entry& entry) { add_trial(entry, other); });
    other = trial_named(keeping.book, "peas26");
    other.code = "beans26";
    CHECK(doing(keeping, [&](Entry& entry) { change_trial(entry, other); }) ==
          "There is a trial beans26 already.");
    CHECK(said([&] { trial_named(keeping.book, "beens26"); }) ==
          "There is no trial \"beens26\". Near it: beans26, peas26.");
    CHECK(trials(keeping.book).size() == 2);
  }

  TEST_CASE("treatments and batches") {
    Keeping keeping;
    CHECK(treatment_named(keeping.book, "Untreated").id == 1);
    records::Treatment soak;
    soak.label = "soak8";
    soak.soak_hours = 8;
    soak.water_c = 20;
    soak.scarification = "nicked";
    soak.chill_days = 14;
    soak.chill_c = 4;
    soak.priming = "none";
    keeping.command("treat", [&](Entry& entry) { add_treatment(entry, soak); });
    records::Treatment found = treatment_named(keeping.book, "soak8");
    CHECK(found.soak_hours == 8);
    CHECK(found.water_c == 20);
    CHECK(found.scarification == "nicked");
    CHECK(found.chill_days == 14);
    CHECK(found.chill_c == 4);
    CHECK(found.priming == "none");
    CHECK(
        doing(keeping, [&](Entry& entry) { add_treatment(entry, soak); }) ==
        "There is a treatment soak8 already. What was done differently needs a label of its own.");
    found.soak_hours = 9;
    found.label = "soak9";
    keeping.command("amend", [&](Entry& entry) { change_treatment(entry, found); });
    CHECK(treatments(keeping.book).size() == 2);
    CHECK(treatments(keeping.book)[0].label == "untreated");
    CHECK(treatments(keeping.book)[1].soak_hours == 9);
    records::Treatment plain = treatment_named(keeping.book, "untreated");
    plain.label = "nothing";
    CHECK(doing(keeping, [&](Entry& entry) { change_treatment(entry, plain); }) ==
          "The treatment untreated keeps its name.");
    plain.label = "soak9";
    CHECK(doing(keeping, [&](Entry& entry) { change_treatment(entry, plain); }) ==
          "There is a treatment soak9 already.");
    const auto batch = [&](const char* code, const char* treatment, const char* made) {
      return doing(keeping, [&](Entry& entry) {
        add_batch(entry, {0, code, treatment, day(made)});
      });
    };
    CHECK(batch("J1", "soak9", "2026-04-01") == "(not refused)");
    CHECK(find_batch(keeping.book, "j1")->treatment == "soak9");
    CHECK(find_batch(keeping.book, "j1")->made_on == day("2026-04-01"));
    CHECK(batch("J1", "soak9", "2026-04-01") ==
          "There is a batch J1 already: each jar or mat of seed needs a code of its own.");
    CHECK(batch("J2", "soak1", "2026-04-01") == "There is no treatment \"soak1\". Near it: soak9.");
    CHECK(batch("J2", "soak9", "2026-05-02") == "Batch J2: Sat 2 May 2026 has not come yet.");
    CHECK(check(keeping.book).empty());
  }
}
