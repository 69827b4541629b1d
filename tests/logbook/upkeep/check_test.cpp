// What `check` finds, whatever way it came into the file.
#include <doctest/doctest.h>

#include "logbook/folder.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

Keeping filled() {
  Keeping keeping;
  keeping.lot("X7");
  keeping.sow(tray("K3"));
  keeping.count("K3=14", "2026-04-10", "ben");
  keeping.count("K3+2", "2026-04-12");
  keeping.amend("K3=13", "2026-04-10");
  return keeping;
}

// The one thing found once `sql` has been run with every guard and foreign key off.
std::string finds(const std::string& sql) {
  Keeping keeping = filled();
  REQUIRE(check(keeping.book).empty());
  Store& store = keeping.book.store();
  std::vector<std::string> guards;
  {
    Query find(store, "select name, sql from sqlite_master where type = 'trigger'");
    while (find.next()) {
      guards.push_back(find.text(0));
      guards.push_back(find.text(1));
    }
  }
  store.run("pragma foreign_keys = off; pragma ignore_check_constraints = on");
  for (std::size_t i = 0; i < guards.size(); i += 2) store.run("drop trigger " + guards[i]);
  store.run(sql);
  for (std::size_t i = 1; i < guards.size(); i += 2) store.run(guards[i]);
  store.run("pragma ignore_check_constraints = off");
  const auto found = check(keeping.book);
  return found.empty() ? "(nothing)" : found[0].fact;
}

}  // namespace

