// Importing what stands already, more of it, and the same rows in another order.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "logbook/flat/support.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule;
using logbook::Logbook;
using tests::errors_of;
using tests::import_text;

namespace {

const std::string spring =
    "sowing,sown_on,seeds,lot,crop,treatment,counted_on,emerged,newly_emerged,lost,soil_temp_c,"
    "note,"
    "ended\n"
    "A,2026-04-01,50,L1,kale,warm,2026-04-05,3,3,,11.5,,\n"
    "A,2026-04-01,50,L1,kale,warm,2026-04-07,8,5,,,windy,\n"
    "A,2026-04-01,50,L1,kale,warm,2026-04-09,11,,2,12,,finished\n"
    "B,2026-04-01,,L1,kale,untreated,2026-04-09,5..9,,,,,\n"
    "A,2025-04-01,20,,,untreated,2025-04-20,7,,,,,\n";

}  // namespace

TEST_CASE("flat twice: the same file again adds nothing and leaves no entry") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book, spring)) == "");
  const std::string once = tests::picture(book);
  const auto entries = journal(book, 100).size();
  const auto again = import_text(book, spring);
  CHECK(errors_of(again) == "");
  CHECK(again.counts_new == 0);
  CHECK(again.counts_there == 5);
  CHECK(again.sowings_new + again.lots_new + again.treatments_new + again.trials_new == 0);
  CHECK(again.sown_over.empty());
  CHECK(tests::picture(book) == once);
  CHECK(journal(book, 100).size() == entries);
  CHECK(logbook::check(book).empty());
}

TEST_CASE("flat twice: a file that has grown brings what is new, endings too") {
  Logbook book = Logbook::in_memory();
  const std::string head =
      "sowing,sown_on,seeds,lot,medium,counted_on,emerged,newly_emerged,ended\n";
  CHECK(errors_of(import_text(book, head + "A,2026-04-01,,,,2026-04-09,,4,\n"
                                           "A,2026-04-01,,,,2026-04-12,9,,\n")) == "");
  const auto summary = import_text(book, head +
                                             "A,2026-04-01,50,L1,loam,2026-04-05,2,,\n"
                                             "A,2026-04-01,50,L1,loam,2026-04-09,6,4,\n"
                                             "A,2026-04-01,50,L1,loam,2026-04-14,12,,finished\n");
  CHECK(errors_of(summary) == "");
  CHECK(summary.counts_new == 2);
  CHECK(summary.counts_there == 1);
  CHECK(summary.lots_new == 1);
  const auto sowing = sowing_named(book, "A");
  CHECK(sowing.units == 50);
  CHECK(sowing.lot == "L1");
  CHECK(sowing.medium == "loam");
  REQUIRE(sowing.ending);
  CHECK(records::to_text(sowing.ending->at) == "2026-04-14");
  // The new count before moves the one entered as newly up: 2, then 2 + 4, then 9 in all.
  std::string totals;
  for (const auto& count : counts_of(book, sowing.id)) totals += std::to_string(count.total) + ' ';
  CHECK(totals == "2 6 9 12 ");
  CHECK(logbook::check(book).empty());
}

TEST_CASE("flat twice: one import is one entry, and undo takes it back whole") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book,
                              "sowing,sown_on,seeds,lot,counted_on,emerged\n"
                              "B,2026-04-01,30,L7,2026-04-06,2\n")) == "");
  const std::string before = tests::picture(book);
  CHECK(errors_of(import_text(
            book, spring.substr(0, spring.find("B,2026")) +
                      "B,2026-04-01,,L7,,untreated,2026-04-09,5..9,,,,,failed\n")) == "");
  CHECK(tests::picture(book) != before);
  logbook::undo(book, "tester");
  CHECK(tests::picture(book) == before);
  CHECK(logbook::check(book).empty());
}

