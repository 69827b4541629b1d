// The last day of a trial is what it was when the first count was entered.
#include "logbook/record/last_day.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

struct TrialKept : Keeping {
  explicit TrialKept(std::optional<records::Date> last_day, std::vector<records::Date> looks = {}) {
    records::Trial trial;
    trial.code = "T";
    trial.closes_on = last_day;
    trial.inspections = std::move(looks);
    command("trial", [&](Entry& entry) { add_trial(entry, trial); });
    records::Sowing sowing = tray("A1");
    sowing.trial = "T";
    sow(sowing);
  }
  template <class Change>
  void change(const Change& how) {
    records::Trial trial = trial_named(book, "T");
    how(trial);
    command("amend", [&](Entry& entry) { change_trial(entry, trial); });
  }
  std::optional<records::LastDayMoved> moved() {
    return last_day_moved(book, trial_named(book, "T"));
  }
};

}  // namespace

TEST_SUITE("last day of a trial") {
  TEST_CASE("changed before the first count it is simply the plan") {
    TrialKept kept(day("2026-05-20"));
    kept.change([](auto& trial) { trial.closes_on = day("2026-04-25"); });
    kept.count("A1=3", "2026-04-10");
    CHECK_FALSE(kept.moved());
  }

  TEST_CASE("changed after it, the day before the first change stands") {
    TrialKept kept(day("2026-05-20"));
    kept.count("A1=3", "2026-04-10");
    kept.change([](auto& trial) { trial.question = "sooner?"; });
    CHECK_FALSE(kept.moved());
    kept.change([](auto& trial) { trial.closes_on = day("2026-04-12"); });
    kept.change([](auto& trial) { trial.closes_on.reset(); });
    const auto moved = kept.moved();
    REQUIRE(moved);
    CHECK(moved->fixed == day("2026-05-20"));
    CHECK(moved->on == kept.today);  // the grower's day, not the clock's
    undo(kept.book, kept.by);
    undo(kept.book, kept.by);
    CHECK_FALSE(kept.moved());
  }

  TEST_CASE("a correction of the first count hides no change") {
    TrialKept kept(day("2026-05-20"));
    kept.count("A1=3", "2026-04-10");
    kept.change([](auto& trial) { trial.closes_on = day("2026-04-12"); });
    kept.amend("A1=4", "2026-04-10");
    REQUIRE(kept.moved());
    CHECK(kept.moved()->fixed == day("2026-05-20"));
  }

  TEST_CASE("none planned before the first count: none is fixed") {
    TrialKept kept(std::nullopt);
    kept.count("A1=3", "2026-04-10");
    kept.change([](auto& trial) { trial.closes_on = day("2026-04-12"); });
    REQUIRE(kept.moved());
    CHECK_FALSE(kept.moved()->fixed);
  }

  TEST_CASE("without a last day the last planned inspection is it, as it was") {
    TrialKept kept(std::nullopt, {day("2026-04-10"), day("2026-04-24")});
    kept.count("A1=3", "2026-04-10");
    kept.change([](auto& trial) { trial.inspections.pop_back(); });
    REQUIRE(kept.moved());
    CHECK(kept.moved()->fixed == day("2026-04-24"));
  }
}
