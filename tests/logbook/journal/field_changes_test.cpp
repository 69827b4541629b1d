// What the ledger says was changed of a sowing, a lot, a trial and a treatment; and a look after an
// accident.
#include <doctest/doctest.h>

#include <set>

#include "logbook/journal/field_changes.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/ledger.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/store/store.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
using plumule::records::About;
using plumule::records::EndingKind;
using plumule::records::Refused;

namespace {

std::vector<std::string> said(Keeping& keeping, About about, plumule::records::Id id) {
  std::vector<std::string> all;
  for (const FieldChange& one : field_changes(keeping.book, about, id))
    all.push_back(one.by + ", " + one.field + ": " + one.before + " -> " + one.after);
  return all;
}

}  // namespace

TEST_SUITE("what was changed") {
  TEST_CASE("fields of a sowing, its lot by name, its ending whole, its place also once moved") {
    Keeping keeping;
    keeping.lot("L1");
    const auto id = keeping.sow(tray("A1"));
    keeping.command("amend A1", [&](Entry& entry) {
      auto sowing = sowing_by_id(keeping.book, id);
      sowing.units = 25;
      sowing.lot = "L1";
      sowing.crop.clear();
      sowing.place = "bench";
      change_sowing(entry, sowing);
    });
    keeping.by = "ben";
    keeping.end("A1", EndingKind::failed, "2026-04-20", "dried out");
    keeping.command("amend A1", [&](Entry& entry) { reopen_sowing(entry, id); });
    keeping.command("move A1", [&](Entry& entry) {
      move_sowing(entry, id, {0, day("2026-04-10"), "shelf"});
    });
    keeping.command("amend A1", [&](Entry& entry) {
      auto sowing = sowing_by_id(keeping.book, id);
      sowing.place = "sill";
      change_sowing(entry, sowing);
    });
    CHECK(said(keeping, About::sowing, id) ==
          std::vector<std::string>{
              "ada, lot:  -> L1", "ada, number sown: 20 -> 25", "ada, place:  -> bench",
              "ben, ending:  -> failed, 2026-04-20 (dried out)",
              "ben, ending: failed, 2026-04-20 (dried out) -> ", "ben, place: shelf -> sill"});
    // What was taken back is not told.
    undo(keeping.book, "ben");
    CHECK(said(keeping, About::sowing, id).size() == 5);
    CHECK(said(keeping, About::sowing, keeping.sow(tray("A2"))).empty());
  }

  TEST_CASE("no column of a sowing, a lot, a trial or a treatment is passed over") {
    Keeping keeping;
    keeping.lot("L1");
    keeping.sow(tray("A1"));
    keeping.command("set up", [&](Entry& entry) {
      plumule::records::Trial trial;
      trial.code = "T1";
      add_trial(entry, trial);
    });
    // Beside the row's own: what is told as one with how the sowing ended.
    const std::set<std::string> no_field{"id", "entry", "ended_time", "ended_why"};
    struct Kind {
      About about;
      std::string table;
    };
    for (const Kind& kind : {Kind{About::sowing, "sowings"}, Kind{About::lot, "lots"},
                             Kind{About::trial, "trials"}, Kind{About::treatment, "treatments"}}) {
      Store& store = keeping.book.store();
      std::vector<std::string> columns;
      Query all(store, "select name from pragma_table_info('" + kind.table + "')");
      while (all.next()) columns.push_back(all.text(0));
      REQUIRE(columns.size() > 5);
      for (const auto& column : columns) {
        if (no_field.contains(column)) continue;
        CAPTURE(kind.table);
        CAPTURE(column);
        const auto before = field_changes(keeping.book, kind.about, 1).size();
        keeping.command("change", [&](Entry& entry) {
          const Row after{{column, Value("other")}};
          keep_change(store, entry.id(), kind.table, {{"id", Value(std::int64_t{1})}},
                      {{column, Value("one")}}, &after);
        });
        CHECK(field_changes(keeping.book, kind.about, 1).size() == before + 1);
      }
    }
  }

  TEST_CASE("of a lot, a trial and a treatment") {
    Keeping keeping;
    const auto lot = keeping.lot("L1");
    keeping.command("lot L1", [&](Entry& entry) {
      auto changed = lot_named(keeping.book, "L1");
      changed.crop = "leek";
      changed.label_germination = 0.9;
      changed.irreplaceable = true;
      change_lot(entry, changed);
    });
    CHECK(said(keeping, About::lot, lot) ==
          std::vector<std::string>{"ada, crop: bean -> leek", "ada, label:  -> 90 %",
                                   "ada, irreplaceable: no -> yes"});
    plumule::records::Trial trial;
    trial.code = "T";
    trial.closes_on = day("2026-05-04");
    trial.id = keeping.command("sow", [&](Entry& entry) { return add_trial(entry, trial); });
    trial.closes_on = day("2026-05-11");
    trial.worth = 0.1;
    keeping.command("amend", [&](Entry& entry) { change_trial(entry, trial); });
    CHECK(said(keeping, About::trial, trial.id) ==
          std::vector<std::string>{"ada, last day: 2026-05-04 -> 2026-05-11",
                                   "ada, difference worth having:  -> 10 points"});
    plumule::records::Treatment treatment;
    treatment.label = "warm";
    treatment.id =
        keeping.command("sow", [&](Entry& entry) { return add_treatment(entry, treatment); });
    treatment.soak_hours = 8;
    keeping.command("amend", [&](Entry& entry) { change_treatment(entry, treatment); });
    CHECK(said(keeping, About::treatment, treatment.id) ==
          std::vector<std::string>{"ada, hours soaked:  -> 8"});
  }

  TEST_CASE("an ending is no correction, what is changed of it is") {
    Keeping keeping;
    keeping.sow(tray("E1"));
    keeping.count("E1=7", "2026-04-20");
    keeping.end("E1", EndingKind::finished, "2026-04-22");
    const auto corrections = [&] { return keeping.number("select count(*) from corrections"); };
    CHECK(corrections() == 0);
    keeping.command(
        "amend", [&](Entry& entry) { reopen_sowing(entry, sowing_named(keeping.book, "E1").id); });
    CHECK(corrections() == 1);
    keeping.amend("E1=8", "2026-04-20");
    CHECK(corrections() == 2);
  }

  TEST_CASE("after an accident the last good look stays the last") {
    Keeping keeping;
    keeping.sow(tray("E2"));
    keeping.count("E2=7", "2026-04-20");
    keeping.end("E2", EndingKind::accident, "2026-04-22", "knocked over");
    CHECK_THROWS_AS(keeping.count("E2=9", "2026-04-22"), Refused);
    CHECK_THROWS_AS(keeping.count("E2=9", "2026-04-22T08:00"), Refused);
    CHECK(keeping.totals("E2") == Totals{7});
    keeping.count("E2=8", "2026-04-21");  // a day before it
    CHECK(keeping.totals("E2") == Totals{7, 8});
    // With both times known the course itself tells which came first.
    keeping.sow(tray("E3"));
    keeping.end("E3", EndingKind::accident, "2026-04-22T12:00");
    CHECK(keeping.count("E3=9", "2026-04-22T08:00") == Kept::saved);
    CHECK_THROWS_AS(keeping.count("E3=10", "2026-04-22T13:00"), Refused);
    // Other endings are results: what stood on their day may be entered late.
    keeping.sow(tray("E4"));
    keeping.end("E4", EndingKind::finished, "2026-04-22");
    CHECK(keeping.count("E4=9", "2026-04-22") == Kept::saved);
  }
}
