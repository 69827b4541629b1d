// Sowing by the library alone: trays that are named, a whole trial, its jars and its stock.
#include "bench/sow.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "bench/stock.hpp"
#include "logbook/keeping.hpp"

using namespace plumule;
using namespace plumule::tests;
using plumule::bench::ToSow;
using plumule::records::Advice;

namespace {

ToSow one_tray(const std::string& label, const char* sown = "2026-04-03") {
  ToSow wanted;
  wanted.labels = {label};
  wanted.each.sown = at(sown);
  wanted.each.crop = "bean";
  wanted.each.units = 20;
  return wanted;
}

bench::TreatmentAsked soaked(const std::string& label, double hours) {
  bench::TreatmentAsked asked;
  asked.treatment.label = label;
  asked.treatment.soak_hours = hours;
  asked.facts_given = true;
  return asked;
}

ToSow soak_trial() {
  ToSow wanted = one_tray("");
  wanted.labels.clear();
  bench::TreatmentAsked plain;
  plain.treatment.label = records::untreated;
  wanted.treatments = {plain, soaked("soak-8h", 8)};
  wanted.trial.name = "SOAK";
  wanted.trial.may_be_new = true;
  wanted.blocks = {"1", "2", "3"};
  wanted.draw = 7;
  return wanted;
}

bench::Sown sow(Keeping& keeping, const ToSow& wanted) {
  return keeping.command("sow", [&](logbook::Entry& entry) { return bench::sow(entry, wanted); });
}

}  // namespace

TEST_SUITE("sowing") {
  TEST_CASE(
      "a whole trial: each treatment once in each block, new things made, jars by treatment") {
    Keeping keeping;
    ToSow wanted = soak_trial();
    wanted.jars.name = "J";
    const bench::Sown sown = sow(keeping, wanted);
    REQUIRE(sown.all.size() == 6);
    CHECK(sown.draw == 7);
    CHECK(sown.trial.code == "SOAK");
    CHECK(sown.trial.made);
    CHECK(sown.treatments.made == std::vector<std::string>{"soak-8h"});
    for (std::size_t i = 0; i < 6; i += 2) {
      CHECK(sown.all[i].block == std::to_string(i / 2 + 1));
      CHECK(sown.all[i].treatment != sown.all[i + 1].treatment);
    }
    for (const records::Sowing& one : sown.all)
      CHECK(one.batch == (one.treatment == records::untreated ? "" : "J-soak-8h"));
    CHECK(sown.all[0].bench_order == 1);
    CHECK(sown.all[5].bench_order == 6);
    CHECK(logbook::open_sowings(keeping.book).size() == 6);
  }

  TEST_CASE("the same number draws the same order") {
    Keeping one;
    Keeping other;
    const auto a = sow(one, soak_trial());
    const auto b = sow(other, soak_trial());
    for (std::size_t i = 0; i < a.all.size(); ++i) CHECK(a.all[i].treatment == b.all[i].treatment);
  }

  TEST_CASE("labels that are given: one lot, one treatment, one block, none twice") {
    Keeping keeping;
    ToSow wanted = one_tray("A1");
    wanted.labels = {"A1", "a1"};
    CHECK(said([&] { sow(keeping, wanted); }) == "a1 is given twice.");
    wanted.labels = {"A1"};
    wanted.blocks = {"1", "2"};
    wanted.trial.name = "SOAK";
    wanted.trial.may_be_new = true;
    CHECK(said([&] { sow(keeping, wanted); }) ==
          "Of trays that are labelled there is one lot, one treatment, one block.");
  }

  TEST_CASE("how many: by weight where the lot tells, else it must be said") {
    Keeping keeping;
    records::Lot lot;
    lot.code = "L";
    lot.crop = "leek";
    lot.seeds_per_gram = 400;
    keeping.command("lot L", [&](logbook::Entry& entry) { add_lot(entry, lot); });
    ToSow wanted = one_tray("A1");
    wanted.each.crop.clear();
    wanted.each.units.reset();
    wanted.each.units_known = records::UnitsKnown::unknown;
    wanted.lots = {"l"};
    const auto act = [&] { sow(keeping, wanted); };
    CHECK(said(act) == "How many were sown?");
    CHECK(advised(act) == Advised{Advice::say_how_many});
    wanted.each.grams = 0.5;
    const bench::Sown sown = sow(keeping, wanted);
    CHECK(sown.by_weight == 200);
    CHECK(sown.all[0].units_known == records::UnitsKnown::estimated);
    CHECK(sown.all[0].crop == "leek");
    CHECK(sown.all[0].lot == "L");
  }

  TEST_CASE("an open label: over is said, whichever of the two is the earlier") {
    Keeping keeping;
    sow(keeping, one_tray("A1", "2026-04-10"));
    ToSow earlier = one_tray("A1", "2026-04-03");
    const auto act = [&] { sow(keeping, earlier); };
    CHECK(said(act) == "A1 is open: sown on Fri 10 Apr 2026, after Fri 3 Apr 2026.");
    CHECK(advised(act) ==
          Advised{Advice::other_day, Advice::sow_over_by_later, Advice::give_other_label});
    earlier.over = true;
    const bench::Sown late = sow(keeping, earlier);
    REQUIRE(late.over_already.size() == 1);
    CHECK(late.over_already[0].ending->at.date == day("2026-04-10"));
    ToSow later = one_tray("A1", "2026-04-20");
    CHECK(advised([&] { sow(keeping, later); }) ==
          Advised{Advice::end_sowing, Advice::sow_over, Advice::give_other_label});
    later.over = true;
    CHECK(sow(keeping, later).over_already.empty());
    CHECK(logbook::open_sowings(keeping.book).size() == 1);
  }

  TEST_CASE("a trial is named, or only pointed out") {
    Keeping keeping;
    keeping.lot("K");
    ToSow trial = soak_trial();
    trial.each.crop.clear();
    trial.lots = {"K"};
    sow(keeping, trial);
    ToSow stray = one_tray("S1");
    stray.each.crop.clear();
    stray.lots = {"K"};
    CHECK(sow(keeping, stray).trial.open_with_lot == std::vector<std::string>{"SOAK"});
    ToSow block = one_tray("S2");
    block.blocks = {"1"};
    block.trial.in_block = true;
    CHECK(said([&] { sow(keeping, block); }) == "A block is part of a trial.");
    ToSow unknown = one_tray("S3");
    unknown.trial.name = "SOAKS";
    CHECK(said([&] { sow(keeping, unknown); }) == "There is no trial SOAKS yet (but SOAK).");
    CHECK(advised([&] { sow(keeping, unknown); }) == Advised{Advice::make_trial});
  }

  TEST_CASE("a treatment's facts: the same label means the same, and fits the wetting") {
    Keeping keeping;
    ToSow wanted = one_tray("A1");
    wanted.treatments = {soaked("soak", 8)};
    sow(keeping, wanted);
    wanted.labels = {"A2"};
    wanted.treatments = {soaked("soak", 12)};
    CHECK(said([&] { sow(keeping, wanted); }) ==
          "Treatment soak is in the logbook as: soaked 8 h. This one is: soaked 12 h.");
    wanted.treatments = {soaked("long", 8)};
    wanted.each.wetted = at("2026-03-30");
    CHECK(advised([&] { sow(keeping, wanted); }) == Advised{Advice::wetting_or_soak});
  }
}
