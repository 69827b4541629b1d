// Texts in and out: what commands a terminal is refused, what hides is kept, and what a spreadsheet
// would run goes out safe and comes back unchanged.
#include <doctest/doctest.h>

#include <string>

#include "logbook/flat/sheet/safe_cells.hpp"
#include "logbook/flat/support.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"

using namespace plumule;
using logbook::Logbook;
using tests::errors_of;
using tests::import_text;

namespace {

std::string written(std::string_view text) {
  std::string row;
  logbook::append_text(row, text);
  return row;
}

std::string refused(const std::string& text) {
  Logbook book = Logbook::in_memory();
  const std::string was = tests::picture(book);
  const std::string errors = errors_of(import_text(book, text));
  CHECK(tests::picture(book) == was);
  return errors;
}

}  // namespace

TEST_CASE("flat texts: what a spreadsheet would run is written as text") {
  CHECK(written("=1+1") == "'=1+1");
  CHECK(written("+49 30 1234") == "'+49 30 1234");
  CHECK(written("-cold") == "'-cold");
  CHECK(written("@sum") == "'@sum");
  CHECK(written("\t=1") == "\"'\t=1\"");
  CHECK(written("=a,\"b\"") == "\"'=a,\"\"b\"\"\"");
  CHECK(written("\uFF1D1") == "'\uFF1D1");
  CHECK(written("'=1") == "''=1");
  CHECK(written("''=1") == "'''=1");
  for (const char* plain : {"", "leaf mould", "a=b", "'quoted'", "'", "1-2", "5"})
    CHECK(written(plain) == plain);
}

TEST_CASE("flat texts: each comes back as it was, also one that looks escaped") {
  for (const char* text : {"=1+1", "'=1+1", "''=1", "'", "''", "'a", "-", "'-", "+", "@", "\t=1",
                           "'\t@x", " =1", "' =1", "a=1", "", "\uFF0D1", "'\uFF0D1"}) {
    CAPTURE(text);
    std::string cell = written(text);
    if (cell.size() > 1 && cell.front() == '"') cell = cell.substr(1, cell.size() - 2);
    CHECK(logbook::as_meant(cell) == text);
  }
}

TEST_CASE("flat texts: every column of text goes out safe, and figures stay figures") {
  const std::string in =
      "sowing,sown_on,lot,crop,source,medium,bench_order,soil_temp_c,counted_on,emerged,"
      "counted_by,ended,ended_why,note\n"
      "A,2026-04-01,L1,'=crop,'@source,'+mix,-3,-2.5,2026-04-09,3,'-me,failed,'=why,'=note\n";
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book, in)) == "");
  CHECK(lot_named(book, "L1").crop == "=crop");
  const auto sowing = sowing_named(book, "A@2026");
  CHECK(sowing.medium == "+mix");
  CHECK(sowing.ending->why == "=why");
  CHECK(notes_of(book, records::About::sowing, sowing.id).front().text == "=note");
  const std::string out = tests::export_text(book);
  for (const char* cell :
       {",'=crop,", ",'@source", ",'+mix,", ",-3,", ",-2.5,", ",'-me,", ",'=why,", ",'=note\n"}) {
    CAPTURE(cell);
    CHECK(out.find(cell) != std::string::npos);
  }
  Logbook again = Logbook::in_memory();
  CHECK(errors_of(import_text(again, out)) == "");
  CHECK(tests::picture(again) == tests::picture(book));
  CHECK(tests::export_text(again) == out);
}

TEST_CASE("flat texts: control characters are refused by line, column and value") {
  CHECK(refused("sowing,sown_on,note\nA,2026-04-01,a\x1B[2Jb\n") ==
        "2:note:a\x1B[2Jb:a control character (U+001B) stands in the cell; write it in plain "
        "letters\n");
  CHECK(refused("sowing,sown_on,medium\nA,2026-04-01,\"lo\x07"
                "am\"\nB,2026-04-01,\u009Bx\n") ==
        "2:medium:lo\x07"
        "am:a control character (U+0007) stands in the cell; write it in plain letters\n"
        "3:medium:\u009Bx:a control character (U+009B) stands in the cell; write it in plain "
        "letters\n");
  CHECK(refused("sowing,sown_on,counted_by\nA,2026-04-01,\"two\nlines\"\n")
            .find("2:counted_by:two\nlines:a control character (U+000A)") == 0);
  CHECK(refused("sowing,sown_on,crop\nA,2026-04-01,ka\x7Fle\n").find("2:crop:ka\x7Fle:") == 0);
}

TEST_CASE("flat texts: notes keep their lines and tabs, and letters that hide or turn") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(
            book,
            "sowing,sown_on,medium,note\n"
            "A,2026-04-01,a\u202Eb\u200Bc,\"two\nlines\tand\r\nthree \uFEFF\"\n")) == "");
  const auto sowing = sowing_named(book, "A");
  CHECK(sowing.medium == "a\u202Eb\u200Bc");
  CHECK(notes_of(book, records::About::sowing, sowing.id).front().text ==
        "two\nlines\tand\r\nthree \uFEFF");
  CHECK(tests::export_text(book).find("a\u202Eb\u200Bc") != std::string::npos);
}
