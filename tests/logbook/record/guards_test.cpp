// The schema refuses by itself what cannot be, whichever program writes: each guard and check is
// provoked by plain SQL, past the library.
#include <doctest/doctest.h>
#include <sqlite3.h>

#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/findings.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

// K3 of 20 seeds sown on 2026-04-03, 14 up on 2026-04-10, 16 on 2026-04-14; C1
// of 5 cells of 2 seeds; T1, a towel; E1 ended on 2026-04-20.
Keeping bench() {
  Keeping keeping;
  keeping.sow(tray("K3"));
  keeping.count("K3=14/15", "2026-04-10");
  keeping.count("K3=16/18", "2026-04-14");
  records::Sowing cells = tray("C1");
  cells.units = 5;
  cells.unit = records::UnitKind::cell;
  cells.seeds_per_cell = 2;
  keeping.sow(cells);
  records::Sowing towel = tray("T1");
  towel.taken_out = true;
  keeping.sow(towel);
  keeping.sow(tray("E1", "2026-04-03"));
  keeping.end("E1", records::EndingKind::finished, "2026-04-20");
  keeping.command("set up", [&](Entry& entry) {
    records::Trial trial;
    trial.code = "t1";
    trial.blocks = {"b1"};
    add_trial(entry, trial);
    trial.code = "t2";
    trial.blocks = {"b2"};
    add_trial(entry, trial);
    records::Assessment rotted;
    rotted.on = day("2026-04-20");
    rotted.outcome = records::Outcome::rotted;
    rotted.units = 2;
    add_assessment(entry, 1, rotted);
  });
  return keeping;
}

// What SQLite itself answers.
std::string raw(Keeping& keeping, const std::string& sql) {
  char* text = nullptr;
  sqlite3_exec(keeping.book.store().database().getHandle(), sql.c_str(), nullptr, nullptr, &text);
  std::string said = text ? text : "(accepted)";
  sqlite3_free(text);
  return said;
}

// kind 0, untimed, nothing else given.
std::string insert(int sowing, const char* moment, int total) {
  return "insert into counts (sowing, at, timed, kind, value, total, entry) values (" +
         std::to_string(sowing) + ", " + std::to_string(at(moment).minutes()) + ", " +
         (std::string(moment).size() > 10 ? "1" : "0") + ", 0, " + std::to_string(total) + ", " +
         std::to_string(total) + ", 1)";
}

// A row with its columns named.
std::string row(const char* columns, const std::string& values) {
  return std::string("insert into counts (sowing, at, timed, ") + columns + ", entry) values (" +
         values + ", 1)";
}

std::string when(const char* moment) { return std::to_string(at(moment).minutes()); }

}  // namespace

