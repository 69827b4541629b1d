#include "logbook/flat/csv_reader.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "logbook/flat/support.hpp"

namespace {

using plumule::logbook::CsvReader;
using plumule::tests::reader_of;

// The rows as "line:cell|cell" and what stopped the reading, the same for every size of a piece.
std::string rows_of(const std::string& text) {
  std::string first;
  for (const std::size_t step : std::initializer_list<std::size_t>{1, 2, 3, 7, 64, 100000}) {
    std::string rows;
    CsvReader csv(reader_of(text, step), 16);
    while (csv.next()) {
      rows += std::to_string(csv.line()) + ':';
      for (std::size_t i = 0; i < csv.cells().size(); ++i)
        rows += (i == 0 ? "" : "|") + std::string(csv.cells()[i]);
      rows += '\n';
    }
    if (csv.trouble())
      rows += "! " + std::to_string(csv.trouble()->line) + ' ' + csv.trouble()->reason + '\n';
    CHECK_FALSE(csv.next());
    if (step == 1) first = rows;
    CHECK(rows == first);
  }
  return first;
}

}  // namespace

// Expected rows follow RFC 4180, section 2.
TEST_CASE("csv: plain rows, empty cells, last line with and without its end") {
  CHECK(rows_of("a,b,c\n1,,3\n,,\n") == "1:a|b|c\n2:1||3\n3:||\n");
  CHECK(rows_of("a,b\n1,2") == "1:a|b\n2:1|2\n");
  CHECK(rows_of("a,b\n1,") == "1:a|b\n2:1|\n");
  CHECK(rows_of("") == "");
  CHECK(rows_of("\n\n") == "");
}

TEST_CASE("csv: quotes, doubled quotes, separators and line ends inside them") {
  CHECK(rows_of("a,b\n\"x,y\",\"say \"\"hi\"\"\"\n") == "1:a|b\n2:x,y|say \"hi\"\n");
  CHECK(rows_of("a,b\n\"two\nlines\",1\nz,2\n") == "1:a|b\n2:two\nlines|1\n4:z|2\n");
  CHECK(rows_of("a,b\r\n\"two\r\nlines\",1\r\nz,2\r\n") == "1:a|b\n2:two\r\nlines|1\n4:z|2\n");
  CHECK(rows_of("a,b\n\"\",\"\"\n") == "1:a|b\n2:|\n");
  CHECK(rows_of("a\n\"\"\nx\n") == "1:a\n2:\n3:x\n");
  CHECK(rows_of("a,b\n\"\"\"\",\"\"\"\"\"\"\n") == "1:a|b\n2:\"|\"\"\n");
}

TEST_CASE("csv: any end of line, blank lines are passed over and counted") {
  CHECK(rows_of("a,b\r\n1,2\r\n\r\n3,4\r\n") == "1:a|b\n2:1|2\n4:3|4\n");
  CHECK(rows_of("a,b\r1,2\r\r3,4\r") == "1:a|b\n2:1|2\n4:3|4\n");
  CHECK(rows_of("\n\na,b\n1,2\n") == "3:a|b\n4:1|2\n");
}

TEST_CASE("csv: byte order mark and the separator that the header shows") {
  CHECK(rows_of("\xEF\xBB\xBF"
                "a,b\n1,2\n") == "1:a|b\n2:1|2\n");
  CHECK(rows_of("a;b;c\n1,5;2;3\n") == "1:a|b|c\n2:1,5|2|3\n");
  CHECK(rows_of("a\tb\n1;2\t3\n") == "1:a|b\n2:1;2|3\n");
  CHECK(rows_of("\"a;x\",b,c\n1;2,3,4\n") == "1:a;x|b|c\n2:1;2|3|4\n");
  CHECK(rows_of("one\nx,y\n") == "1:one\n2:x|y\n");
}

TEST_CASE("csv: what is no csv is refused with its line") {
  CHECK(rows_of("a,b\n1,\"x\ny\n") == "1:a|b\n! 2 a quote is opened here and never closed\n");
  CHECK(rows_of("a,b\n\"1\n2\",\"x\n") == "1:a|b\n! 3 a quote is opened here and never closed\n");
  CHECK(rows_of("a,b\n\"x\"y,1\n") ==
        "1:a|b\n! 2 text follows a closing quote; double a quote that is part of the cell\n");
  CHECK(rows_of("a,b\n6\" pot,1\n") ==
        "1:a|b\n! 2 a quote stands inside a cell; put the cell in quotes and double the one "
        "inside\n");
  CHECK(rows_of(std::string("a,b\n1,\0\n", 8)) ==
        "1:a|b\n! 2 there is a zero byte; this is not a text file\n");
  CHECK(rows_of(std::string("a,b\n\"x\ny\0\",1\n", 13)) ==
        "1:a|b\n! 3 there is a zero byte; this is not a text file\n");
  const std::string utf16 = "! 1 the file is saved as UTF-16; save it as CSV UTF-8\n";
  CHECK(rows_of(std::string("\xFF\xFE"
                            "a\0",
                            4)) == utf16);
}

// Well-formed and ill-formed sequences after Unicode 15, table 3-7.
TEST_CASE("csv: UTF-8 is kept, and what is none is refused with its line") {
  CHECK(rows_of("a,b\nM\xC3\xB6hre,\xF0\x9F\x8C\xB1\n") ==
        "1:a|b\n2:M\xC3\xB6hre|\xF0\x9F\x8C\xB1\n");
  const std::string refused =
      "1:a|b\n! 3 there are bytes that are not UTF-8; save the file as CSV UTF-8\n";
  for (const std::string bad : {"M\xF6hre", "\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80",
                                "\xF4\x90\x80\x80", "\xC3", "\xF0\x9F\x8C", "\x80"}) {
    CHECK(rows_of("a,b\n\"x\n" + bad + "\",1\n") == refused);
    CHECK(rows_of("a,b\n\n" + bad + ",1\n") == refused);
  }
}

// The rows after a long one are read too, whatever the first buffer: none may be dropped in
// silence.
TEST_CASE("csv: a row longer than the buffer hides nothing that follows") {
  for (const std::size_t block : std::initializer_list<std::size_t>{16, 17, 64, 4096, 262144})
    for (const std::size_t length :
         {block - 5, block - 4, block - 3, block, 2 * block, 5 * block}) {
      const std::string cell(length, 'x');
      CsvReader csv(reader_of("a,b\n" + cell + ",1\n2,3\n", 1 << 20), block);
      CHECK(csv.next());
      REQUIRE(csv.next());
      CHECK(csv.cells()[0] == cell);
      REQUIRE(csv.next());
      CHECK(csv.cells()[1] == "3");
      CHECK_FALSE(csv.next());
      CHECK_FALSE(csv.trouble());
    }
}

TEST_CASE("csv: a row longer than 16 MiB is refused, not held") {
  const std::string endless(17 * 1024 * 1024, 'x');
  for (const bool quoted : {false, true}) {
    CsvReader csv(reader_of("a,b\n" + std::string(quoted ? "\"" : "") + endless, 1 << 20));
    CHECK(csv.next());
    CHECK_FALSE(csv.next());
    REQUIRE(csv.trouble());
    CHECK(csv.trouble()->line == 2);
    CHECK(csv.trouble()->reason == (quoted
                                        ? "a quote is opened here and not closed within 16 MiB"
                                        : "a row is longer than 16 MiB; this is not a flat log"));
    CHECK_FALSE(csv.next());
  }
}
