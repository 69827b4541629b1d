// Each command's rows are known by what its journal line keeps of them: `check` names the command
// whose rows are missing, altered or half there, and `accept` takes them as they stand.
#include "logbook/upkeep/accept.hpp"

#include <doctest/doctest.h>

#include "logbook/flat/support.hpp"
#include "logbook/folder.hpp"
#include "logbook/journal/tally.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/sealing.hpp"
#include "logbook/upkeep/retally.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

// Every kind of change: rows put in, changed, taken out, put in again, taken back.
void work(Keeping& keeping) {
  keeping.lot("X7");
  for (const char* label : {"K1", "K2", "K3"}) keeping.sow(tray(label));
  keeping.count("K1=3", "2026-04-08");
  keeping.count("K1+2", "2026-04-12");
  keeping.count("K1+1", "2026-04-10");  // which moves the total of the later one
  keeping.amend("K1=4", "2026-04-08");
  keeping.amend("K1=2", "2026-04-08");
  keeping.count("K2=9", "2026-04-09");
  keeping.count("K2=7-3", "2026-04-11");
  keeping.count("K3=5", "2026-04-09");
  undo(keeping.book, "ada");
  keeping.count("K3=6", "2026-04-09");
}

void by_another_program(const std::string& path, const std::string& sql,
                        const char* around = nullptr) {
  SQLite::Database database(path, SQLite::OPEN_READWRITE);
  if (around == nullptr) {
    database.exec(sql);
    return;
  }
  SQLite::Statement find(database, "select sql from sqlite_master where name = ?");
  find.bind(1, around);
  REQUIRE(find.executeStep());
  const std::string guard = find.getColumn(0).getString();
  find.reset();
  database.exec("drop trigger " + std::string(around));
  database.exec(sql);
  database.exec(guard);
}

std::vector<std::string> found(const std::string& path) {
  Logbook book = Logbook::open_as_found(path);
  std::vector<std::string> facts;
  for (const auto& trouble : look_over(book).wrong) facts.push_back(trouble.fact);
  return facts;
}

bool any_says(const std::vector<std::string>& facts, const std::string& words) {
  for (const std::string& fact : facts)
    if (fact.find(words) != std::string::npos) return true;
  return false;
}

}  // namespace

