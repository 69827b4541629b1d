// Sheets as growers keep them: days in many forms, a column a day, columns that are not known,
// temperatures in both scales; every fault of all of it at once.
#include <doctest/doctest.h>

#include <string>

#include "logbook/flat/sheet/dates.hpp"
#include "logbook/flat/sheet/degrees.hpp"
#include "logbook/flat/support.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"

using namespace plumule;
using logbook::DateOrder;
using logbook::Logbook;
using tests::errors_of;
using tests::import_text;

namespace {

// The moment as it is kept, else "? " and why not.
std::string read(const char* cell, DateOrder order = DateOrder::unsaid) {
  const auto date = logbook::read_moment(cell, order);
  return date.moment ? records::to_text(*date.moment) : "? " + date.reason;
}

std::string refused(const std::string& text, const logbook::ImportOptions& options = {}) {
  Logbook book = Logbook::in_memory();
  const std::string was = tests::picture(book);
  const auto summary = import_text(book, text, options);
  CHECK(summary.errors_in_all > 0);
  CHECK(tests::picture(book) == was);
  return errors_of(summary);
}

logbook::ImportOptions ignoring() {
  logbook::ImportOptions options;
  options.ignore_columns = true;
  return options;
}

std::string degrees(const char* cell, records::Degrees plain, bool settled = false) {
  double value = 0;
  const auto reason = logbook::read_degrees(cell, plain, settled, "soil_temp_f", value);
  return reason.empty() ? logbook::to_cell(value) : "? " + reason;
}

}  // namespace

TEST_CASE("flat sheet: days that can be read in one way only") {
  CHECK(read("2026-04-14") == "2026-04-14");
  CHECK(read("2026-04-14T07:30") == "2026-04-14T07:30");
  for (const char* cell :
       {"14.4.2026", "14.04.2026", "14. 4. 2026", "14/4/2026", "14/04/2026", "14-4-2026",
        "4/14/2026", "04/14/2026", "2026/04/14", "2026/4/14", "2026.04.14", "2026-4-14",
        "14 Apr 2026", "Apr 14, 2026", "14-Apr-2026", "14 April 2026", "Tue 14 Apr 2026"}) {
    CAPTURE(cell);
    CHECK(read(cell) == "2026-04-14");
  }
  CHECK(read("4/4/2026") == "2026-04-04");
  CHECK(read("04.04.2026") == "2026-04-04");
}

TEST_CASE("flat sheet: the time of day is kept") {
  for (const char* cell :
       {"14.4.2026 7:30", "14/4/2026 07:30", "2026/04/14 07:30", "4/14/2026 7:30 AM",
        "14.4.2026T07:30", "2026-04-14 07:30:00", "14.4.2026, 7:30"}) {
    CAPTURE(cell);
    CHECK(read(cell) == "2026-04-14T07:30");
  }
  CHECK(read("4/14/2026 7:30 PM") == "2026-04-14T19:30");
  CHECK(read("4/14/2026 12:05 am") == "2026-04-14T00:05");
  for (const char* cell :
       {"14.4.2026 7:30:15", "14.4.2026 25:00", "14.4.2026 13:00 PM", "14.4.2026 7:3"}) {
    CAPTURE(cell);
    CHECK(read(cell).find("has no readable time of day") != std::string::npos);
  }
}

TEST_CASE("flat sheet: a day with two readings is neither until the order is known") {
  CHECK(read("4/5/2026") == "? \"4/5/2026\" can be 4 May 2026 or 5 Apr 2026");
  CHECK(read("04.05.2026 07:30") == "? \"04.05.2026\" can be 4 May 2026 or 5 Apr 2026");
  CHECK(read("4/5/2026", DateOrder::day_first) == "2026-05-04");
  CHECK(read("4/5/2026", DateOrder::month_first) == "2026-04-05");
  CHECK(read("4.5.2026 7:30", DateOrder::month_first) == "2026-04-05T07:30");
  CHECK(read("2026/04/05", DateOrder::day_first) == "2026-04-05");
  // What contradicts the order that was said is not read the other way.
  CHECK(read("14/4/2026", DateOrder::month_first)
            .find("? \"14/4/2026\" is no day that exists with the month first") == 0);
  CHECK(read("4/14/2026", DateOrder::day_first).find("with the day first") != std::string::npos);
}

