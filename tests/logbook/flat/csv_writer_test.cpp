#include "logbook/flat/csv_writer.hpp"

#include <doctest/doctest.h>

#include <string>

#include "logbook/flat/csv_reader.hpp"
#include "logbook/flat/support.hpp"

namespace {

std::string cell(const std::string& text) {
  std::string row;
  plumule::logbook::append_cell(row, text);
  return row;
}

}  // namespace

// Quoting after RFC 4180, section 2, points 5 to 7.
TEST_CASE("csv: a cell is quoted where it must be") {
  CHECK(cell("plain text") == "plain text");
  CHECK(cell("") == "");
  CHECK(cell("a,b") == "\"a,b\"");
  CHECK(cell("say \"hi\"") == "\"say \"\"hi\"\"\"");
  CHECK(cell("two\nlines") == "\"two\nlines\"");
  CHECK(cell("cr\rhere") == "\"cr\rhere\"");
  CHECK(cell(" led by a space") == "\" led by a space\"");
}

TEST_CASE("csv: what is written is read back") {
  std::string text;
  plumule::logbook::CsvWriter csv([&text](std::string_view part) { text += part; });
  const std::string nasty = "\"; \t,\r\n\"\"";
  for (int i = 0; i < 5000; ++i) {
    csv.cell(nasty);
    csv.raw(',');
    csv.number(i * 1000003LL - 7);
    csv.end_row();
  }
  csv.flush();
  plumule::logbook::CsvReader back(plumule::tests::reader_of(text, 999));
  int rows = 0;
  while (back.next()) {
    REQUIRE(back.cells().size() == 2);
    CHECK(back.cells()[0] == nasty);
    CHECK(back.cells()[1] == std::to_string(rows * 1000003LL - 7));
    ++rows;
  }
  CHECK(rows == 5000);
}
