// One refusal a field: what a lot, a treatment, a trial, a sowing, an assessment and a temperature
// cannot be.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "records/assessment.hpp"
#include "records/lot.hpp"
#include "records/said.hpp"
#include "records/sowing.hpp"
#include "records/treatment.hpp"
#include "records/trial.hpp"

using namespace plumule::records;
using plumule::tests::said;

namespace {

const double not_a_number = std::numeric_limits<double>::quiet_NaN();
const double infinity = std::numeric_limits<double>::infinity();

template <class Record, class Change>
std::string with(Record record, const Change& change) {
  change(record);
  return said([&] { check(record); });
}

Lot lot() {
  Lot lot;
  lot.code = "X7";
  return lot;
}

Sowing sowing() {
  Sowing sowing;
  sowing.label = "A1";
  sowing.sown = *parse_moment("2026-04-03");
  sowing.units = 20;
  return sowing;
}

}  // namespace

TEST_SUITE("what a record cannot be") {
  TEST_CASE("sound records pass") {
    CHECK_NOTHROW(check(lot()));
    CHECK_NOTHROW(check(sowing()));
  }

  TEST_CASE("a lot") {
    CHECK(
        with(lot(), [](Lot& l) { l.code = "X 7"; }) ==
        "Lot: \"X 7\" is no label: use letters, digits, '.', '_' and '-', and begin with a letter "
        "or digit.");
    CHECK(with(lot(), [](Lot& l) { l.harvest_year = 24; }) ==
          "Lot X7: the year 24 cannot be; write all four digits, such as 2024.");
    CHECK(with(lot(), [](Lot& l) { l.harvest_year = 2024, l.packed_year = 2023; }) ==
          "Lot X7: packed in 2023, before its harvest in 2024. One of the two years is wrong.");
    CHECK(with(lot(), [](Lot& l) { l.label_germination = 85; }) ==
          "Lot X7: a germination of 8500 % cannot be; it lies between 0 and 100 %.");
    CHECK(with(lot(), [](Lot& l) { l.label_germination = not_a_number; }) ==
          "Lot X7: a germination of not a number % cannot be; it lies between 0 and 100 %.");
    CHECK(with(lot(), [](Lot& l) { l.seeds_per_gram = 0; }) ==
          "Lot X7: seeds per gram must be above 0, not 0.");
    CHECK(with(lot(), [](Lot& l) { l.seeds_per_gram = not_a_number; }) ==
          "Lot X7: seeds per gram is not a number.");
    CHECK(with(lot(), [](Lot& l) { l.seeds_per_gram = infinity; }) ==
          "Lot X7: seeds per gram must be below 1,000,000,000, not infinity.");
    CHECK(with(lot(), [](Lot& l) {
            l.parents = {{"x7", Descent::mix}};
          }) == "Lot X7: a lot is not its own parent.");
    CHECK(with(lot(), [](Lot& l) {
            l.parents = {{"", Descent::mix}};
          }) == "Lot X7: its parent: a label is missing.");
  }

  TEST_CASE("a line of stock, a span of storage") {
    const StockLine line{0, "X7", *parse_date("2026-01-01"), 10, {}, "bought", {}};
    CHECK_NOTHROW(check(line));
    CHECK(with(line, [](StockLine& l) { l.seeds.reset(); }) ==
          "Lot X7: a line of its stock needs a number of seeds or a weight.");
    CHECK(with(line, [](StockLine& l) { l.seeds = 2'000'000'000'000; }) ==
          "Lot X7: 2000000000000 seeds is more than anybody keeps.");
    CHECK(with(line, [](StockLine& l) { l.grams = not_a_number; }) ==
          "Lot X7: grams of stock is not a number.");
    CHECK(with(line, [](StockLine& l) { l.reason.clear(); }) ==
          "Lot X7: a line of its stock needs a reason, such as bought, harvest, given, lost.");
    StorageSpan span;
    span.lot = "X7";
    span.place = "cellar";
    CHECK_NOTHROW(check(span));
    CHECK(with(span, [](StorageSpan& s) { s.place.clear(); }) ==
          "Lot X7: say where it is kept, or at what temperature, humidity or moisture.");
    CHECK(with(span, [](StorageSpan& s) { s.humidity = 55; }) ==
          "Lot X7: the relative humidity (a fraction): 55 lies outside 0 to 1.");
    CHECK(with(span, [](StorageSpan& s) { s.moisture = -0.1; }) ==
          "Lot X7: the moisture of the seed (a fraction): -0.1 lies outside 0 to 1.");
    CHECK(with(span, [](StorageSpan& s) { s.temperature_c = 120; }) ==
          "Lot X7: the temperature it is kept at (C): 120 lies outside -273 to 90.");
  }

  TEST_CASE("a treatment, a batch") {
    Treatment soak;
    soak.label = "soak8";
    soak.soak_hours = 8;
    CHECK_NOTHROW(check(soak));
    CHECK(with(soak, [](Treatment& t) { t.soak_hours = -1; }) ==
          "Treatment soak8: hours of soaking: -1 lies outside 0 to 1000.");
    CHECK(with(soak, [](Treatment& t) { t.water_c = 140; }) ==
          "Treatment soak8: the water's temperature (C): 140 lies outside -5 to 100.");
    CHECK(with(soak, [](Treatment& t) { t.chill_days = not_a_number; }) ==
          "Treatment soak8: days of chilling is not a number.");
    CHECK(with(soak, [](Treatment& t) { t.chill_c = 60; }) ==
          "Treatment soak8: the temperature of chilling (C): 60 lies outside -30 to 30.");
    CHECK(with(soak, [](Treatment& t) { t.label = "Untreated"; }) ==
          "Treatment Untreated: it means that nothing was done. Give what was done a label of its "
          "own.");
    CHECK(with(soak, [](Treatment& t) { t.label = ""; }) == "Treatment: a label is missing.");
    CHECK(with(Batch{0, "", "soak8", {}}, [](Batch&) {}) ==
          "Treated together: a label is missing.");
    CHECK(with(Batch{0, "J1", "", {}}, [](Batch&) {}) ==
          "Batch J1: its treatment: a label is missing.");
  }

  TEST_CASE("a trial") {
    Trial trial;
    trial.code = "beans26";
    trial.blocks = {"north", "south"};
    trial.inspections = {*parse_date("2026-04-10"), *parse_date("2026-04-12")};
    CHECK_NOTHROW(check(trial));
    CHECK(with(trial, [](Trial& t) { t.code = "the beans"; }).rfind("Trial: \"the beans\" is", 0) ==
          0);
    CHECK(with(trial, [](Trial& t) {
            t.blocks = {"north", "North"};
          }) == "Trial beans26: the block North is named twice.");
    CHECK(with(trial, [](Trial& t) { t.blocks = {""}; }) ==
          "Trial beans26: a block: a label is missing.");
    CHECK(with(trial, [](Trial& t) { t.inspections.push_back(t.inspections[0]); }) ==
          "Trial beans26: the days to look at it must be in order, each once.");
    CHECK(with(trial, [](Trial& t) { t.closes_on = *parse_date("2026-04-11"); }) ==
          "Trial beans26: it closes on Sat 11 Apr 2026, before its last planned look on Sun 12 Apr "
          "2026.");
    CHECK(with(trial, [](Trial& t) { t.worth = 0; }) ==
          "Trial beans26: the difference worth having (a fraction) must be above 0, not 0.");
    CHECK(with(trial, [](Trial& t) { t.worth = 10; }) ==
          "Trial beans26: the difference worth having (a fraction): 10 lies outside 0 to 1.");
  }

  TEST_CASE("a sowing") {
    CHECK(with(sowing(), [](Sowing& s) { s.label = "A=1"; }).rfind("Sowing: \"A=1\" is", 0) == 0);
    CHECK(with(sowing(), [](Sowing& s) { s.units.reset(); }) ==
          "A1: how many were sown? Give the number, or say that it is unknown.");
    CHECK(with(sowing(), [](Sowing& s) { s.units_known = UnitsKnown::unknown; }) ==
          "A1: a number sown is given, and said to be unknown. Which is it?");
    CHECK(with(sowing(), [](Sowing& s) { s.units = 0; }) ==
          "A1: 0 sown cannot be; it is 1 at least.");
    CHECK(with(sowing(), [](Sowing& s) { s.units = -5; }) ==
          "A1: -5 sown cannot be; it is 1 at least.");
    CHECK(with(sowing(), [](Sowing& s) { s.units = 1'000'000'001; }) ==
          "A1: 1000000001 sown is absurd; 1,000,000,000 is the most that is taken.");
    CHECK(with(sowing(), [](Sowing& s) { s.grams = 0; }) ==
          "A1: grams sown must be above 0, not 0.");
    CHECK(with(sowing(), [](Sowing& s) { s.metres = -2; }) ==
          "A1: metres of row must be above 0, not -2.");
    CHECK(with(sowing(), [](Sowing& s) { s.depth_mm = not_a_number; }) ==
          "A1: the depth in mm is not a number.");
    CHECK(with(sowing(), [](Sowing& s) { s.depth_mm = -3; }) ==
          "A1: the depth in mm: -3 lies outside 0 to 10000.");
    CHECK(with(sowing(), [](Sowing& s) { s.unit = UnitKind::cell, s.seeds_per_cell = 0; }) ==
          "A1: 0 seeds in a cell cannot be; it is 1 to 1000.");
    CHECK(with(sowing(), [](Sowing& s) { s.seeds_per_cell = 3; }) ==
          "A1: seeds in a cell are given, but its units are not cells.");
    CHECK(with(sowing(), [](Sowing& s) { s.block = "north"; }) ==
          "A1: block north is of no trial. Name the trial too.");
    CHECK(with(sowing(), [](Sowing& s) {
            s.trial = "t", s.block = "n n";
          }).rfind("A1: its block: \"n n\" is no label", 0) == 0);
    CHECK(with(sowing(), [](Sowing& s) { s.treatment = ""; }) ==
          "A1: its treatment: a label is missing.");
    CHECK(with(sowing(), [](Sowing& s) { s.wetted = parse_moment("2026-04-04"); }) ==
          "A1: wetted on Sat 4 Apr 2026, after it was sown on Fri 3 Apr 2026. A soak comes before "
          "the sowing.");
    CHECK(with(sowing(), [](Sowing& s) {
            s.ending = Ending{EndingKind::finished, *parse_moment("2026-04-02"), {}};
          }) == "A1: ended on Thu 2 Apr 2026, before it was sown on Fri 3 Apr 2026.");
    CHECK(with(sowing(), [](Sowing& s) { s.wetted = parse_moment("2026-04-03T20:00"); }) ==
          "(not refused)");
    CHECK(sowing().dated_label() == "A1@2026-04-03");
  }

  TEST_CASE("an assessment, a temperature") {
    CHECK(with(Assessment{}, [](Assessment& a) { a.units = 0; }) ==
          "An assessment is of 1 unit or more (and at most 1,000,000,000), not 0.");
    Temperature reading;
    reading.place = "bench";
    reading.spot_c = 18;
    CHECK_NOTHROW(check(reading));
    CHECK(with(reading, [](Temperature& t) { t.spot_c.reset(); }) ==
          "A temperature is missing: give one reading, or a minimum and a maximum.");
    // 68 F is 20 C (definition of the Fahrenheit scale: 32 + 1.8 C); 100 F is 37.8 C.
    CHECK(with(reading, [](Temperature& t) { t.spot_c = 100; }) ==
          "The temperature of 100 looks like Fahrenheit; in Celsius it is 37.8.");
    CHECK(with(reading, [](Temperature& t) { t.spot_c = 400; }) ==
          "A temperature of 400 C cannot be; it lies between -60 and 90.");
    CHECK(with(reading, [](Temperature& t) { t.min_c = -80; }) ==
          "A minimum of -80 C cannot be; it lies between -60 and 90.");
    CHECK(with(reading, [](Temperature& t) { t.max_c = not_a_number; }) ==
          "The maximum is not a number.");
    CHECK(with(reading, [](Temperature& t) { t.min_c = 20, t.max_c = 10; }) ==
          "The minimum of 20 C lies above the maximum of 10 C. Swapped?");
    CHECK(with(reading, [](Temperature& t) { t.place.clear(); }) ==
          "A temperature is of a sowing or of a place: name one of them.");
    CHECK(with(reading, [](Temperature& t) { t.sowing = 3; }) ==
          "A temperature is of a sowing or of a place: name one of them.");
  }

  TEST_CASE("words that say that seed is not dressed") {
    for (const char* none : {"none", "None", "no", "untreated", "Untreated, organic", "organic",
                             "not treated", "non-treated", "nothing", "", " ", "-", "n/a"}) {
      CAPTURE(none);
      CHECK_FALSE(is_dressing(none));
    }
    for (const char* some : {"thiram", "treated", "captan", "fungicide (red)",
                             "a film with metalaxyl", "dressed", "nox", "7"}) {
      CAPTURE(some);
      CHECK(is_dressing(some));
    }
  }

  TEST_CASE("a name that no table holds is refused, by its letters and not its bytes") {
    Lot lot;
    lot.code = "L";
    for (int i = 0; i < 64; ++i) lot.crop += "\xC3\xA9";  // 64 letters, 128 bytes
    CHECK_NOTHROW(check(lot));
    lot.crop += 'x';
    CHECK_THROWS_AS(check(lot), Refused);
    lot.crop = "bean\nleek";
    CHECK_THROWS_AS(check(lot), Refused);
    lot.crop = "bean";
    lot.variety = std::string(65, 'v');
    CHECK_THROWS_AS(check(lot), Refused);
  }
}