TEST_CASE("flat sheet: what is no day") {
  CHECK(read("31/4/2026") == "? \"31/4/2026\" is a day that does not exist");
  CHECK(read("29.2.2026") == "? \"29.2.2026\" is a day that does not exist");
  CHECK(read("2026/13/04") == "? \"2026/13/04\" is a day that does not exist");
  CHECK(read("14/4/26").find("has a year of two digits") != std::string::npos);
  for (const char* cell : {"n/a", "14/4", "14.4.", "14/4.2026", "46126", "yesterday", "14 Apr",
                           "1/2/3/4", "14/4/2026 extra"}) {
    CAPTURE(cell);
    CHECK(read(cell).find(" is not a date; write it as year-month-day, 2026-04-03") !=
          std::string::npos);
  }
}

TEST_CASE("flat sheet: every column of days is read so, and written as it is kept") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book,
                              "sowing,sown_on,seeds,lot,label_tested_on,wetted_on,trial,"
                              "inspections,counted_on,emerged\n"
                              "A,14.4.2026 08:00,50,L1,13/1/2026,13.4.2026 20:00,T,"
                              "20.4.2026 24/4/2026,2026/04/20,7\n")) == "");
  const auto sowing = sowing_named(book, "A");
  CHECK(records::to_text(sowing.sown) == "2026-04-14T08:00");
  CHECK(records::to_text(*sowing.wetted) == "2026-04-13T20:00");
  const std::string out = tests::export_text(book);
  CHECK(out.find("2026-01-13") != std::string::npos);
  CHECK(out.find("2026-04-20 2026-04-24") != std::string::npos);
  CHECK(refused("sowing,sown_on,lot,label_tested_on\nA,2026-04-01,L1,4/5/2026\n") ==
        "2:label_tested_on:4/5/2026:\"4/5/2026\" can be 4 May 2026 or 5 Apr 2026 [hint]\n");
  logbook::ImportOptions options;
  options.dates = DateOrder::month_first;
  Logbook other = Logbook::in_memory();
  CHECK(errors_of(import_text(other, "sowing,sown_on\nA,4/5/2026\n", options)) == "");
  CHECK(records::to_text(sowing_named(other, "A").sown) == "2026-04-05");
}

TEST_CASE("flat sheet: a wide sheet is told what form is read, on its own figures") {
  CHECK(refused("sowing,sown_on,seeds,2026-04-10,12.4.2026,2026-04-14\n"
                "A1,2026-04-01,50,,,\nA2,1.4.2026,40,3,,\nA3,2026-04-01,50,5,9,12\n")
            .find("1:2026_04_10:2026-04-10:this sheet has a row for each sowing and a column for "
                  "each day (2026-04-10, 12.4.2026 and 2026-04-14); a flat log has a row for each "
                  "look, with its day in counted_on. The first of its figures as they are read:\n"
                  "sowing,sown_on,seeds,counted_on,emerged\n") == 0);
  const std::string told = refused("Tray;Sown;2026-04-10;12.4.2026;14 Apr\nA1;14.3.2026;3;;7\n");
  CHECK(told.find("sowing;sown_on;counted_on;emerged\nA1;2026-03-14;2026-04-10;3\n"
                  "A1;2026-03-14;2026-04-14;7\nWhere a figure is what was new") !=
        std::string::npos);
  CHECK(told.find("tray:Tray:the flat log has no such column; is sowing meant?\n") !=
        std::string::npos);
  // A day with two readings is said to be one, and is no example where others are.
  const std::string either = refused("sowing,sown_on,4/5/2026,14/5/2026\nA1,2026-04-01,3,7\n");
  CHECK(either.find("emerged\nA1,2026-04-01,2026-05-14,7\nWhere") != std::string::npos);
  CHECK(either.find("1:4/5/2026:4/5/2026:\"4/5/2026\" can be 4 May 2026 or 5 Apr 2026 [hint]\n") !=
        std::string::npos);
  // One column, days since sowing, an order that is not known: all the same.
  for (const char* head : {"2026-04-10", "day 9", "4/5/2026", "14/4", "14.4."}) {
    CAPTURE(head);
    const std::string text = std::string("sowing,sown_on,") + head + "\nA1,2026-04-01,3\n";
    CHECK(refused(text).find("this sheet has a row for each sowing") != std::string::npos);
    CHECK(refused(text, ignoring()).find("this sheet has a row for each sowing") !=
          std::string::npos);
  }
}

