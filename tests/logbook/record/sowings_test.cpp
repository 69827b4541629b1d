// Sowings: laid out, found, changed, moved, ended; and each refusal.
#include "logbook/record/sowings.hpp"
#include "logbook/record/moves.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;
using records::EndingKind;
using records::Sowing;

namespace {

std::string sowing_said(Keeping& keeping, const Sowing& sowing) {
  return said([&] { keeping.sow(sowing); });
}

template <class Change>
std::string changing(Keeping& keeping, const std::string& name, const Change& change) {
  return said([&] {
    keeping.command("amend", [&](Entry& entry) {
      Sowing sowing = sowing_named(keeping.book, name);
      change(sowing);
      change_sowing(entry, sowing);
    });
  });
}

void add_trial_and_batch(Keeping& keeping) {
  keeping.command("set up", [&](Entry& entry) {
    records::Trial trial;
    trial.code = "beans26";
    trial.blocks = {"north"};
    add_trial(entry, trial);
    records::Treatment soak;
    soak.label = "soak8";
    soak.soak_hours = 8;
    add_treatment(entry, soak);
    add_batch(entry, {0, "J1", "soak8", day("2026-04-02")});
  });
}

}  // namespace

TEST_SUITE("sowings") {
  TEST_CASE("every field comes back as it was given") {
    Keeping keeping;
    keeping.lot("X7", "bean");
    add_trial_and_batch(keeping);
    Sowing sowing = tray("A1");
    sowing.sown = at("2026-04-03T14:20");
    sowing.lot = "x7";
    sowing.treatment = "SOAK8";
    sowing.batch = "j1";
    sowing.trial = "beans26";
    sowing.block = "south";
    sowing.units_known = records::UnitsKnown::estimated;
    sowing.grams = 0.1 + 0.2;
    sowing.metres = 1.5;
    sowing.unit = records::UnitKind::cell;
    sowing.seeds_per_cell = 3;
    sowing.counting = records::Counting::usable_seedling;
    sowing.wetted = at("2026-04-02T06:00");
    sowing.setting = records::Setting::cells;
    sowing.taken_out = true;
    sowing.depth_mm = 12.5;
    sowing.medium = "sand";
    sowing.place = "bench 2";
    sowing.bench_order = 4;
    const records::Id id = keeping.sow(sowing);
    const Sowing found = sowing_by_id(keeping.book, id);
    CHECK(found.sown == sowing.sown);
    CHECK(found.lot == "X7");
    CHECK(found.crop == "bean");
    CHECK(found.treatment == "soak8");
    CHECK(found.batch == "J1");
    CHECK(found.trial == "beans26");
    CHECK(found.block == "south");
    CHECK(found.units_known == sowing.units_known);
    CHECK(found.units == 20);
    CHECK(found.grams == sowing.grams);
    CHECK(found.metres == 1.5);
    CHECK(found.unit == records::UnitKind::cell);
    CHECK(found.seeds_per_cell == 3);
    CHECK(found.counting == sowing.counting);
    CHECK(found.wetted == sowing.wetted);
    CHECK(found.setting == records::Setting::cells);
    CHECK(found.taken_out);
    CHECK(found.depth_mm == 12.5);
    CHECK(found.medium == "sand");
    CHECK(found.place == "bench 2");
    CHECK(found.bench_order == 4);
    CHECK(found.open());
    CHECK(trial_named(keeping.book, "beans26").blocks ==
          std::vector<std::string>{"north", "south"});
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("what a sowing names must be there") {
    Keeping keeping;
    keeping.lot("X7", "bean");
    add_trial_and_batch(keeping);
    Sowing sowing = tray("A1");
    sowing.lot = "X8";
    CHECK(sowing_said(keeping, sowing) == "There is no lot \"X8\". Near it: X7.");
    sowing.lot = "X7";
    sowing.crop = "pea";
    CHECK(sowing_said(keeping, sowing) ==
          "A1: its lot X7 is of crop bean, not of pea. Another lot? A wrong crop?");
    sowing.crop = "BEAN";
    sowing.treatment = "soak9";
    CHECK(sowing_said(keeping, sowing) == "There is no treatment \"soak9\". Near it: soak8.");
    sowing.treatment = "untreated";
    sowing.batch = "J1";
    CHECK(sowing_said(keeping, sowing) == "A1: batch J1 is of treatment soak8, not untreated.");
    sowing.batch = "J2";
    CHECK(sowing_said(keeping, sowing) == "A1: there is no batch J2 of treated seed.");
    sowing.batch = "";
    sowing.trial = "beans25";
    CHECK(sowing_said(keeping, sowing) == "There is no trial \"beans25\". Near it: beans26.");
    sowing.trial = "";
    CHECK(sowing_said(keeping, sowing) == "(not refused)");
    CHECK(sowing_named(keeping.book, "A1").crop == "bean");
  }

  TEST_CASE("a label that is open, the same day twice, a day to come") {
    Keeping keeping;
    Sowing first = tray("A1", "2026-03-01");
    first.crop = "pea";
    keeping.sow(first);
    CHECK(sowing_said(keeping, tray("a1")) == "A1 is still open: sown on Sun 1 Mar 2026 with pea.");
    CHECK(sowing_said(keeping, tray("A1", "2026-03-01")) ==
          "A1 was sown on Sun 1 Mar 2026 already. Another one needs another label.");
    CHECK(sowing_said(keeping, tray("A2", "2026-05-02")) ==
          "A2: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    keeping.end("A1", EndingKind::sown_over, "2026-04-03");
    CHECK(sowing_said(keeping, tray("A1")) == "(not refused)");
    // An older one may be written down late, with its ending.
    Sowing older = tray("A1", "2025-03-01");
    older.ending = records::Ending{EndingKind::finished, at("2025-03-20"), "all up"};
    CHECK(sowing_said(keeping, older) == "(not refused)");
    older.sown = at("2024-03-01");
    older.ending->at = at("2026-06-01");
    CHECK(sowing_said(keeping, older) ==
          "A1: Mon 1 Jun 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a sowing is found by its label, its year, its month or its day") {
    Keeping keeping;
    for (const char* sown : {"2024-03-01", "2025-03-01", "2025-06-01"}) {
      Sowing sowing = tray("A1", sown);
      sowing.ending = records::Ending{EndingKind::finished, at("2025-07-01"), {}};
      keeping.sow(sowing);
    }
    CHECK(sowing_named(keeping.book, "A1").sown == at("2025-06-01"));
    keeping.sow(tray("A1", "2026-03-01"));
    const auto sown = [&](const char* name) {
      return records::to_text(sowing_named(keeping.book, name).sown);
    };
    CHECK(sown("a1") == "2026-03-01");
    CHECK(sown("A1@2024") == "2024-03-01");
    CHECK(sown("A1@2025-06") == "2025-06-01");
    CHECK(sown("A1@2025-03-01") == "2025-03-01");
    CHECK(label_shared(keeping.book, "a1"));
    CHECK_FALSE(label_shared(keeping.book, "B1"));
    const auto naming = [&](const char* name) {
      return said([&] { sowing_named(keeping.book, name); });
    };
    CHECK(naming("A1@2025") ==
          "A1 was sown more than once in 2025: on 2025-03-01 and 2025-06-01. Name the day: "
          "A1@2025-06-01.");
    CHECK(naming("A1@2020") ==
          "No A1 was sown in 2020. Sown on: 2024-03-01, 2025-03-01, 2025-06-01, 2026-03-01.");
    CHECK(naming("A1@spring") ==
          "\"A1@spring\": after the @ comes the year or the day of sowing, such as A1@2025 or "
          "A1@2025-04-03.");
    CHECK(naming("A1@") ==
          "\"A1@\": after the @ comes the year or the day of sowing, such as A1@2025 or "
          "A1@2025-04-03.");
    CHECK(naming("A2") == "There is no sowing \"A2\". Near it: A1.");
    CHECK(naming("A 1").rfind("No sowing: \"A 1\" is no label", 0) == 0);
    CHECK_FALSE(find_sowing(keeping.book, "Z9").has_value());
    CHECK_FALSE(find_sowing(keeping.book, "A1@2020").has_value());
    Keeping empty;
    CHECK(said([&] { sowing_named(empty.book, "A1"); }) ==
          "There is no sowing \"A1\". The logbook has none yet.");
    CHECK(said([&] { sowing_by_id(empty.book, 9); }) ==
          "That sowing is not in the logbook any more.");
  }

  TEST_CASE("open sowings come in walking order") {
    Keeping keeping;
    const auto put = [&](const char* label, const char* place, std::int64_t order) {
      Sowing sowing = tray(label);
      sowing.place = place;
      sowing.bench_order = order;
      return keeping.sow(sowing);
    };
    put("A10", "bench 2", 0);
    put("A2", "bench 2", 0);
    put("B1", "bench 10", 0);
    const records::Id c1 = put("C1", "bench 1", 2);
    put("C2", "bench 1", 1);
    put("D1", "bench 1", 0);
    keeping.end("D1", EndingKind::finished, "2026-04-20");
    const auto walk = [&] {
      std::string labels;
      for (const Sowing& sowing : open_sowings(keeping.book)) labels += sowing.label + ' ';
      return labels;
    };
    CHECK(walk() == "C2 C1 A2 A10 B1 ");
    keeping.command("move", [&](Entry& entry) {
      move_sowing(entry, c1, {0, day("2026-04-10"), "bench 10"});
    });
    CHECK(walk() == "C2 A2 A10 B1 C1 ");
  }

  TEST_CASE("moves say where it stands, and keep where it was sown") {
    Keeping keeping;
    Sowing sowing = tray("A1");
    sowing.place = "cellar";
    const records::Id id = keeping.sow(sowing);
    const auto move = [&](const char* on, const char* place) {
      return said([&] {
        keeping.command("move", [&](Entry& entry) { move_sowing(entry, id, {0, day(on), place}); });
      });
    };
    CHECK(move("2026-04-10", "bench") == "(not refused)");
    CHECK(sowing_by_id(keeping.book, id).place == "bench");
    CHECK(move("2026-04-06", "shed") == "(not refused)");  // written down late
    CHECK(sowing_by_id(keeping.book, id).place == "bench");
    CHECK(moves_of(keeping.book, id).size() == 2);
    CHECK(moves_of(keeping.book, id)[0].place == "shed");
    CHECK(move("2026-04-11", "") == "A1: moved where to? Name the place.");
    CHECK(move("2026-04-02", "x") ==
          "A1 was sown on Fri 3 Apr 2026, after Thu 2 Apr 2026. Another day meant?");
    CHECK(move("2026-05-02", "x") ==
          "A1: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.place = "frame"; }) == "(not refused)");
    CHECK(moves_of(keeping.book, id)[1].place == "frame");
    CHECK(keeping.number("select count(*) from sowings where place = 'cellar'") == 1);
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.place = ""; }) ==
          "A1: it was moved, so it stands somewhere. Name the place.");
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("endings: once, not before the last look, not ahead, and taken back") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    keeping.count("A1=5", "2026-04-10");
    const auto end = [&](const char* on) {
      return said([&] { keeping.end("A1", EndingKind::accident, on, "knocked over"); });
    };
    CHECK(end("2026-04-09") ==
          "A1 was counted on 2026-04-10 (5 up in all), after an ending on 2026-04-09.");
    CHECK(end("2026-05-02") == "A1: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(end("2026-04-02").rfind("A1: ended on Thu 2 Apr 2026, before it was sown", 0) == 0);
    CHECK(end("2026-04-12") == "(not refused)");
    const Sowing ended = sowing_by_id(keeping.book, id);
    REQUIRE(ended.ending.has_value());
    CHECK(ended.ending->kind == EndingKind::accident);
    CHECK(ended.ending->why == "knocked over");
    CHECK(end("2026-04-13") == "A1 ended already, on Sun 12 Apr 2026 (accident).");
    const auto reopen = [&] {
      return said(
          [&] { keeping.command("amend", [&](Entry& entry) { reopen_sowing(entry, id); }); });
    };
    keeping.sow(tray("A1", "2026-04-20"));
    CHECK(reopen().rfind("A1 is still open: sown on Mon 20 Apr 2026", 0) == 0);
    keeping.end("A1", EndingKind::failed, "2026-04-25");
    CHECK(reopen() == "(not refused)");
    CHECK(reopen() == "A1 is open: there is no ending to take back.");
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a sowing is changed as far as what was seen of it allows") {
    Keeping keeping;
    keeping.sow(tray("A1"));
    keeping.count("A1=14", "2026-04-10");
    keeping.command("assess", [&](Entry& entry) {
      records::Assessment rotted;
      rotted.on = day("2026-04-20");
      rotted.outcome = records::Outcome::rotted;
      rotted.units = 3;
      add_assessment(entry, 1, rotted);
    });
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.units = 12; }) ==
          "A1: 14 up on Fri 10 Apr 2026, so 12 sown cannot be.");
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.units = 16; }) ==
          "A1: 14 came up and 3 were assessed, which is more than 16 sown.");
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.sown = at("2026-04-11"); }) ==
          "A1 was sown on 2026-04-11, and was counted on 2026-04-10. The sowing date must not come "
          "after a count.");
    CHECK(changing(keeping, "A1", [](Sowing& s) {
            s.taken_out = true;
          }).rfind("A1: sprouts are taken out", 0) == 0);
    CHECK(changing(keeping, "A1", [](Sowing& s) { s.sown = at("2026-06-01"); }) ==
          "A1: Mon 1 Jun 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(changing(keeping, "A1", [](Sowing& s) {
            s.units = 17;
            s.label = "A1b";
            s.sown = at("2026-04-01T10:00");
            s.medium = "peat";
          }) == "(not refused)");
    const Sowing found = sowing_named(keeping.book, "A1b");
    CHECK(found.units == 17);
    CHECK(found.medium == "peat");
    // Only the columns that changed are in the ledger.
    CHECK(keeping.number("select count(*) from changes where tab = 'sowings' and before like "
                         "'{\"label\":\"A1\",\"sown_on\":\"2026-04-03\",\"sown_time\":null,"
                         "\"units\":20,\"medium\":null}'") == 1);
    undo(keeping.book, "ada");
    CHECK(sowing_named(keeping.book, "A1").units == 20);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("photographs are kept by their path") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    const auto photo = [&](const char* on, const char* path) {
      return said([&] {
        keeping.command("photo", [&](Entry& entry) {
          add_photograph(entry, id, {0, day(on), path, "up"});
        });
      });
    };
    CHECK(photo("2026-04-10", "a1.jpg") == "(not refused)");
    CHECK(photo("2026-04-10", "") == "A1: a photograph needs the path of its file.");
    CHECK(photo("2026-05-10", "x.jpg") == "A1: Sun 10 May 2026 has not come yet.");
    REQUIRE(photographs_of(keeping.book, id).size() == 1);
    CHECK(photographs_of(keeping.book, id)[0].path == "a1.jpg");
    CHECK(photographs_of(keeping.book, id)[0].caption == "up");
  }
}
