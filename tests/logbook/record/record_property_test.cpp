// Random histories, valid and not, against the plain model: the logbook takes what can be and
// nothing else, its totals are the model's, and the file is sound throughout.
#include <doctest/doctest.h>

#include <random>

#include "logbook/flat/bulk_load.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/plain_model.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/rounds.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

const char* const people[] = {"", "ben", "cy"};

class Play {
 public:
  explicit Play(unsigned seed) : random_(seed) {
    records::Sowing sowing = tray("K3");
    if (chance(6)) sowing.sown = at("1969-12-28");
    model_.sown_day = sowing.sown.date.time_since_epoch().count();
    model_.units = sowing.units = 1 + below(30);
    if (chance(8)) {
      sowing.units_known = records::UnitsKnown::unknown;
      sowing.units.reset();
      model_.units.reset();
    } else if (chance(5)) {
      sowing.unit = records::UnitKind::cell;
      sowing.seeds_per_cell = model_.seeds_per_cell = 1 + static_cast<int>(below(3));
    }
    model_.taken_out = sowing.taken_out = chance(5);
    keeping_.today = sowing.sown.date + std::chrono::days(40);
    keeping_.sow(sowing);
  }

  void step() {
    switch (below(12)) {
      case 0:
        return amend();
      case 1:
        return remove();
      case 2:
        return end_or_reopen();
      case 3:
        return assess();
      case 4:
        return change_units();
      default:
        return count();
    }
  }

  void compare() {
    const auto counts = counts_of(keeping_.book, 1);
    REQUIRE(counts.size() == model_.looks.size());
    const auto up = model_.up();
    std::size_t i = 0;
    for (const auto& [minute, look] : model_.looks) {
      CHECK(counts[i].at.minutes() == minute);
      CHECK(counts[i].at.minute_of_day.has_value() == look.timed);
      CHECK(counts[i].entered == entered(look));
      CHECK(counts[i].by == people[look.who]);
      CHECK(counts[i].total == up[i]);
      ++i;
    }
    CHECK(keeping_.number("select count(*) from daily_counts") ==
          static_cast<std::int64_t>(up.size()));
    CHECK(counts_are_sound(keeping_.book.store()));
  }

  void finish() {
    compare();
    for (const plumule::records::Refusal& wrong : check(keeping_.book)) FAIL_CHECK(wrong.fact);
  }

  int taken = 0;
  int refused = 0;

 private:
  std::int64_t below(std::int64_t n) {
    return static_cast<std::int64_t>(random_() % static_cast<unsigned>(n));
  }
  bool chance(std::int64_t n) { return below(n) == 0; }

  static records::Entered entered(const Look& look) {
    return {static_cast<records::CountKind>(look.kind), look.value, look.high, look.lost,
            look.seedlings};
  }

  std::int64_t moment(bool& timed) {
    const std::int64_t day = model_.sown_day - 1 + below(25);
    timed = chance(3);
    return day * 1440 + (timed ? below(1440) : 720);
  }

  // Mostly near what could be, at times far from it.
  Look look(std::int64_t minute) {
    Look made;
    std::int64_t before = 0;
    std::size_t i = 0;
    const auto up = model_.up();
    for (const auto& [other, unused] : model_.looks) {
      if (other >= minute) break;
      before = up[i++];
    }
    made.kind = static_cast<int>(model_.taken_out && !chance(8) ? 1 : below(4));
    if (made.kind == 3 && !chance(3)) made.kind = 0;
    const std::int64_t slip = chance(4) ? below(7) - 3 : below(3);
    if (made.kind == 0) made.value = before + slip;
    if (made.kind == 1) made.value = chance(3) ? 0 : slip;
    if (made.kind == 2) {
      made.lost = below(3);
      made.value = before - made.lost + slip;
    }
    if (made.value < 0) made.value = 0;
    if (made.kind < 2 && chance(5)) made.high = made.value + 1 + below(4);
    if (made.kind == 3 || chance(6)) made.seedlings = before + below(5);
    made.who = static_cast<int>(below(3));
    return made;
  }

  template <class Act>
  bool accepted(const Act& act) {
    const std::int64_t lines = keeping_.number("select count(*) from journal");
    try {
      act();
      ++taken;
      return true;
    } catch (const records::Refused& sentence) {
      CHECK(std::string(sentence.what()).size() > 20);
      CHECK(keeping_.number("select count(*) from journal") == lines);
      ++refused;
      return false;
    }
  }

