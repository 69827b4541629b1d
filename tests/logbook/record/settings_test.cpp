// What is said once for the whole logbook: kept, changed through the ledger, taken back by undo.
#include "logbook/record/settings.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
using plumule::records::Degrees;

namespace {

void set(Keeping& keeping, Degrees unit) {
  keeping.command("temp --unit", [&](Entry& entry) { set_temperature_unit(entry, unit); });
}

}  // namespace

TEST_SUITE("settings") {
  TEST_CASE("the unit of plain temperatures: none, said, said again, and taken back in order") {
    Keeping keeping;
    CHECK_FALSE(temperature_unit(keeping.book).has_value());
    CHECK(shown_unit(keeping.book) == Degrees::celsius);
    set(keeping, Degrees::fahrenheit);
    CHECK(temperature_unit(keeping.book) == Degrees::fahrenheit);
    CHECK(shown_unit(keeping.book) == Degrees::fahrenheit);
    set(keeping, Degrees::celsius);
    CHECK(temperature_unit(keeping.book) == Degrees::celsius);
    CHECK(keeping.number("select count(*) from settings") == 1);
    CHECK(keeping.number("select count(*) from changes where tab = 'settings' and before like "
                         "'%\"F\"%' and after like '%\"C\"%'") == 1);
    CHECK(check(keeping.book).empty());
    undo(keeping.book, "ada");
    CHECK(temperature_unit(keeping.book) == Degrees::fahrenheit);
    undo(keeping.book, "ada");
    CHECK_FALSE(temperature_unit(keeping.book).has_value());
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("to say the same again writes nothing") {
    Keeping keeping;
    set(keeping, Degrees::fahrenheit);
    const auto lines = keeping.number("select count(*) from journal");
    set(keeping, Degrees::fahrenheit);
    CHECK(keeping.number("select count(*) from journal") == lines);
  }

  TEST_CASE("what another program puts there is seen by check, or refused by the file itself") {
    Keeping keeping;
    set(keeping, Degrees::fahrenheit);
    Store& store = keeping.book.store();
    CHECK_THROWS(store.run("update settings set value = 'K'"));
    CHECK_THROWS(
        store.run("insert into settings (name, value, entry) values ('temperature_unit', 'C', 1)"));
    CHECK_THROWS(store.run("insert into settings (name, value, entry) values ('colour', 'C', 1)"));
    store.run(
        "pragma ignore_check_constraints = on; update settings set value = 'K'; "
        "pragma ignore_check_constraints = off");
    CHECK_FALSE(check(keeping.book).empty());
  }
}