TEST_CASE("flat sheet: no column with counts is passed over, nor is that advised") {
  const std::string counts = "sowing,sown_on,seeds,look1\nA,2026-04-01,50,3\nB,2026-04-01,50,9\n";
  CHECK(refused(counts) ==
        "1:look1:look1:the flat log has no such column; it has figures: name it as the flat log "
        "does, or take it out of the sheet\n");
  CHECK(refused(counts, ignoring()).find("1:look1:look1:the column may hold counts") == 0);
  CHECK(refused("sowing,sown_on,Up\nA,2026-04-01,about 9\n", ignoring())
            .find("1:up:Up:the column may hold counts or other figures of the log, which are never "
                  "passed over; is emerged meant?\n") == 0);
  // Words are advised to be passed over, and are; so are figures that are no counts, if asked.
  const std::string words = "sowing,sown_on,seeds,weather,price\nA,2026-04-01,50,wet,2.50\n";
  CHECK(refused(words).find("[hint]") == std::string::npos);
  Logbook book = Logbook::in_memory();
  const auto summary = import_text(book, words, ignoring());
  CHECK(errors_of(summary) == "");
  CHECK(summary.ignored_columns == std::vector<std::string>{"weather", "price"});
  CHECK(refused("sowing,sown_on,weather\nA,2026-04-01,wet\n") ==
        "1:weather:weather:the flat log has no such column. [hint]\n");
}

TEST_CASE("flat sheet: faults of the header, of cells and of courses stand together by line") {
  CHECK(refused("Tray,Sown,weather,seeds,counted_on,emerged\n"
                "A,4/5/2026,wet,50,2026-04-10,1\n"
                "B,2026-04-01,wet,50,2026-04-10,ten\n"
                "C,2026-04-01,wet,50,2026-04-10,60\n") ==
        "1:tray:Tray:the flat log has no such column; is sowing meant?\n"
        "1:sown:Sown:the flat log has no such column; is sown_on meant?\n"
        "1:weather:weather:the flat log has no such column\n"
        "2:sown_on:4/5/2026:\"4/5/2026\" can be 4 May 2026 or 5 Apr 2026 [hint]\n"
        "3:emerged:ten:\"ten\" is not a whole number, nor a guess such as 28..32; write 0 where "
        "nothing was up; where nobody looked counted_on is blank too\n"
        "4:emerged:60:60 up of 50 sown\n");
  // Without a sowing's name the cells can be looked at all the same.
  CHECK(refused("sown_on,seeds,counted_on,emerged\n2026-04-31,50,soon,ten\n")
            .find("2:sown_on:2026-04-31:") != std::string::npos);
}

TEST_CASE("flat sheet: what a blank means is said in one way, and as it is said it is taken") {
  const std::string said =
      "write 0 where nothing was up; where nobody looked counted_on is blank too";
  const std::string head = "sowing,sown_on,seeds,counted_on,emerged\n";
  for (const char* const cell : {"", "-", "n/a", "none", "?"}) {
    CAPTURE(cell);
    const std::string told = refused(head + "A,2026-04-01,50,2026-04-05," + cell + "\n");
    CHECK(told.find(said) != std::string::npos);
    CHECK(told.find("blank") == told.rfind("blank"));
  }
  Logbook book = Logbook::in_memory();
  const auto summary =
      import_text(book, head + "A,2026-04-01,50,2026-04-05,0\nA,2026-04-01,50,,\n", {});
  CHECK(errors_of(summary) == "");
  CHECK(summary.counts_new == 1);
}