TEST_SUITE("tallies") {
  TEST_CASE("every table whose rows belong to a line is tallied, by its own columns") {
    Keeping keeping;
    std::vector<std::string> tables = entry_tables();
    tables.emplace_back("changes");
    for (const std::string& name : tables) {
      CAPTURE(name);
      const TalliedTable* const table = tallied(name);
      REQUIRE(table != nullptr);
      const auto column = [&](const char* wanted) {
        Query find(keeping.book.store(), "select cid from pragma_table_info(?) where name = ?",
                   name, wanted);
        return find.next() ? static_cast<int>(find.integer(0)) : -1;
      };
      CHECK(table->entry == column("entry"));
      CHECK(table->undone == column("undone"));
      CHECK(table->derived == (name == "counts" ? column("total") : -1));
    }
    CHECK(tallied("journal") == nullptr);
  }

  TEST_CASE("a row is the same however its numbers are kept, and each value counts in its place") {
    const TalliedTable& lots = *tallied("lots");
    const Row row{{"id", std::int64_t{1}}, {"code", std::string("a")}, {"crop", Value()}};
    Row other = row;
    CHECK(hash_of(lots, row) == hash_of(lots, other));
    other[0].second = 1.0;
    CHECK(hash_of(lots, row) == hash_of(lots, other));
    other[0].second = 1.5;
    CHECK(hash_of(lots, row) != hash_of(lots, other));
    other = row;
    other.emplace_back("added_later", Value());
    CHECK(hash_of(lots, row) == hash_of(lots, other));
    other = row;
    std::swap(other[1].second, other[2].second);
    CHECK(hash_of(lots, row) != hash_of(lots, other));
    CHECK(hash_of(lots, row) != hash_of(*tallied("trials"), row));
  }

  TEST_CASE("what each command wrote is found anew after all that came later") {
    Keeping keeping;
    work(keeping);
    CHECK(mistallied(keeping.book.store()).empty());
    CHECK(keeping.number("select count(*) from journal where digest is null") == 0);
    CHECK(keeping.number("select row_count from journal where command like 'sow K1%'") == 1);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("another program's hand is named, and accepted where every rule holds") {
    struct Deed {
      const char* sql;
      const char* words;
      const char* around = nullptr;  // a guard that is taken off for it
    };
    for (const Deed deed :
         {Deed{"delete from counts where sowing = 2 and kind = 2", "of which none is there"},
          Deed{"update counts set value = 10, total = 10 where sowing = 3",
               "wrote other figures than stand there now", "count_stays"},
          Deed{"update lots set variety = 'another'", "wrote other figures"},
          Deed{"insert into lots (code, entry) values ('Y8', 1)", "but 2 rows stand as its own"},
          Deed{"update journal set summary = 'made nothing' where id = 1", "wrote other figures"},
          Deed{"update changes set before = replace(before, ':3', ':4') where undone = 0",
               "wrote other figures", "change_stays"},
          Deed{
              "delete from changes where entry = (select max(entry) from changes where undone = 0)",
              "wrote", "changes_stay"}}) {
      const std::string sql = deed.sql;
      CAPTURE(sql);
      const Folder folder;
      const std::string path = folder / "a.db";
      {
        Keeping keeping(Logbook::create(path));
        work(keeping);
      }
      by_another_program(path, deed.sql, deed.around);
      CHECK_THROWS_AS(Keeping(Logbook::open(path, Access::read)).number("select 1 from counts"),
                      Unusable);
      const auto facts = found(path);
      CHECK(any_says(facts, "not as they were written"));
      const std::string last = facts.back();
      CAPTURE(last);
      CHECK(any_says(facts, deed.words));
      const std::string as_found = bytes_of(path);
      const Accepted accepted = accept(path);
      CHECK(bytes_of(accepted.former) == as_found);
      CHECK(!accepted.commands.empty());
      CHECK(found(path).empty());
      Keeping keeping(Logbook::open(path, Access::write));
      CHECK(keeping.number("select count(*) from journal where accepted_at is not null") >=
            static_cast<std::int64_t>(accepted.commands.size()));
      keeping.sow(tray("K9"));
      CHECK(accept(path).former.empty());
    }
  }

  TEST_CASE("where a rule does not hold nothing is accepted") {
    const Folder folder;
    const std::string path = folder / "a.db";
    {
      Keeping keeping(Logbook::create(path));
      work(keeping);
    }
    by_another_program(path,
                       "pragma foreign_keys = off; insert into blocks (trial, name, position, "
                       "entry) values (9, 'x', 1, 1)");
    const std::string as_found = bytes_of(path);
    CHECK_THROWS_AS(accept(path), Unusable);
    CHECK(bytes_of(path) == as_found);
    CHECK(folder.files() == 1);
  }

  TEST_CASE("an import is one line, tallied as any other") {
    Keeping keeping;
    keeping.command("import", [&](Entry& entry) {
      const char* const log =
          "sowing,sown_on,seeds,lot,crop,counted_on,emerged,soil_temp_c,note\n"
          "A1,2026-04-01,20,L1,bean,2026-04-09,3,14.5,dry\n"
          "A1,2026-04-01,20,L1,bean,2026-04-11,5,,\n"
          "A2,2026-04-01,20,L1,bean,2026-04-09,7,,\n";
      import_flat_log(entry, reader_of(log), {});
    });
    CHECK(keeping.number("select row_count from journal where command = 'import'") > 6);
    CHECK(mistallied(keeping.book.store()).empty());
  }
}