TEST_SUITE("check") {
  TEST_CASE("each kind of fault is told") {
    CHECK(finds("update counts set total = 12 where kind = 0") ==
          "A row of the table counts holds what none may: another program wrote it, or it was "
          "overwritten.");
    CHECK(finds("update counts set total = 14 where kind = 1") ==
          "K3@2026-04-03: on 2026-04-12 14 stand as up in all, but what was entered (2 new) makes "
          "15.");
    CHECK(finds("update sowings set units = 10") ==
          "K3: 13 up on Fri 10 Apr 2026, so 10 sown cannot be.");
    CHECK(finds("update counts set person = 77") ==
          "A row of counts belongs to a row of people that is not there.");
    CHECK(finds("delete from treatments")
              .rfind("A row of sowings belongs to a row of treatments", 0) == 0);
    CHECK(finds("update counts set entry = 77 where kind = 1") ==
          "A row of counts belongs to a row of journal that is not there.");
    CHECK(finds("update sowings set label = 'K 3'") ==
          "Sowing: \"K 3\" is no label: use letters, digits, '.', '_' and '-', and begin with a "
          "letter or digit.");
    CHECK(finds("update lots set seeds_per_gram = -1")
              .rfind("A row of the table lots holds what none may", 0) == 0);
    CHECK(finds("update lots set harvest_year = 2024, packed_year = 2023") ==
          "Lot X7: packed in 2023, before its harvest in 2024. One of the two years is wrong.");
    CHECK(finds("insert into assessments (sowing, day, outcome, units, entry) values (1, "
                "'2026-04-20', 'hard', 9, 1)") ==
          "K3@2026-04-03: 15 up and 9 assessed are more than 20 sown.");
    CHECK(finds("insert into assessments (sowing, day, outcome, units, entry) values (1, "
                "'2026-04-01', 'hard', 1, 1)") ==
          "K3: assessed on 2026-04-01, before it was sown.");
  }

  TEST_CASE("parts that are missing, other or strange") {
    CHECK(finds("drop view lot_stock") == "The file lacks the view lot_stock.");
    CHECK(finds("drop index sowing_lot; create index sowing_lot on sowings (lot, crop)") ==
          "The index sowing_lot is not that of a logbook.");
    CHECK(finds("create table birds (name text)") ==
          "The file has a table birds, which no logbook has.");
    Keeping keeping = filled();
    keeping.book.store().run("drop trigger count_stays");
    REQUIRE(check(keeping.book).size() == 1);
    CHECK(check(keeping.book)[0].fact == "The file lacks the trigger count_stays.");
  }

  TEST_CASE("the journal and its ledger") {
    CHECK(finds("update journal set at = 'yesterday' where id = 1") ==
          "Journal line 1 has no readable time.");
    CHECK(finds("update journal set undone_at = '2026-04-20T07:00:00Z' where id = 3") ==
          "Journal line 3 says half that it was taken back.");
    CHECK(finds("update journal set undone_at = '2026-04-20T07:00:00Z', undone_by = 'x' where id = "
                "4") == "Journal line 4 was taken back, but 1 rows of counts still stand.");
    CHECK(finds("update changes set seq = 2") ==
          "The ledger of changes, journal line 5: a change is missing.");
    CHECK(finds("update changes set tab = 'birds'") ==
          "The ledger of changes, journal line 5: a change is of no table of the record, or lacks "
          "what was before.");
    CHECK(finds("update changes set undone = 1") ==
          "The ledger of changes, journal line 5: rows were taken back, but the line stands.");
    CHECK(finds("update changes set after = '{'")
              .rfind("The journal could not be read to the end, for the damage", 0) == 0);
    CHECK(
        finds("update counts set value = 14, total = 14 where kind = 0; update counts set total = "
              "16 where kind = 1") ==
        "A row of counts that journal line 5 changed has another value now than that line gave "
        "it.");
    CHECK(finds("delete from counts where kind = 0; update counts set total = 2") ==
          "A row of counts that journal line 5 changed is not there.");
  }

  TEST_CASE("unsettled readings are no fault, nor is what was undone") {
    Keeping keeping = filled();
    keeping.count("K3=9", "2026-04-10", "cy");
    keeping.command("count", [&](Entry& entry) {
      keep_doubtful(entry, sowing_named(keeping.book, "K3"),
                    {at("2026-04-20"), {records::CountKind::total, 30}, "", 0}, "more than sown");
    });
    CHECK(check(keeping.book).empty());
    for (int i = 0; i < 7; ++i) undo(keeping.book, "ada");
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("many faults are told up to a hundred, then counted") {
    Keeping keeping;
    keeping.command("sow", [](Entry& entry) {
      for (int i = 0; i < 120; ++i) add_sowing(entry, tray("A" + std::to_string(i)));
    });
    keeping.book.store().run(
        "pragma ignore_check_constraints = on; update sowings set depth_mm = -1");
    const auto found = check(keeping.book);
    REQUIRE(found.size() == 101);
    CHECK(found.back().fact.rfind("And ", 0) == 0);
  }
}

TEST_SUITE("backup") {
  TEST_CASE("a backup is one file, whole, and can be opened") {
    const Folder folder;
    Keeping keeping(Logbook::create(folder / "plumule.db"));
    keeping.sow(tray("K3"));
    keeping.count("K3=14", "2026-04-10");
    backup(keeping.book, folder / "copy.db");
    CHECK(folder.files() == 2);
    Keeping copy(Logbook::open(folder / "copy.db", Access::write));
    CHECK(copy.totals("K3") == Totals{14});
    CHECK(check(copy.book).empty());
    copy.count("K3=15", "2026-04-12");
    CHECK(keeping.totals("K3") == Totals{14});
    // Of a logbook in memory too.
    Keeping memory;
    memory.sow(tray("M1"));
    backup(memory.book, folder / "memory.db");
    CHECK(check(copy.book).empty());
  }

  TEST_CASE("a backup is made while another writes, and holds what was committed") {
    const Folder folder;
    Keeping keeping(Logbook::create(folder / "plumule.db"));
    keeping.sow(tray("K3"));
    Keeping other(Logbook::open(folder / "plumule.db", Access::write));
    Entry writing(other.book, "ben", "count", other.today);
    record_count(writing, sowing_named(other.book, "K3"),
                 {at("2026-04-10"), {records::CountKind::total, 14}, "", 0});
    backup(keeping.book, folder / "copy.db");
    writing.commit();
    CHECK(Keeping(Logbook::open(folder / "copy.db", Access::read)).totals("K3").empty());
    CHECK(keeping.totals("K3") == Totals{14});
  }

  TEST_CASE("a backup is not put where something stands or nothing can be written") {
    const Folder folder;
    Keeping keeping(Logbook::create(folder / "plumule.db"));
    write_bytes(folder / "mine", "mine");
    const auto saving = [&](const std::string& path) -> std::string {
      try {
        backup(keeping.book, path);
      } catch (const Unusable& error) {
        return error.what();
      }
      return "(saved)";
    };
    CHECK(saving(folder / "mine") ==
          folder / "mine" + " exists already. Name a file that does not.");
    CHECK(bytes_of(folder / "mine") == "mine");
    CHECK(saving(folder / "no/copy.db") == "No copy can be put at " + folder / "no/copy.db" +
                                               ": there is no such folder, or it is read-only.");
    CHECK(saving("") == "A backup needs a file name.");
    CHECK(saving(folder / "plumule.db").find("exists already") != std::string::npos);
    CHECK(folder.files() == 2);
  }
}
