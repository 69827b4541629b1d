#include "logbook/record/find.hpp"

#include <doctest/doctest.h>

#include "logbook/keeping.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;

namespace {

std::string finding(Keeping& keeping, const char* text) {
  return said([&] { named(keeping.book, text); });
}

}  // namespace

TEST_SUITE("finding by name") {
  TEST_CASE("a bare name is looked for everywhere; two hits are settled by a word before it") {
    Keeping keeping;
    keeping.lot("A1", "bean");
    keeping.lot("X7", "pea");
    keeping.sow(tray("A1"));
    keeping.sow(tray("B2"));
    CHECK(finding(keeping, "A1") ==
          "A1 is a sowing and a lot. Which is meant? Write sowing:A1 or lot:A1.");
    CHECK(named(keeping.book, "lot:a1").kind == NameKind::lot);
    CHECK(named(keeping.book, "lot:a1").name == "A1");
    CHECK(named(keeping.book, "sowing:A1").kind == NameKind::sowing);
    CHECK(named(keeping.book, "b2").name == "B2");
    CHECK(named(keeping.book, "B2@2026").name == "B2@2026-04-03");
    CHECK(named(keeping.book, "x7").kind == NameKind::lot);
    CHECK(named(keeping.book, "PEA").kind == NameKind::crop);
    CHECK(named(keeping.book, "PEA").name == "pea");
    CHECK(named(keeping.book, "untreated").kind == NameKind::treatment);
    CHECK(selection_of(keeping.book, named(keeping.book, "x7")).lot == "X7");
    CHECK(selection_of(keeping.book, named(keeping.book, "pea")).crop == "pea");
    CHECK(selection_of(keeping.book, named(keeping.book, "untreated")).treatment == "untreated");
    CHECK(selection_of(keeping.book, named(keeping.book, "B2")).sowings ==
          std::vector<plumule::records::Id>{2});
  }

  TEST_CASE("what is nothing is refused with the nearest") {
    Keeping keeping;
    keeping.lot("X7", "bean");
    keeping.sow(tray("B2"));
    CHECK(finding(keeping, "B3") ==
          "There is no sowing, trial, lot, treatment or crop \"B3\". Near it: B2.");
    CHECK(finding(keeping, "lot:X8") == "There is no lot \"X8\". Near it: X7.");
    CHECK(finding(keeping, "sowing:B3").rfind("There is no sowing \"B3\". Near it: B2.", 0) == 0);
    CHECK(finding(keeping, "trial:t") == "There is no trial \"t\". The logbook has none yet.");
    CHECK(finding(keeping, "treatment:untreted") ==
          "There is no treatment \"untreted\". Near it: untreated.");
    CHECK(finding(keeping, "crop:beat") == "There is no crop \"beat\". Near it: bean.");
    CHECK(finding(keeping, "bed:B2") ==
          "\"bed:B2\": before the colon stands sowing, trial, lot, treatment or crop.");
  }
}