TEST_CASE("flat twice: rows in any order give the same logbook") {
  std::vector<std::string> rows;
  std::string head;
  std::string text = spring;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at) + 1;
    (head.empty() ? head : rows.emplace_back()) = text.substr(at, end - at);
    at = end;
  }
  Logbook book = Logbook::in_memory();
  import_text(book, spring);
  const std::string expected = tests::picture(book);
  std::mt19937 random(7);  // NOLINT(cert-msc51-cpp,cert-msc32-c)
  for (int turn = 0; turn < 30; ++turn) {
    std::shuffle(rows.begin(), rows.end(), random);
    std::string shuffled = head;
    for (const std::string& row : rows) shuffled += row;
    Logbook other = Logbook::in_memory();
    CHECK(errors_of(import_text(other, shuffled)) == "");
    CHECK(tests::picture(other) == expected);
  }
}

// More looks than are held at a time or tested one by one: the same rules.
TEST_CASE("flat twice: a large file, in order and reversed, and the guards are there after it") {
  std::vector<std::string> rows;
  for (int sowing = 0; sowing < 500; ++sowing)
    for (int day = 3; day < 12; ++day)
      rows.push_back("S" + std::to_string(sowing) + ",2026-04-01,50,2026-04-" +
                     (day < 10 ? "0" : "") + std::to_string(day) + ',' +
                     std::to_string((day - 3) * (sowing % 6)) + '\n');
  const std::string head = "sowing,sown_on,seeds,counted_on,emerged\n";
  std::string forward = head;
  std::string backward = head;
  for (const std::string& row : rows) forward += row;
  std::reverse(rows.begin(), rows.end());
  for (const std::string& row : rows) backward += row;
  Logbook one = Logbook::in_memory();
  Logbook two = Logbook::in_memory();
  CHECK(errors_of(import_text(one, forward)) == "");
  CHECK(errors_of(import_text(two, backward)) == "");
  CHECK(tests::picture(one) == tests::picture(two));
  CHECK(logbook::check(one).empty());
  // Half of it stands already: the rest is added beside it.
  Logbook three = Logbook::in_memory();
  std::string half = head;
  for (std::size_t i = 0; i < rows.size(); i += 2) half += rows[i];
  CHECK(errors_of(import_text(three, half)) == "");
  const auto rest = import_text(three, forward);
  CHECK(errors_of(rest) == "");
  CHECK(rest.counts_there == 2250);
  CHECK(rest.counts_new == 2250);
  CHECK(tests::picture(three) == tests::picture(one));
  CHECK(logbook::check(three).empty());
}

TEST_CASE("flat twice: what is added to what stands is told, all of it") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book,
                              "sowing,sown_on,seeds,lot,trial,counted_on,emerged\n"
                              "A,2026-04-01,50,L1,T,2026-04-05,3\nB,2026-04-01,50,L1,T,,\n")) ==
        "");
  const std::string more =
      "sowing,sown_on,lot,crop,trial,block,treated_in,place,counted_on,soil_temp_c,note,ended,"
      "ended_on\n"
      "A,2026-04-01,L1,kale,T,north,,bench,2026-04-05,12,,,\n"
      "B,2026-04-01,L1,kale,T,,,bench,2026-04-06,,slugs,failed,2026-04-09\n"
      "C,2026-04-01,,,,,jar-1,,,,,,\n";
  const auto summary = import_text(book, more);
  CHECK(errors_of(summary) == "");
  CHECK(summary.temperatures_new == 1);
  CHECK(summary.notes_new == 1);
  CHECK(summary.endings_new == 1);
  CHECK(summary.batches_new == 1);
  CHECK(summary.sowings_new == 1);
  std::string filled;
  for (const auto& one : summary.filled_in)
    filled += std::string(one.kind) + ' ' + std::string(one.column) + ' ' +
              std::to_string(one.things) + "; ";
  CHECK(filled == "lot crop 1; trial block 1; sowing block 1; sowing place 2; ");
  const auto again = import_text(book, more);
  CHECK(errors_of(again) == "");
  CHECK(again.filled_in.empty());
  CHECK(again.temperatures_new + again.notes_new + again.endings_new + again.batches_new +
            again.sowings_new ==
        0);
}
