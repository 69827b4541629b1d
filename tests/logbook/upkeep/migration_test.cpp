// An older file climbs the ladder: a copy beside it first, then all steps or none.
#include "logbook/upkeep/migrations.hpp"

#include <doctest/doctest.h>

#include "logbook/folder.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/settings.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

Ladder with_step(const std::string& sql) {
  Ladder longer = ladder();
  longer.steps.push_back({"schema/0002_invented.sql", sql});
  return longer;
}

std::string trouble_of(const std::string& path, const Ladder& steps) {
  try {
    Logbook::open(path, Access::write, steps);
  } catch (const Unusable& error) {
    return error.what();
  }
  return "(usable)";
}

std::string make(const Folder& folder) {
  std::string path = folder / "plumule.db";
  Keeping keeping(Logbook::create(path));
  keeping.sow(tray("K3"));
  keeping.count("K3=14", "2026-04-10");
  return path;
}

}  // namespace

TEST_SUITE("migrations") {
  TEST_CASE("the ladder is the numbered files, and a logbook stands on its top") {
    REQUIRE(ladder().version() >= 1);
    CHECK(ladder().steps[0].name == "schema/0001_record.sql");
    Logbook book = Logbook::in_memory();
    CHECK(read_marks(book.store()).version == ladder().version());
  }

  TEST_CASE("an older file is copied, then brought up to date, with its guards laid anew") {
    const Folder folder;
    const std::string path = make(folder);
    const auto next = ladder().version() + 1;
    const Ladder longer = with_step("alter table sowings add column colour text");
    Keeping keeping(Logbook::open(path, Access::read, longer));
    const std::string copy = path + ".before-" + std::to_string(next);
    CHECK(keeping.book.migration_backup() == copy);
    CHECK(keeping.number("pragma user_version") == next);
    CHECK(keeping.number("select count(colour) from sowings") == 0);
    CHECK(keeping.number("pragma foreign_keys") == 1);
    CHECK(keeping.totals("K3") == Totals{14});
    CHECK(keeping.number("select count(*) from sqlite_master where name = 'count_guard'") == 1);
    // The copy is a whole logbook of the older make.
    Keeping old(Logbook::open(copy, Access::read));
    CHECK(old.totals("K3") == Totals{14});
    CHECK(check(old.book).empty());
    CHECK(folder.files() == 2);
    // Opened again there is nothing left to do.
    CHECK_FALSE(Logbook::open(path, Access::write, longer).migration_backup().has_value());
    CHECK(folder.files() == 2);
  }

  TEST_CASE("a logbook of the first make keeps the grower's day from now on") {
    const Folder folder;
    const std::string path = folder / "plumule.db";
    {
      Store store(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
      lay_schema(store, Ladder{{ladder().steps[0]}});
      store.run(
          "insert into journal (at, by, command, summary) values ('2026-04-03T23:30:00Z', 'ada', "
          "'plumule lot K', 'made a lot')");
    }
    Keeping keeping(Logbook::open(path, Access::write));
    CHECK(keeping.book.migration_backup() ==
          path + ".before-" + std::to_string(ladder().version()));
    keeping.sow(tray("K3"));
    CHECK(keeping.number("select count(*) from journal where day is null") == 1);
    CHECK(keeping.number("select count(*) from journal where day = '2026-05-01'") == 1);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a logbook of the second make gains the views of what stands") {
    const Folder folder;
    const std::string path = folder / "plumule.db";
    {
      Store store(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
      lay_schema(store, Ladder{{ladder().steps[0], ladder().steps[1]}});
      // Its views knew what came up, and no more.
      store.run(
          "drop view daily_counts; drop view sowing_state;"
          "create view daily_counts as select lost, total as emerged from counts;"
          "create view sowing_state as select label as sowing from sowings");
    }
    Keeping keeping(Logbook::open(path, Access::write));
    CHECK(keeping.book.migration_backup() ==
          path + ".before-" + std::to_string(ladder().version()));
    CHECK(keeping.number("pragma user_version") == ladder().version());
    for (const char* label : {"K3", "K4"}) keeping.sow(tray(label));
    for (const char* pair : {"K3=14", "K4=9"}) keeping.count(pair, "2026-04-10");
    keeping.count("K3=11-5", "2026-04-12");
    keeping.count("K3=10-1", "2026-04-14");
    keeping.count("K3+2", "2026-04-15");
    CHECK(keeping.number("select count(*) from sowing_state where sowing = 'K3' and emerged = 18 "
                         "and lost = 6 and standing = 12") == 1);
    CHECK(keeping.number("select count(*) from sowing_state where sowing = 'K4' and emerged = 9 "
                         "and lost is null and standing = 9") == 1);
    CHECK(keeping.number("select count(*) from daily_counts where counted_on = '2026-04-12' and "
                         "lost = 5 and lost_so_far = 5 and standing = 11 and newly_emerged = 2") ==
          1);
    CHECK(keeping.number("select count(*) from daily_counts where counted_on = '2026-04-15' and "
                         "lost is null and lost_so_far = 6 and standing = 12") == 1);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a logbook of the third make gains settings, and views with a share of its own") {
    const Folder folder;
    const std::string path = folder / "plumule.db";
    {
      Store store(path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
      lay_schema(store, Ladder{{ladder().steps[0], ladder().steps[1], ladder().steps[2]}});
      store.run(
          "drop view sowing_state; create view sowing_state as select label as sowing from "
          "sowings");
    }
    Keeping keeping(Logbook::open(path, Access::write));
    CHECK(keeping.book.migration_backup() ==
          path + ".before-" + std::to_string(ladder().version()));
    CHECK_FALSE(temperature_unit(keeping.book).has_value());
    keeping.command("temp --unit F", [](Entry& entry) {
      set_temperature_unit(entry, plumule::records::Degrees::fahrenheit);
    });
    keeping.sow(tray("K3"));
    keeping.count("K3=5", "2026-04-10");
    CHECK(keeping.number(
              "select count(*) from sowing_state where share = 0.25 and share_of = 20") == 1);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("a copy from an earlier time is not written over") {
    const Folder folder;
    const std::string path = make(folder);
    const std::string copy = path + ".before-" + std::to_string(ladder().version() + 1);
    write_bytes(copy, "mine");
    Logbook book =
        Logbook::open(path, Access::write, with_step("alter table sowings add column colour text"));
    CHECK(book.migration_backup() == copy + "-2");
    CHECK(bytes_of(copy) == "mine");
  }

  TEST_CASE("a step that fails, in its midst or by what it would lose, leaves the file as it was") {
    const Folder folder;
    const std::string path = make(folder);
    const std::string before = bytes_of(path);
    for (const char* step :
         {"create table more (id integer primary key) strict; insert into nowhere values (1)",
          "delete from treatments where id = 1; delete from journal",
          "drop table sowings; create table sowings (id integer primary key) strict"}) {
      CAPTURE(step);
      const std::string said = trouble_of(path, with_step(step));
      CHECK(said.rfind(path + " is of an older make and could not be brought up to date; it was "
                              "left as it was. ",
                       0) == 0);
      CHECK(bytes_of(path) == before);
      CHECK(folder.files() == 1);
    }
    Keeping keeping(Logbook::open(path, Access::write));
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("several processes may open an older file; one migrates it") {
    const Folder folder;
    const std::string path = make(folder);
    const Ladder longer = with_step("alter table sowings add column colour text");
    // The second has seen the older make before the first migrated it.
    Store late(path, SQLite::OPEN_READWRITE);
    REQUIRE(read_marks(late).version == ladder().version());
    Logbook first = Logbook::open(path, Access::write, longer);
    CHECK_FALSE(migrate(late, longer).has_value());
    // It still holds the older file, and a write to it is refused: the path is another's now.
    CHECK(read_marks(late).version == ladder().version());
    CHECK_THROWS_AS(
        [&] {
          WriteTransaction all(late);
          late.run("insert into journal (at, by, command, summary) values ('', '', '', '')");
          all.commit();
        }(),
        Unusable);
    Store anew(path, SQLite::OPEN_READONLY);
    CHECK(read_marks(anew).version == longer.version());
    CHECK(folder.files() == 2);
  }
}