TEST_SUITE("guards") {
  TEST_CASE("counts that cannot be are refused by the file itself") {
    Keeping keeping = bench();
    const auto refuses = [&](const std::string& sql, const std::string& answer) {
      CAPTURE(sql);
      CHECK(raw(keeping, sql) == answer);
    };
    refuses(insert(1, "2026-04-02", 0), "a count before the sowing");
    refuses(insert(1, "2026-04-03", 1), "something up on the day of sowing");
    refuses(insert(1, "2026-04-20", 21), "more up than sown");
    // 16 up and 2 found rotted of 20: 18 may come up, 19 not.
    refuses(insert(1, "2026-04-20", 19), "more up than sown");
    refuses(insert(1, "2026-04-12", 13), "a total that falls");
    refuses(insert(1, "2026-04-12", 17), "a total that falls");
    refuses(insert(1, "2026-04-20", 15), "a total that falls");
    refuses(insert(4, "2026-04-21", 3), "a count after the ending");
    refuses(insert(3, "2026-04-12", 3), "a total where sprouts are taken out");
    refuses(row("kind, value, high, total", "4, " + when("2026-04-12") + ", 0, 0, 15, 25, 20"),
            "more up than sown");
    refuses(row("kind, value, high, total", "4, " + when("2026-04-12") + ", 0, 1, 15, 25, 20"),
            "more up than sown");
    refuses(row("kind, value, high, total", "1, " + when("2026-04-12") + ", 0, 0, 13, 17, 15"),
            "a total that falls");
    refuses(row("kind, value, seedlings, total", "4, " + when("2026-04-12") + ", 0, 0, 9, 5, 9"),
            "fewer seedlings than units");
    refuses(row("kind, value, seedlings, total", "2, " + when("2026-04-12") + ", 0, 0, 5, 11, 5"),
            "more seedlings than seeds");
    refuses(row("kind, value, seedlings, total", "1, " + when("2026-04-20") + ", 0, 0, 16, 17, 16"),
            "a total that falls");
    refuses(row("kind, value, seedlings, total", "1, " + when("2026-04-12") + ", 0, 0, 15, 19, 15"),
            "a total that falls");
    refuses(row("kind, value, seedlings, total", "4, " + when("2026-04-03") + ", 0, 3, 0, 2, 0"),
            "something up on the day of sowing");
    refuses("update counts set value = 3, total = 3 where sowing = 1", "a count is never edited");
    refuses("update counts set at = at + 1440", "a count is never edited");
    CHECK(raw(keeping, insert(1, "2026-04-12", 15)) == "(accepted)");
  }

  TEST_CASE("where times are known they count") {
    Keeping keeping;
    records::Sowing timed = tray("K3");
    timed.sown = at("2026-04-03T14:00");
    timed.ending = records::Ending{records::EndingKind::finished, at("2026-04-20T10:00"), {}};
    keeping.sow(timed);
    CHECK(raw(keeping, insert(1, "2026-04-03T13:59", 0)) == "a count before the sowing");
    CHECK(raw(keeping, insert(1, "2026-04-03T14:00", 0)) == "(accepted)");
    CHECK(raw(keeping, insert(1, "2026-04-03", 0)) == "(accepted)");
    CHECK(raw(keeping, insert(1, "2026-04-20T10:01", 1)) == "a count after the ending");
    CHECK(raw(keeping, insert(1, "2026-04-20T10:00", 1)) == "(accepted)");
    CHECK(raw(keeping, insert(1, "2026-04-20", 1)) == "(accepted)");
  }

  TEST_CASE("where only the day is known it counts from midnight to midnight") {
    Keeping keeping = bench();
    CHECK(raw(keeping, insert(1, "2026-04-02T23:59", 0)) == "a count before the sowing");
    CHECK(raw(keeping, insert(1, "2026-04-03T00:00", 0)) == "(accepted)");
    CHECK(raw(keeping, insert(1, "2026-04-03T23:59", 1)) == "something up on the day of sowing");
    CHECK(raw(keeping, insert(1, "2026-04-04T00:00", 1)) == "(accepted)");
    CHECK(raw(keeping, insert(4, "2026-04-20T23:59", 1)) == "(accepted)");
    CHECK(raw(keeping, insert(4, "2026-04-21T00:00", 1)) == "a count after the ending");
  }

  TEST_CASE("the columns refuse what is no count, no date, no word") {
    Keeping keeping = bench();
    const auto check_fails = [&](const std::string& sql, const char* answer = "CHECK") {
      CAPTURE(sql);
      CHECK(raw(keeping, sql).rfind(answer, 0) == 0);
    };
    const std::string on = "4, " + when("2026-04-12") + ", ";
    check_fails(row("kind, value, total", on + "0, 4, -1, -1"), "a total that falls");
    check_fails(row("kind, value, total", on + "0, 4, 3, 3"));
    check_fails(row("kind, value, total", on + "2, 0, 3, 3"));
    check_fails(row("kind, value, total", on + "0, 2, 3, 3"));
    check_fails(row("kind, value, lost, total", on + "0, 0, 3, 1, 3"));
    check_fails(row("kind, value, total", on + "0, 3, 0, 0"));
    check_fails(row("kind, value, total", on + "0, 0, 3, 4"));
    check_fails(row("kind, value, high, total", on + "0, 0, 5, 5, 5"));
    check_fails(row("kind, value, high, lost, total", on + "0, 2, 5, 7, 0, 5"));
    check_fails(row("kind, value, total", on + "0, 0, 1000000001, 1000000001"),
                "more up than sown");
    check_fails(row("kind, value, total", on + "0, 0, 2.5, 2"), "cannot store REAL");
    check_fails(row("kind, value, total", on + "0, 0, 'many', 2"), "cannot store TEXT");
    check_fails(row("kind, value, total", on + "0, 0, null, 2"), "NOT NULL");
    check_fails(row("kind, value, total", "1, " + when("2026-04-10") + ", 0, 0, 14, 14"), "UNIQUE");
    const auto sowing = [](const std::string& changed) {
      return "insert into sowings (label, sown_on, treatment, units_known, units, unit, counting, "
             "setting, taken_out, entry) select 'N1', '2026-04-03', 1, 'exact', 20, 'seed', "
             "'shoot', 'tray', 0, 1; update sowings set " +
             changed + " where label = 'N1'";
    };
    for (const char* changed : {"sown_on = '2026-02-30'",
                                "sown_on = '2026-4-3'",

                                "sown_time = '25:00'",
                                "sown_time = '7:30'",
                                "units = 0",
                                "units = -3",
                                "units = null",
                                "units = 1000000001",
                                "units_known = 'guessed'",
                                "unit = 'pip'",
                                "counting = 'leaf'",
                                "setting = 'bed'",
                                "taken_out = 2",
                                "ended_as = 'lost'",
                                "ended_as = 'finished'",
                                "ended_on = '2026-04-20'",
                                "ended_as = 'finished', ended_on = '2026-04-02'",
                                "wetted_on = '2026-04-04'",
                                "depth_mm = -1",
                                "grams = 0",
                                "metres = -1",
                                "seeds_per_cell = 0",

                                "label = ''"}) {
      check_fails("savepoint one; " + sowing(changed));
      raw(keeping, "rollback to one; release one");
    }
    check_fails("insert into lots (code, harvest_year, entry) values ('X1', 24, 1)");
    check_fails("insert into lots (code, label_germination, entry) values ('X1', 85, 1)");
    check_fails("insert into lots (code, seeds_per_gram, entry) values ('X1', 0, 1)");
    check_fails("insert into treatments (label, soak_hours, entry) values ('s', -1, 1)");
    check_fails("insert into treatments (label) values ('of no command')");
    check_fails("insert into trials (code, worth, entry) values ('t', 0, 1)");
    check_fails("insert into stock (lot, day, reason, entry) values (1, '2026-04-03', 'x', 1)");
    check_fails(
        "insert into temperatures (place, day, spot_c, entry) values ('b', '2026-04-03', 100, "
        "1)");
    check_fails("insert into temperatures (place, day, entry) values ('b', '2026-04-03', 1)");
    check_fails(
        "insert into temperatures (place, sowing, day, spot_c, entry) values ('b', 1, "
        "'2026-04-03', 9, 1)");
    check_fails(
        "insert into temperatures (place, day, min_c, max_c, entry) values ('b', "
        "'2026-04-03', 20, 10, 1)");
    check_fails(
        "insert into assessments (sowing, day, outcome, units, entry) values (4, "
        "'2026-04-20', 'fine', 1, 1)");
    check_fails(
        "insert into notes (about, of, day, text, entry) values ('bird', 1, '2026-04-03', "
        "'x', 1)");
  }

  TEST_CASE("one open sowing a label, one a label and day, nothing without what it belongs to") {
    Keeping keeping = bench();
    const std::string fields =
        "insert into sowings (label, sown_on, treatment, units_known, units, unit, counting, "
        "setting, taken_out, entry) values ";
    CHECK(raw(keeping, fields + "('k3', '2026-04-09', 1, 'exact', 20, 'seed', 'shoot', 'tray', 0, "
                                "1)") == "UNIQUE constraint failed: sowings.label");
    CHECK(raw(keeping, fields + "('e1', '2026-04-03', 1, 'exact', 20, 'seed', 'shoot', 'tray', 0, "
                                "1)") ==
          "UNIQUE constraint failed: sowings.label, sowings.sown_on");
    CHECK(raw(keeping, fields + "('N1', '2026-04-03', 9, 'exact', 20, 'seed', 'shoot', 'tray', 0, "
                                "1)") == "FOREIGN KEY constraint failed");
    CHECK(raw(keeping, insert(99, "2026-04-12", 3)) == "a count of no sowing");
    CHECK(raw(keeping, "delete from sowings where label = 'K3'") == "a sowing with counts is kept");
    CHECK(raw(keeping, "insert into people (name, entry) values ('x', 999)") ==
          "FOREIGN KEY constraint failed");
  }

  TEST_CASE("a sowing's own counts hold it") {
    Keeping keeping = bench();
    const std::pair<const char*, const char*> changes[] = {
        {"units = 15", "more up than sown"},
        {"units = 17", "more up than sown"},
        {"sown_on = '2026-04-11'", "a count before the sowing"},
        {"sown_on = '2026-04-10'", "something up on the day of sowing"},
        {"ended_as = 'finished', ended_on = '2026-04-13'", "a count after the ending"},
        {"taken_out = 1", "a total where sprouts are taken out"},
        {"unit = 'cell', units = 17", "more up than sown"}};
    const std::string before = record_of(keeping.book);
    for (const auto& one : changes) {
      CAPTURE(std::string(one.first));
      CHECK(raw(keeping, std::string("update sowings set ") + one.first + " where label = 'K3'") ==
            one.second);
      CHECK(record_of(keeping.book) == before);
    }
    CHECK(raw(keeping, "update sowings set units = 1 where label = 'E1'") == "(accepted)");
    CHECK(
        raw(keeping,
            "insert into assessments (sowing, day, outcome, units, entry) select id, '2026-04-20', "
            "'hard', 1, 1 from sowings where label = 'E1'; update sowings set units = 2 where "
            "label = 'E1'") == "(accepted)");
    CHECK(raw(keeping,
              "update assessments set day = '2026-04-19' where sowing = 4; insert into assessments "
              "(sowing, day, outcome, units, entry) values (4, '2026-04-20', 'hard', 1, 1); update "
              "sowings set units = 1 where id = 4") == "more assessed than did not come up");
    CHECK(raw(keeping, "update sowings set units = 18 where label = 'K3'") == "(accepted)");
    CHECK(raw(keeping, "update sowings set trial = 1, block = 2 where label = 'K3'") ==
          "a block of another trial");
    CHECK(raw(keeping, "update sowings set trial = 2, block = 2 where label = 'K3'") ==
          "(accepted)");
    CHECK(raw(keeping,
              "insert into sowings (label, sown_on, trial, block, treatment, units_known, units, "
              "unit, counting, setting, taken_out, entry) values ('N1', '2026-04-03', 1, 2, 1, "
              "'exact', 20, 'seed', 'shoot', 'tray', 0, 1)") == "a block of another trial");
  }

  TEST_CASE("assessments, untreated and the journal") {
    Keeping keeping = bench();
    CHECK(raw(keeping,
              "insert into assessments (sowing, day, outcome, units, entry) values (1, "
              "'2026-04-20', 'hard', 3, 1)") == "more assessed than did not come up");
    CHECK(raw(keeping, "update assessments set units = 1") == "an assessment is never edited");
    CHECK(raw(keeping, "delete from treatments where id = 1") == "untreated always exists");
    CHECK(raw(keeping, "delete from journal") == "the journal is kept");
  }

  TEST_CASE("the sqlite3 shell, which looks up no references, loses nothing either") {
    Keeping keeping = bench();
    keeping.amend("K3=15/15", "2026-04-10");
    raw(keeping, "pragma foreign_keys = off");
    CHECK(raw(keeping, insert(9219, "2026-04-15", 2)) == "a count of no sowing");
    CHECK(raw(keeping, "delete from sowings where id = 1") == "a sowing with counts is kept");
    CHECK(raw(keeping, "update journal set by = 'mallory'") == "the journal is kept");
    CHECK(raw(keeping, "delete from changes") == "what was changed is kept");
    CHECK(raw(keeping, "update changes set before = null") == "what was changed is kept");
  }

  TEST_CASE("a refusal of the file itself reaches a grower as a sentence, and stops the entry") {
    Keeping keeping = bench();
    Entry entry(keeping.book, "ada", "count", keeping.today);
    const auto run = [&](const std::string& sql) {
      return said([&] { Query(keeping.book.store(), sql).run(); });
    };
    CHECK(run(insert(1, "2026-04-20", 15)) ==
          "The total ever up cannot fall; seedlings that died are counted as lost.");
    CHECK(run(insert(1, "2026-04-10", 14)) == "The logbook has such a record already.");
    CHECK(run(insert(99, "2026-04-10", 14)) ==
          "The logbook's own rules refuse this record: one of its figures cannot be.");
    CHECK(run("update sowings set depth_mm = -1") ==
          "The logbook's own rules refuse this record: one of its figures cannot be.");
    CHECK(said([&] { entry.commit(); }) ==
          "A part of the command was refused, so the whole of it is.");
  }

  TEST_CASE("check finds what was written past the guards") {
    Keeping keeping = bench();
    const auto findings = [&keeping] {
      Findings found;
      check_record(keeping.book, found);
      return found.all().size();
    };
    CHECK(findings() == 0);
    keeping.book.store().run("drop trigger count_guard");
    const std::pair<std::string, const char*> rows[] = {
        {insert(1, "2026-04-02", 0), "a count before the sowing"},
        {insert(4, "2026-04-03", 1), "something up on the day of sowing"},
        {insert(4, "2026-04-19", 21), "more up than sown"},
        {insert(4, "2026-04-21", 0), "a count after the ending"},
        {insert(3, "2026-04-12", 3), "a total where sprouts are taken out"},
        {insert(1, "2026-04-15", 2), "a total that falls"},
        {row("kind, value, high, total", "1, " + when("2026-04-15") + ", 0, 0, 12, 21, 16"),
         "more up than sown"},
        {row("kind, value, high, total", "1, " + when("2026-04-15") + ", 0, 0, 14, 18, 16"),
         "a total that falls"},
        {row("kind, value, seedlings, total", "4, " + when("2026-04-12") + ", 0, 0, 9, 5, 9"),
         "fewer seedlings than units"},
        {row("kind, value, seedlings, total", "2, " + when("2026-04-12") + ", 0, 0, 5, 11, 5"),
         "more seedlings than seeds"},
        {row("kind, value, seedlings, total", "1, " + when("2026-04-15") + ", 0, 0, 16, 17, 16"),
         "seedlings in all that fall"}};
    for (const auto& one : rows) {
      const std::string& sql = one.first;
      CAPTURE(sql);
      CAPTURE(one.second);
      keeping.book.store().run("savepoint one; " + sql);
      CHECK(findings() == 1);
      keeping.book.store().run("rollback to one; release one");
    }
  }
}