TEST_CASE("flat sheet: a row that is not read leaves no false fault in the course of its sowing") {
  const std::string head = "sowing,sown_on,seeds,counted_on,emerged,newly_emerged\n";
  const std::string first = "A,2026-04-01,50,2026-04-05,3,\n";
  const std::string last = "A,2026-04-01,50,2026-04-09,12,4\n";
  for (const std::string& broken : {std::string("A,2026-04-01,50,2026-04-07,8\n"),
                                    std::string("A,2026-04-0l,50,2026-04-07,8,\n")}) {
    CAPTURE(broken);
    CHECK(refused(head + first + broken + last).find("4:") == std::string::npos);
  }
}

TEST_CASE("flat sheet: temperatures in both scales") {
  using records::Degrees;
  CHECK(degrees("18", Degrees::celsius) == "18");
  CHECK(degrees("18C", Degrees::fahrenheit) == "18");
  CHECK(degrees("64F", Degrees::celsius) == "17.78");
  CHECK(degrees("64", Degrees::fahrenheit) == "17.78");
  CHECK(degrees("35C", Degrees::celsius) == "35");
  CHECK(degrees("31.9", Degrees::celsius) == "31.9");
  CHECK(degrees("64", Degrees::celsius) ==
        "? 64 may be Fahrenheit (17.78 C): then write 64F, or name the column soil_temp_f; of "
        "Celsius write 64C");
  CHECK(degrees("32", Degrees::celsius).find("? 32 may be Fahrenheit (0 C)") == 0);
  CHECK(degrees("35", Degrees::celsius, true) == "35");
  CHECK(degrees("warm", Degrees::celsius) == "? \"warm\" is not a number; write 18.5, 18C or 64F");
}

TEST_CASE("flat sheet: water and cold in either scale") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book,
                              "sowing,sown_on,treatment,water_c,chill_c\n"
                              "A,2026-04-01,hot,122F,\nB,2026-04-01,cold,,39F\n"
                              "C,2026-04-01,warm,50,4C\n")) == "");
  CHECK(treatment_named(book, "hot").water_c == 50.0);
  CHECK(treatment_named(book, "cold").chill_c == 3.89);
  CHECK(treatment_named(book, "warm").water_c == 50.0);
}

TEST_CASE("flat sheet: a column in Fahrenheit, and one in each scale") {
  Logbook book = Logbook::in_memory();
  CHECK(
      errors_of(import_text(book,
                            "sowing,sown_on,counted_on,emerged,soil_temp_f,soil_temp_c,soil_min_f,"
                            "soil_max_c\n"
                            "A,2026-04-01,2026-04-05,0,64,,46,35C\n"
                            "A,2026-04-01,2026-04-06,0,64,18,,\n"
                            "A,2026-04-01,2026-04-07,0,,21,,\n")) == "");
  const auto all = temperatures_of(book, sowing_named(book, "A").id);
  REQUIRE(all.size() == 3);
  CHECK(all[0].spot_c == 17.78);
  CHECK(all[0].min_c == 7.78);
  CHECK(all[0].max_c == 35.0);
  CHECK(all[1].spot_c == 18.0);
  CHECK(all[2].spot_c == 21.0);
  // What stands at 32 or more is written so that it comes back.
  const std::string out = tests::export_text(book);
  CHECK(out.find(",35C") != std::string::npos);
  Logbook again = Logbook::in_memory();
  CHECK(errors_of(import_text(again, out)) == "");
  CHECK(tests::picture(again) == tests::picture(book));
  CHECK(refused("sowing,sown_on,soil_temp_c,soil_temp_f\nA,2026-04-01,18,70\n") ==
        "2:soil_temp_f:70:the row has 18 C in soil_temp_c, and here 21.11 C; one of them is "
        "wrong\n");
  CHECK(refused("sowing,sown_on,soil_temp_c\nA,2026-04-01,64\n")
            .find("2:soil_temp_c:64:64 may be Fahrenheit") == 0);
}
