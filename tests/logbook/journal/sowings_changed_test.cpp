// Sowings that left a trial, came into it or were put to another treatment after its first count.
#include "logbook/journal/sowings_changed.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

struct Trays : Keeping {
  Trays() {
    records::Trial trial;
    trial.code = "T";
    command("trial", [&](Entry& entry) { add_trial(entry, trial); });
    for (const char* label : {"A1", "A2", "A3"}) {
      records::Sowing sowing = tray(label);
      sowing.trial = "T";
      sow(sowing);
    }
  }
  template <class Change>
  void change(const std::string& label, const Change& how) {
    records::Sowing sowing = sowing_named(book, label);
    how(sowing);
    command("amend " + label, [&](Entry& entry) { change_sowing(entry, sowing); });
  }
  std::optional<records::SowingsChanged> changed() {
    return sowings_changed(book, trial_named(book, "T"));
  }
};

using Names = std::vector<std::string>;

}  // namespace

TEST_SUITE("sowings of a trial changed after its first count") {
  TEST_CASE("a correction before any count of the trial is simply the plan") {
    Trays kept;
    kept.change("A1", [](auto& sowing) { sowing.units = 25; });
    kept.change("A2", [](auto& sowing) { sowing.trial.clear(); });
    kept.count("A2=1", "2026-04-10");  // of no trial by now
    kept.count("A1=3", "2026-04-11");
    CHECK_FALSE(kept.changed());
  }

  TEST_CASE("one that leaves after the first count is named, until undo takes it back") {
    Trays kept;
    kept.count("A1=3", "2026-04-10");
    kept.change("A1", [](auto& sowing) { sowing.trial.clear(); });
    REQUIRE(kept.changed());
    CHECK(kept.changed()->left == Names{"A1"});
    CHECK(kept.changed()->changed.empty());
    undo(kept.book, kept.by);
    CHECK_FALSE(kept.changed());
  }

  TEST_CASE("one that is put into it after the first count is named") {
    Trays kept;
    kept.sow(tray("B1"));
    kept.count("A1=3", "2026-04-10");
    kept.change("B1", [](auto& sowing) { sowing.trial = "T"; });
    REQUIRE(kept.changed());
    CHECK(kept.changed()->joined == Names{"B1"});
  }

  TEST_CASE("what was changed is said, and what was changed back is not") {
    Trays kept;
    kept.count("A1=3", "2026-04-10");
    kept.change("A2", [](auto& sowing) { sowing.units = 25; });
    kept.change("A3", [](auto& sowing) { sowing.place = "bench"; });
    REQUIRE(kept.changed());
    REQUIRE(kept.changed()->changed.size() == 1);
    CHECK(kept.changed()->changed[0].label == "A2");
    CHECK(kept.changed()->changed[0].fields == Names{"number sown"});
    kept.amend("A1=4", "2026-04-10");
    CHECK(kept.changed());
    kept.change("A2", [](auto& sowing) { sowing.units = 20; });
    CHECK_FALSE(kept.changed());
  }
}
