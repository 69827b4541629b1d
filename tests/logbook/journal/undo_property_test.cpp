// Any random commands, taken back one by one: after each step back every table but the journal and
// the ledger is byte for byte what it was.
#include <doctest/doctest.h>

#include <random>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/rounds.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

class Acts {
 public:
  explicit Acts(unsigned seed) : random_(seed) {}

  // A bench to begin with.
  void lay_out(Keeping& keeping) {
    Entry entry(keeping.book, "ada", "lay out", keeping.today);
    for (const char* label : {"A1", "A2", "A3", "A4"}) add_sowing(entry, tray(label, "2026-04-02"));
    entry.commit();
  }

  // One command of one to five writes, some of which may be refused.
  void command(Keeping& keeping) {
    Entry entry(keeping.book, "ada", "random", keeping.today);
    const std::int64_t writes = 1 + below(5);
    for (std::int64_t i = 0; i < writes; ++i) {
      try {
        write(entry);
      } catch (const records::Refused&) {
        ++refused;
      }
    }
    entry.say("something");
    entry.commit();
  }

  int refused = 0;

 private:
  std::int64_t below(std::int64_t n) {
    return static_cast<std::int64_t>(random_() % static_cast<unsigned>(n));
  }
  bool chance(std::int64_t n) { return below(n) == 0; }
  std::string name(const char* kind) { return kind + std::to_string(1 + below(4)); }
  records::Date some_day() { return day("2026-04-01") + std::chrono::days(below(25)); }
  records::Moment some_moment() {
    records::Moment moment{some_day(), {}};
    if (chance(3)) moment.minute_of_day = static_cast<int>(below(1440));
    return moment;
  }
  double figure() { return static_cast<double>(below(1000)) / 7.0; }
  std::string who() { return chance(2) ? "" : name("person"); }

  records::Entered figure_entered() {
    records::Entered entered;
    entered.kind = chance(2) ? records::CountKind::newly : records::CountKind::total;
    entered.value = below(6);
    if (chance(5)) {
      entered.kind = records::CountKind::standing;
      entered.lost = below(2);
    } else if (chance(5)) {
      entered.high = entered.value + 2;
    }
    if (chance(6)) entered.seedlings = 6 + below(5);
    return entered;
  }

  records::Sowing sowing(Entry& entry) { return sowing_named(entry.logbook(), name("A")); }

  records::Sowing fill(records::Sowing made) {
    if (chance(2)) made.lot = name("L");
    if (chance(3)) made.treatment = name("soak");
    if (chance(3)) made.trial = name("trial");
    if (!made.trial.empty() && chance(2)) made.block = name("block");
    if (chance(3)) made.depth_mm = figure();
    if (chance(3)) made.grams = figure() + 0.1;
    if (chance(3)) made.medium = "peat, ½ \"sand\"\n\ttwo lines";
    if (chance(3)) made.place = name("bench");
    made.units = 10 + below(20);
    made.bench_order = below(5);
    return made;
  }