  void count() {
    bool timed = false;
    const std::int64_t minute = moment(timed);
    Look made = look(minute);
    made.timed = timed;
    const records::Count typed{records::Moment::from_minutes(minute, timed), entered(made),
                               people[made.who], 0};
    const auto stands = model_.looks.find(minute);
    Kept kept = Kept::saved;
    const bool taken_now = accepted([&] {
      kept = keeping_.command("count", [&](Entry& entry) {
        return record_count(entry, sowing_by_id(keeping_.book, 1), typed);
      });
    });
    if (stands != model_.looks.end()) {
      const Look& had = stands->second;
      const bool same = entered(had) == entered(made) ||
                        (made.kind == 1 && made.value == 0 && !made.high && !made.seedlings);
      // A second person's figure is kept beside the first, if it could be of some look: the looks
      // before it may be what is wrong.
      Notebook alone = model_;
      alone.assessed = 0;
      Look only = made;
      if (only.kind == 2) {
        only.kind = 0;
        only.value += only.lost;
        only.lost = 0;
      }
      alone.looks = {{minute, only}};
      const bool other = made.who != 0 && had.who != 0 && made.who != had.who && alone.can_be();
      CHECK(taken_now == (same || other));
      if (taken_now) CHECK(kept != Kept::saved);
      return;
    }
    Notebook next = model_;
    next.looks[minute] = made;
    CHECK(taken_now == next.can_be());
    if (taken_now) {
      CHECK(kept == Kept::saved);
      const std::int64_t lines = keeping_.number("select count(*) from journal");
      CHECK(lines > 0);
      if (chance(6)) {
        undo(keeping_.book, "ada");
        compare();
      } else {
        model_ = next;
      }
    }
  }

  std::map<std::int64_t, Look>::iterator any_look() {
    auto found = model_.looks.begin();
    std::advance(found, below(static_cast<std::int64_t>(model_.looks.size())));
    return found;
  }

  void amend() {
    if (model_.looks.empty()) return;
    const auto found = any_look();
    Look made = look(found->first);
    made.timed = found->second.timed;
    made.who = found->second.who;
    Notebook next = model_;
    next.looks[found->first] = made;
    const bool taken_now = accepted([&] {
      keeping_.command("amend", [&](Entry& entry) {
        amend_count(entry, sowing_by_id(keeping_.book, 1),
                    records::Moment::from_minutes(found->first, made.timed), entered(made));
      });
    });
    CHECK(taken_now == next.can_be());
    if (taken_now) model_ = next;
  }

  void remove() {
    if (model_.looks.empty()) return;
    const auto found = any_look();
    Notebook next = model_;
    next.looks.erase(found->first);
    const bool taken_now = accepted([&] {
      keeping_.command("amend", [&](Entry& entry) {
        amend_count(entry, sowing_by_id(keeping_.book, 1),
                    records::Moment::from_minutes(found->first, found->second.timed), std::nullopt);
      });
    });
    CHECK(taken_now == next.can_be());
    if (taken_now) model_ = next;
  }

  void end_or_reopen() {
    if (model_.ended_day) {
      keeping_.command("amend", [&](Entry& entry) { reopen_sowing(entry, 1); });
      model_.ended_day.reset();
      return;
    }
    const std::int64_t day = model_.sown_day - 1 + below(30);
    Notebook next = model_;
    next.ended_day = day;
    const bool taken_now = accepted([&] {
      keeping_.command("end", [&](Entry& entry) {
        end_sowing(
            entry, 1,
            {records::EndingKind::finished, {records::Date(std::chrono::days(day)), {}}, ""});
      });
    });
    CHECK(taken_now == (day >= model_.sown_day && next.can_be()));
    if (taken_now) model_ = next;
  }

  void assess() {
    Notebook next = model_;
    const std::int64_t units = 1 + below(4);
    next.assessed += units;
    const bool taken_now = accepted([&] {
      keeping_.command("assess", [&](Entry& entry) {
        records::Assessment assessment;
        assessment.on = keeping_.today;
        assessment.units = units;
        add_assessment(entry, 1, assessment);
      });
    });
    const bool fits = next.can_be() && (!next.units || next.assessed <= *next.units);
    CHECK(taken_now == fits);
    if (taken_now) model_ = next;
  }

  void change_units() {
    if (!model_.units) return;
    Notebook next = model_;
    next.units = 1 + below(30);
    const bool taken_now = accepted([&] {
      keeping_.command("amend", [&](Entry& entry) {
        records::Sowing sowing = sowing_by_id(keeping_.book, 1);
        sowing.units = next.units;
        change_sowing(entry, sowing);
      });
    });
    CHECK(taken_now == (next.can_be() && next.assessed <= *next.units));
    if (taken_now) model_ = next;
  }

  std::mt19937 random_;
  Keeping keeping_;
  Notebook model_;
};

}  // namespace

TEST_SUITE("random records") {
  TEST_CASE("the logbook takes what can be and nothing else") {
    int taken = 0;
    int refused = 0;
    for (unsigned seed = 1; seed <= rounds(300U); ++seed) {
      CAPTURE(seed);
      Play play(seed);
      for (int i = 0; i < 40; ++i) {
        CAPTURE(i);
        play.step();
      }
      play.finish();
      taken += play.taken;
      refused += play.refused;
    }
    // Both happen often, or the test shows little.
    CHECK(taken > rounds(3000));
    CHECK(refused > rounds(2000));
  }
}
