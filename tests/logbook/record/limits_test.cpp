// Every range that the schema sets a figure is refused by the library first, in a sentence of its
// own, and what lies within is taken: the file's own rules are never the first to say so.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <regex>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "schema/embedded.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

using Save = std::function<void(Keeping&, double)>;

struct Range {
  const char* check;  // as the schema has it
  std::vector<double> taken;
  std::vector<double> refused;
  Save save;
};

template <class Set>
Save lot(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::Lot lot;
    lot.code = "X9";
    set(lot, figure);
    keeping.command("lot", [&](Entry& entry) { add_lot(entry, lot); });
  };
}

template <class Set>
Save kept(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::StorageSpan span;
    span.lot = "X7";
    span.since = day("2026-04-01");
    set(span, figure);
    keeping.command("lot", [&](Entry& entry) { add_storage(entry, span); });
  };
}

template <class Set>
Save stock(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::StockLine line;
    line.lot = "X7";
    line.on = day("2026-04-01");
    line.reason = "bought";
    set(line, figure);
    keeping.command("lot", [&](Entry& entry) { add_stock(entry, line); });
  };
}

template <class Set>
Save treatment(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::Treatment treatment;
    treatment.label = "soaked";
    set(treatment, figure);
    keeping.command("sow", [&](Entry& entry) { add_treatment(entry, treatment); });
  };
}

template <class Set>
Save sowing(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::Sowing one = tray("N1");
    set(one, figure);
    keeping.sow(one);
  };
}

template <class Set>
Save reading(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::Temperature one;
    one.place = "bench";
    one.at = at("2026-04-10");
    set(one, figure);
    keeping.command("temp", [&](Entry& entry) { add_temperature(entry, one); });
  };
}

// Of a sowing of which nobody knows how many seeds it had: only the file's own ranges bound it.
template <class Set>
Save count(const Set& set) {
  return [set](Keeping& keeping, double figure) {
    records::Entered entered;
    set(entered, static_cast<std::int64_t>(figure));
    keeping.command("count", [&](Entry& entry) {
      record_count(entry, sowing_named(keeping.book, "U1"),
                   records::Count{at("2026-04-12"), entered, "", 0});
    });
  };
}

std::int64_t whole(double figure) { return static_cast<std::int64_t>(figure); }

std::vector<Range> ranges() {
  const double e9 = 1e9;
  const double e12 = 1e12;
  const auto harvest = [](records::Lot& l, double x) { l.harvest_year = static_cast<int>(x); };
  const auto packed = [](records::Lot& l, double x) { l.packed_year = static_cast<int>(x); };
  return {
      {"harvest_year between 1800 and 9999", {1800, 2026}, {1799, 10000, -1}, lot(harvest)},
      {"packed_year between 1800 and 9999", {1800, 2026}, {1799, 10000, -1}, lot(packed)},
      {"label_germination between 0 and 1",
       {0, 1},
       {-0.01, 1.01},
       lot([](records::Lot& l, double x) { l.label_germination = x; })},
      {"seeds_per_gram > 0 and seeds_per_gram < 1e9",
       {1e-9, 999999999},
       {0, -1, e9, 1e300},
       lot([](records::Lot& l, double x) { l.seeds_per_gram = x; })},
      {"temperature_c between -273 and 90",
       {-273, 90},
       {-273.1, 90.1},
       kept([](records::StorageSpan& s, double x) { s.temperature_c = x; })},
      {"humidity between 0 and 1", {0, 1}, {-0.1, 1.1}, kept([](records::StorageSpan& s, double x) {
         s.humidity = x;
       })},
      {"moisture between 0 and 1", {0, 1}, {-0.1, 1.1}, kept([](records::StorageSpan& s, double x) {
         s.moisture = x;
       })},
      {"soak_hours between 0 and 1000",
       {0, 1000},
       {-1, 1001},
       treatment([](records::Treatment& t, double x) { t.soak_hours = x; })},
      {"water_c between -5 and 100",
       {-5, 100},
       {-6, 101},
       treatment([](records::Treatment& t, double x) { t.water_c = x; })},
      {"chill_days between 0 and 2000",
       {0, 2000},
       {-1, 2001},
       treatment([](records::Treatment& t, double x) { t.chill_days = x; })},
      {"chill_c between -30 and 30",
       {-30, 30},
       {-31, 31},
       treatment([](records::Treatment& t, double x) { t.chill_c = x; })},
      {"worth > 0 and worth <= 1",
       {0.01, 1},
       {0, -1, 1.01},
       [](Keeping& keeping, double x) {
         records::Trial trial;
         trial.code = "T1";
         trial.worth = x;
         keeping.command("sow", [&](Entry& entry) { add_trial(entry, trial); });
       }},
      {"units between 1 and 1000000000",
       {1, e9},
       {0, -1, e9 + 1, 9e15},
       sowing([](records::Sowing& s, double x) { s.units = whole(x); })},
      {"grams > 0 and grams < 1e9",
       {1e-9, 999999999},
       {0, -1, e9, 1e300},
       sowing([](records::Sowing& s, double x) { s.grams = x; })},
      {"metres > 0 and metres < 1e9",
       {1e-9, 999999999},
       {0, -1, e9, 1e300},
       sowing([](records::Sowing& s, double x) { s.metres = x; })},
      {"seeds_per_cell between 1 and 1000",
       {1, 1000},
       {0, -1, 1001},
       sowing([](records::Sowing& s, double x) {
         s.unit = records::UnitKind::cell;
         s.seeds_per_cell = static_cast<int>(x);
       })},
      {"depth_mm between 0 and 10000",
       {0, 10000},
       {-1, 10001},
       sowing([](records::Sowing& s, double x) { s.depth_mm = x; })},
      {"abs(seeds) <= 1000000000000",
       {e12, -e12},
       {e12 + 1, -e12 - 1, 9e15},
       stock([](records::StockLine& l, double x) { l.seeds = whole(x); })},
      {"abs(grams) < 1e12",
       {999999999999, -999999999999},
       {e12, -e12, 1e300},
       stock([](records::StockLine& l, double x) { l.grams = x; })},
      {"value between 0 and 1000000000",
       {0, e9},
       {-1, e9 + 1},
       count([](records::Entered& e, std::int64_t x) { e.value = x; })},
      {"high > value and high <= 1000000000",
       {e9},
       {e9 + 1, 5},
       count([](records::Entered& e, std::int64_t x) {
         e.value = 5;
         e.high = x;
       })},
      {"lost between 0 and 1000000000",
       {0},
       {-1, e9 + 1},
       count([](records::Entered& e, std::int64_t x) {
         e.kind = records::CountKind::standing;
         e.value = 5;
         e.lost = x;
       })},
      {"seedlings between 0 and 1000000000",
       {5, e9},
       {-1, e9 + 1},
       count([](records::Entered& e, std::int64_t x) {
         e.value = 5;
         e.seedlings = x;
       })},
      {"total between 0 and 1000000000",  // 5 were up before
       {e9 - 5},
       {e9 - 4, e9},
       [](Keeping& keeping, double x) {
         keeping.count("U1=5", "2026-04-11");
         keeping.count("U1+" + std::to_string(whole(x)), "2026-04-12");
       }},
      {"units between 1 and 1000000000",
       {1, 20},
       {0, -1, e9 + 1, 9e15},
       [](Keeping& keeping, double x) {
         records::Assessment found;
         found.on = day("2026-04-20");
         found.units = whole(x);
         keeping.command("assess", [&](Entry& entry) {
           add_assessment(entry, sowing_named(keeping.book, "K3").id, found);
         });
       }},
      {"spot_c between -60 and 90",
       {-60, 90},
       {-60.1, 90.1},
       reading([](records::Temperature& t, double x) { t.spot_c = x; })},
      {"min_c between -60 and 90",
       {-60, 90},
       {-60.1, 90.1},
       reading([](records::Temperature& t, double x) { t.min_c = x; })},
      {"max_c between -60 and 90",
       {-60, 90},
       {-60.1, 90.1},
       reading([](records::Temperature& t, double x) { t.max_c = x; })},
  };
}