  void write(Entry& entry) {
    Logbook& book = entry.logbook();
    switch (below(34)) {
      case 0: {
        records::Lot lot;
        lot.code = name("L");
        if (chance(2)) lot.parents = {{name("L"), records::Descent::mix}};
        lot.seeds_per_gram = figure() + 0.01;
        add_lot(entry, lot);
        return;
      }
      case 1: {
        records::Lot lot = lot_named(book, name("L"));
        lot.variety = chance(2) ? "" : name("variety");
        lot.seeds_per_gram = chance(3) ? std::optional<double>() : figure() + 0.02;
        lot.parents.clear();
        if (chance(2)) lot.parents = {{name("L"), records::Descent::split}};
        change_lot(entry, lot);
        return;
      }
      case 2:
        add_stock(entry, {0, name("L"), some_day(), below(100), figure(), "bought", {}});
        return;
      case 3:
        add_storage(entry, {0, name("L"), some_day(), figure() / 3, {}, {}, "shed"});
        return;
      case 4: {
        records::Treatment treatment;
        treatment.label = name("soak");
        treatment.soak_hours = figure();
        add_treatment(entry, treatment);
        return;
      }
      case 5: {
        records::Treatment treatment = treatment_named(book, name("soak"));
        treatment.soak_hours = figure();
        treatment.label = name("soak");
        change_treatment(entry, treatment);
        return;
      }
      case 6:
        add_batch(entry, {0, name("jar"), name("soak"), some_day()});
        return;
      case 7: {
        records::Trial trial;
        trial.code = name("trial");
        trial.blocks = {name("block")};
        trial.inspections = {some_day()};
        add_trial(entry, trial);
        return;
      }
      case 8: {
        records::Trial trial = trial_named(book, name("trial"));
        trial.blocks = {"block1", "block2", "block3", "block4"};
        trial.blocks.resize(static_cast<std::size_t>(1 + below(4)));
        trial.inspections = {some_day()};
        trial.worth = 0.1;
        change_trial(entry, trial);
        return;
      }
      case 9: {
        records::Sowing changed = fill(sowing(entry));
        if (chance(4)) changed.label = name("A");
        if (chance(4)) changed.sown.date -= std::chrono::days(1);
        changed.crop.clear();
        change_sowing(entry, changed);
        return;
      }
      case 10:
        end_sowing(entry, sowing(entry).id, {records::EndingKind::failed, some_moment(), "dry"});
        return;
      case 11:
        reopen_sowing(entry, sowing(entry).id);
        return;
      case 12:
        move_sowing(entry, sowing(entry).id, {0, some_day(), name("bench")});
        return;
      case 13:
        add_photograph(entry, sowing(entry).id, {0, some_day(), "a.jpg", ""});
        return;
      case 14: {
        records::Assessment found;
        found.on = some_day();
        found.units = 1 + below(3);
        found.by = who();
        add_assessment(entry, sowing(entry).id, found);
        return;
      }
      case 15: {
        records::Temperature reading;
        reading.at = some_moment();
        reading.spot_c = figure() / 5;
        if (chance(2))
          reading.sowing = sowing(entry).id;
        else
          reading.place = name("bench");
        add_temperature(entry, reading);
        return;
      }
      case 16:
        add_note(entry, {0, records::About::sowing, sowing(entry).id, some_day(), "ü", who()});
        return;
      case 17:
        keep_doubtful(entry, sowing(entry), {some_moment(), figure_entered(), who(), 0}, "odd");
        return;
      case 18: {
        const auto kept = doubtful_of(book, sowing(entry).id);
        if (!kept.empty())
          settle_doubtful(entry, kept[0].id, chance(2) ? Settled::kept : Settled::dropped);
        return;
      }
      case 19: {
        const auto kept = second_readings_of(book, sowing(entry).id);
        if (!kept.empty())
          settle_second_reading(entry, kept[0].id, chance(2) ? Settled::kept : Settled::dropped);
        return;
      }
      case 20:
      case 21: {
        const records::Sowing of = sowing(entry);
        const auto counts = counts_of(book, of.id);
        if (counts.empty()) return;
        const auto& count =
            counts[static_cast<std::size_t>(below(static_cast<std::int64_t>(counts.size())))];
        amend_count(entry, of, count.at,
                    chance(3) ? std::nullopt : std::optional(figure_entered()));
        return;
      }
      case 22: {
        records::Sowing made = fill(tray(name("A")));
        made.sown = some_moment();
        made.sown.date = day("2026-04-01") + std::chrono::days(below(4));
        add_sowing(entry, made);
        return;
      }
      default:
        for (int i = 0; i < 4; ++i)
          record_count(entry, sowing(entry), {some_moment(), figure_entered(), who(), 0});
    }
  }

  std::mt19937 random_;
};

}  // namespace

TEST_SUITE("random undo") {
  TEST_CASE("what was done and taken back leaves the record as it was") {
    std::int64_t rows = 0;
    int steps = 0;
    for (unsigned seed = 1; seed <= rounds(80U); ++seed) {
      CAPTURE(seed);
      Acts acts(seed);
      Keeping keeping;
      acts.lay_out(keeping);
      std::vector<std::string> states = {record_of(keeping.book)};
      for (int i = 0; i < 30; ++i) {
        CAPTURE(i);
        const std::int64_t lines = keeping.number("select count(*) from journal");
        acts.command(keeping);
        const std::string now = record_of(keeping.book);
        if (keeping.number("select count(*) from journal") == lines) {
          CHECK(now == states.back());
          continue;
        }
        states.push_back(now);
        if (i % 7 == 6) {
          undo(keeping.book, "ada");
          ++steps;
          states.pop_back();
          REQUIRE(record_of(keeping.book) == states.back());
        }
      }
      rows += keeping.number("select count(*) from counts");
      for (const records::Refusal& wrong : check(keeping.book)) FAIL_CHECK(wrong.fact);
      while (states.size() > 1) {
        undo(keeping.book, "ada");
        ++steps;
        states.pop_back();
        REQUIRE(record_of(keeping.book) == states.back());
      }
      for (const records::Refusal& wrong : check(keeping.book)) FAIL_CHECK(wrong.fact);
    }
    CHECK(steps > rounds(1000));
    CHECK(rows > rounds(200));
  }
}
