// Taking back what was done, command by command.
#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/snapshot.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

TEST_SUITE("undo") {
  TEST_CASE("a ledger that cannot be read is said to be damaged, and nothing is taken back") {
    Keeping keeping;
    const auto id = keeping.sow(tray("K3"));
    keeping.command("amend K3", [&](Entry& entry) {
      auto sowing = sowing_by_id(keeping.book, id);
      sowing.units = 25;
      change_sowing(entry, sowing);
    });
    auto& store = keeping.book.store();
    store.run("drop trigger change_stays; update changes set before = '{' || before");
    CHECK_THROWS_AS(undo(keeping.book, "ada"), Unusable);
    CHECK(sowing_by_id(keeping.book, id).units == 25);
  }

  TEST_CASE("the last command goes whole, then the one before; the journal remembers") {
    Keeping keeping;
    const std::string empty = record_of(keeping.book);
    keeping.sow(tray("K3"));
    const std::string sown = record_of(keeping.book);
    keeping.count("K3=14", "2026-04-10", "ben");
    const JournalLine line = undo(keeping.book, "cy");
    CHECK(line.command == "count K3=14");
    CHECK(line.summary == "did count K3=14");
    CHECK(line.undone);
    CHECK(record_of(keeping.book) == sown);
    CHECK(undo(keeping.book, "cy").command == "sow K3");
    CHECK(record_of(keeping.book) == empty);
    CHECK(said([&] { undo(keeping.book, "cy"); }) == "There is nothing to take back.");
    const auto lines = journal(keeping.book, 10);
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].command == "count K3=14");
    CHECK(lines[0].by == "ada");
    CHECK(lines[0].undone);
    CHECK(lines[1].undone);
    CHECK(journal(keeping.book, 1).size() == 1);
    CHECK(keeping.number("select count(*) from journal where undone_by = 'cy'") == 2);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("rows that were taken back are kept beside the journal") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    keeping.count("K3=14", "2026-04-10", "ben");
    undo(keeping.book, "ada");
    CHECK(keeping.number("select count(*) from changes where entry = 2 and undone = 1 and tab = "
                         "'counts' and before like '%\"value\":14%' and after is null") == 1);
    CHECK(keeping.number("select count(*) from changes where entry = 2 and undone = 1 and tab = "
                         "'people'") == 1);
    CHECK(keeping.number("select count(*) from corrections") == 0);
  }

  TEST_CASE("after an undo the same may be done again") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    keeping.count("K3=14", "2026-04-10");
    undo(keeping.book, "ada");
    keeping.count("K3=12", "2026-04-10");
    CHECK(undo(keeping.book, "ada").command == "count K3=12");
    CHECK(undo(keeping.book, "ada").command == "sow K3");
  }

  TEST_CASE("totals follow: a new count that moved later ones is taken back") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    keeping.count("K3=3", "2026-04-08");
    keeping.count("K3+4", "2026-04-12");
    keeping.count("K3+1", "2026-04-13");
    keeping.count("K3+2", "2026-04-10");
    CHECK(keeping.totals("K3") == Totals{3, 5, 9, 10});
    undo(keeping.book, "ada");
    CHECK(keeping.totals("K3") == Totals{3, 7, 8});
    keeping.amend("K3=6-1", "2026-04-12");
    keeping.amend("K3=4", "2026-04-08");
    undo(keeping.book, "ada");
    undo(keeping.book, "ada");
    CHECK(keeping.totals("K3") == Totals{3, 7, 8});
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("an ending and the sowing that took over its label go together") {
    Keeping keeping;
    keeping.sow(tray("A1", "2026-03-01"));
    const std::string before = record_of(keeping.book);
    keeping.command("sow A1 --over", [&](Entry& entry) {
      end_sowing(entry, sowing_named(keeping.book, "A1").id,
                 {records::EndingKind::sown_over, at("2026-04-03"), ""});
      add_sowing(entry, tray("A1"));
    });
    CHECK(sowing_named(keeping.book, "A1").sown == at("2026-04-03"));
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
  }

  TEST_CASE("more sown and more up in one command, then back") {
    Keeping keeping;
    keeping.sow(tray("A1"));
    keeping.count("A1+18", "2026-04-10");
    const std::string before = record_of(keeping.book);
    keeping.command("amend", [&](Entry& entry) {
      records::Sowing sowing = sowing_named(keeping.book, "A1");
      sowing.units = 40;
      change_sowing(entry, sowing);
      sowing = sowing_named(keeping.book, "A1");
      record_count(entry, sowing, {at("2026-04-09"), {records::CountKind::newly, 15}, "", 0});
      record_count(entry, sowing, {at("2026-04-12"), {records::CountKind::total, 38}, "", 0});
      amend_count(entry, sowing, at("2026-04-10"), records::Entered{records::CountKind::newly, 20});
      records::Assessment rotted;
      rotted.on = day("2026-04-20");
      rotted.units = 2;
      add_assessment(entry, sowing.id, rotted);
    });
    CHECK(keeping.totals("A1") == Totals{15, 35, 38});
    CHECK(check(keeping.book).empty());
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
  }

  TEST_CASE("a command may name what it made: a lot, and the sowing moved to it") {
    Keeping keeping;
    keeping.lot("X1");
    records::Sowing sowing = tray("A1");
    sowing.lot = "X1";
    keeping.sow(sowing);
    const std::string before = record_of(keeping.book);
    keeping.command("amend", [&](Entry& entry) {
      records::Lot lot;
      lot.code = "X2";
      lot.crop = "bean";
      add_lot(entry, lot);
      records::Sowing changed = sowing_named(keeping.book, "A1");
      changed.lot = "X2";
      change_sowing(entry, changed);
    });
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
  }

  TEST_CASE("figures come back to the last bit") {
    Keeping keeping;
    records::Lot lot;
    lot.code = "X1";
    lot.seeds_per_gram = 0.1 + 0.2;  // 0.30000000000000004: fifteen digits would lose it
    keeping.command("lot", [&](Entry& entry) { add_lot(entry, lot); });
    const std::string before = record_of(keeping.book);
    lot = lot_named(keeping.book, "X1");
    lot.seeds_per_gram = 1.0 / 3.0;
    keeping.command("lot", [&](Entry& entry) { change_lot(entry, lot); });
    undo(keeping.book, "ada");
    CHECK(lot_named(keeping.book, "X1").seeds_per_gram == 0.1 + 0.2);
    CHECK(record_of(keeping.book) == before);
  }

  TEST_CASE("a large entry goes without its rows being kept") {
    Keeping keeping;
    keeping.sow(tray("K3"));
    const std::string before = record_of(keeping.book);
    keeping.command("import", [&](Entry& entry) {
      for (int number = 1; number <= 100; ++number) {
        records::Sowing sowing = tray("B" + std::to_string(number), "2000-01-01");
        sowing.units = 200;
        sowing.id = add_sowing(entry, sowing);
        Query put(
            keeping.book.store(),
            "insert into counts (sowing, at, timed, kind, value, total, entry) with recursive "
            "n(i) as (values (1) union all select i + 1 from n where i < 120) select ?, ? + i, "
            "1, 0, i, i, ? from n",
            sowing.id, at("2000-01-02T00:00").minutes(), entry.id());
        put.run();
      }
    });
    REQUIRE(keeping.number("select count(*) from counts") == 12000);
    undo(keeping.book, "ada");
    CHECK(record_of(keeping.book) == before);
    CHECK(keeping.number("select count(*) from changes") == 0);
    CHECK(check(keeping.book).empty());
  }
}