// What it is refused with.
std::string answer(const Range& range, double figure) {
  Keeping keeping;
  keeping.lot("X7");
  keeping.sow(tray("K3"));
  records::Sowing unknown = tray("U1");
  unknown.units_known = records::UnitsKnown::unknown;
  unknown.units.reset();
  keeping.sow(unknown);
  return said([&] { range.save(keeping, figure); });
}

}  // namespace

TEST_SUITE("limits") {
  TEST_CASE("the library refuses each figure that the file would not take, and no other") {
    for (const Range& range : ranges()) {
      CAPTURE(range.check);
      for (const double figure : range.taken) {
        CAPTURE(figure);
        CHECK(answer(range, figure) == "(not refused)");
      }
      for (const double figure : range.refused) {
        CAPTURE(figure);
        const std::string refusal = answer(range, figure);
        CHECK(refusal != "(not refused)");
        CHECK(refusal.find("own rules") == std::string::npos);
        if (figure < 1e15) CHECK(refusal.find("e+") == std::string::npos);  // said in full
      }
    }
  }

  TEST_CASE("no range of the schema is left out here") {
    const std::string schema(plumule::schema::text("schema/0001_record.sql"));
    std::vector<std::string> wanted;
    const std::regex check("(?:real|integer)[a-z0-9 ]* check \\(((?:[^()]|\\([^()]*\\))*)\\)");
    for (auto found = std::sregex_iterator(schema.begin(), schema.end(), check);
         found != std::sregex_iterator(); ++found) {
      const std::string rule = (*found)[1];
      // Flags, kinds and who is whose parent are no figures that anybody enters.
      if (rule != "parent <> lot" && rule.find(" in (0, 1)") == std::string::npos &&
          rule.rfind("kind between", 0) != 0)
        wanted.push_back(rule);
    }
    std::vector<std::string> listed;
    for (const Range& range : ranges()) listed.emplace_back(range.check);
    std::sort(wanted.begin(), wanted.end());
    std::sort(listed.begin(), listed.end());
    std::vector<std::string> missing;
    std::set_difference(wanted.begin(), wanted.end(), listed.begin(), listed.end(),
                        std::back_inserter(missing));
    for (const std::string& rule : missing) FAIL_CHECK("no such range here: " << rule);
    CHECK(wanted.size() == listed.size());
  }
}
