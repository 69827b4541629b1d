// Every refusal of a flat log: its line, its column, its value and its sentence, and that nothing
// is kept of a file that has one.
#include <doctest/doctest.h>

#include <string>

#include "logbook/flat/support.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"

using namespace plumule;
using logbook::Logbook;

namespace {

constexpr const char* look =
    "sowing,sown_on,seeds,counted_on,emerged,newly_emerged,lost,seedlings\n";

// The errors of a file that must have some; the logbook is as it was.
std::string refused(const std::string& text, const std::string& before = "") {
  Logbook book = Logbook::in_memory();
  if (!before.empty()) REQUIRE(tests::errors_of(tests::import_text(book, before)) == "");
  const std::string was = tests::picture(book);
  const auto summary = tests::import_text(book, text);
  CHECK(summary.errors_in_all > 0);
  CHECK(tests::picture(book) == was);
  return tests::errors_of(summary);
}

// One row beneath the columns of a look of A, sown on 2026-04-01, 50 seeds.
std::string row(const std::string& rest) {
  return refused(std::string(look) + "A,2026-04-01,50," + rest + '\n');
}

}  // namespace

TEST_CASE("flat refusals: the file and its header") {
  CHECK(refused("") == "1:::the file is empty; a flat log begins with a row of column names\n");
  CHECK(refused("sowing,seeds\nA,5\n") ==
        "1:sown_on::the first row names no such column; a flat log needs sowing and sown_on, and "
        "of a counted sowing counted_on with emerged or newly_emerged\n");
  CHECK(refused("sowing,sown_on,emergd\nA,2026-04-01,3\n")
            .find("1:emergd:emergd:the flat log has no such column; is emerged") == 0);
  CHECK(refused("sowing,sown_on,emergd\nA,2026-04-01,3\n").find(" meant?\n") != std::string::npos);
  CHECK(refused("sowing,sown_on,Sown on\nA,2026-04-01,2026-04-01\n") ==
        "1:sown_on:Sown on:the column is there twice\n");
  CHECK(refused("sowing,sown_on,\nA,2026-04-01,x\n").find("1:::the column has no name") == 0);
  CHECK(refused("sowing,sown_on\nA,\"2026-04-01\n") ==
        "2:::a quote is opened here and never closed\n");
  CHECK(refused("sowing,sown_on\nA,2026-04-01,kale\n") ==
        "2::A:the row has 3 cells where the header has 2; a comma inside a cell needs quotes "
        "around the cell\n");
}

TEST_CASE("flat refusals: labels and days") {
  CHECK(refused("sowing,sown_on\nA 1,2026-04-01\n").find("2:sowing:A 1:\"A 1\" is no label") == 0);
  CHECK(refused("sowing,sown_on\n,2026-04-01\n") == "2:sowing::a label is missing\n");
  CHECK(refused("sowing,sown_on,counted_on\n,,2026-04-01\n") ==
        "2:sowing::the label of the sowing is missing\n");
  CHECK(refused("sowing,sown_on\nA,\n") ==
        "2:sown_on::the date is empty; write it as 2026-04-03\n");
  CHECK(refused("sowing,sown_on\nA,3/4/2026\n") ==
        "2:sown_on:3/4/2026:\"3/4/2026\" can be 3 Apr 2026 or 4 Mar 2026 [hint]\n");
  CHECK(refused("sowing,sown_on\nA,2026-02-30\n") ==
        "2:sown_on:2026-02-30:\"2026-02-30\" is a day that does not exist\n");
  CHECK(refused("sowing,sown_on\nA,2026-07-01\n") ==
        "2:sown_on:2026-07-01:that day is still to come; today is 2026-06-30\n");
  CHECK(row("2026-07-01,3,,,") ==
        "2:counted_on:2026-07-01:that day is still to come; today is 2026-06-30\n");
  CHECK(row("5 April,3,,,").find("2:counted_on:5 April:\"5 April\" is not a date") == 0);
}

TEST_CASE("flat refusals: figures") {
  CHECK(row("2026-04-05,-3,,,") == "2:emerged:-3:\"-3\" is negative; there is nothing below 0\n");
  CHECK(row("2026-04-05,\"3,5\",,,") ==
        "2:emerged:3,5:\"3,5\" has a comma; write a whole number in digits alone, such as 1250\n");
  CHECK(row("2026-04-05,nan,,,").find("2:emerged:nan:\"nan\" is not a whole number") == 0);
  CHECK(row("2026-04-05,9..4,,,") ==
        "2:emerged:9..4:\"9..4\" is a guess whose low end lies above its high end\n");
  CHECK(row(",3,,,") == "2:counted_on::there is a figure, but not the day of the look\n");
  CHECK(row("2026-04-05,,,,") ==
        "2:emerged::a look without a figure: write 0 where nothing was up; where nobody looked "
        "counted_on is blank too\n");
  CHECK(row("2026-04-05,,3,2,") ==
        "2:lost:2:where some were lost, emerged must say how many ever came up\n");
  CHECK(row("2026-04-05,,,0,") ==
        "2:lost:0:where some were lost, emerged must say how many ever came up\n");
  CHECK(row("2026-04-05,4..6,,1,") ==
        "2:emerged:4..6:a guess cannot be told together with what was lost\n");
  CHECK(row("2026-04-05,4..6,2,,") ==
        "2:emerged:4..6:beside newly_emerged the total is no guess; write the middle, or blank\n");
  CHECK(refused("sowing,sown_on,seeds\nA,2026-04-01,0\n") ==
        "2:seeds:0:0 sown cannot be; leave the cell blank where the number is not known\n");
  CHECK(
      refused("sowing,sown_on,seeds\nA,2026-04-01,some\n") ==
      "2:seeds:some:\"some\" is not a whole number; leave the cell blank where it is not known\n");
  CHECK(refused("sowing,sown_on,soil_temp_c\nA,2026-04-01,\"15,5\"\n") ==
        "2:soil_temp_c:15,5:\"15,5\" has a decimal comma; write 15.5\n");
  CHECK(refused("sowing,sown_on,soil_min_c,soil_max_c\nA,2026-04-01,15,9\n") ==
        "2:soil_min_c:15:the least lies above the most\n");
  CHECK(refused("sowing,sown_on,soil_temp_c\nA,2026-04-01,400\n").find("2:soil_temp_c:400:") == 0);
}

TEST_CASE("flat refusals: a course that cannot be") {
  CHECK(row("2026-04-05,51,,,") == "2:emerged:51:51 up of 50 sown\n");
  CHECK(row("2026-04-05,45..55,,,") == "2:emerged:45..55:as many as 55 up of 50 sown\n");
  CHECK(row("2026-03-30,1,,,") ==
        "2:counted_on:2026-03-30:A was sown on 2026-04-01, after this look\n");
  CHECK(row("2026-04-01,1,,,") ==
        "2:counted_on:2026-04-01:something up on the very day of sowing cannot be\n");
  CHECK(row("2026-04-05,3,,,\nA,2026-04-01,50,2026-04-07,2,,,") ==
        "3:emerged:2:2 ever up is fewer than the 3 of 2026-04-05; emerged never falls, and what "
        "died goes into the column lost\n");
  CHECK(row("2026-04-05,5..9,,,\nA,2026-04-01,50,2026-04-07,4,,,") ==
        "3:emerged:4:4 ever up is fewer than the 5 to 9 of 2026-04-05; emerged never falls, and "
        "what died goes into the column lost\n");
  CHECK(row("2026-04-05,8,,,\nA,2026-04-01,50,2026-04-07,6..12,,,") ==
        "3:emerged:6..12:the guess begins below the 8 that were up at the look of 2026-04-05\n");
  CHECK(row("2026-04-05,8,,,\nA,2026-04-01,50,2026-04-07,12,3,,") ==
        "3:newly_emerged:3:8 before and 3 new make 11, but the row has emerged 12 and "
        "newly_emerged 3\n");
  CHECK(row("2026-04-05,3,,,\nA,2026-04-01,50,2026-04-07,3,,4,") ==
        "3:lost:4:more were lost than ever came up\n");
  CHECK(row("2026-04-05,3,,,5\nA,2026-04-01,50,2026-04-07,3,,,4") ==
        "3:seedlings:4:fewer seedlings than at an earlier look; they are counted as ever up\n");
  CHECK(row("2026-04-05,3,,,2") ==
        "2:seedlings:2:3 units are up, and each of them has a seedling at least\n");
  CHECK(row("2026-04-05,3,,,\nA,2026-04-01,50,2026-04-05,4,,,") ==
        "3:emerged:4:line 2 has another figure for the same look\n");
  CHECK(refused("sowing,sown_on,setting,taken_out,counted_on,emerged\n"
                "T,2026-04-01,towel,yes,2026-04-05,3\n") ==
        "2:emerged:3:sprouts are taken out of it at each look; give what is new in "
        "newly_emerged\n");
  CHECK(refused("sowing,sown_on,unit,seeds,seeds_per_cell,counted_on,emerged,seedlings\n"
                "T,2026-04-01,cell,10,2,2026-04-05,3,21\n") ==
        "2:seedlings:21:more seedlings than seeds in the cells\n");
}

TEST_CASE("flat refusals: rows of one sowing that disagree") {
  CHECK(refused("sowing,sown_on,seeds\nA,2026-04-01,50\nA,2026-04-01,40\n") ==
        "3:seeds:40:another row says \"50\" of the sowing\n");
  CHECK(refused("sowing,sown_on,lot,crop\nA,2026-04-01,L1,kale\nB,2026-04-01,L1,leek\n") ==
        "3:crop:leek:another row says \"kale\" of lot L1\n");
  CHECK(refused("sowing,sown_on\nA,2026-04-01T08:00\nA,2026-04-01T09:00\n") ==
        "3:sown_on:2026-04-01T09:00:another row says \"2026-04-01T08:00\" of the sowing\n");
  CHECK(refused(
            "sowing,sown_on,treatment,treated_in\nA,2026-04-01,hot,jar\nB,2026-04-01,cold,jar\n") ==
        "3:treatment:cold:another row says \"hot\" of what was treated in jar\n");
  CHECK(refused("sowing,sown_on,counted_on,emerged,ended\nA,2026-04-01,2026-04-05,0,failed\n"
                "A,2026-04-01,2026-04-06,0,finished\n") ==
        "3:ended:finished:another row says that it ended as failed\n");
  CHECK(refused("sowing,sown_on,ended,ended_on\nA,2026-04-01,failed,2026-04-05\n"
                "A,2026-04-01,failed,2026-04-06\n") ==
        "3:ended_on:2026-04-06:another row says that it ended on 2026-04-05\n");
  CHECK(refused("sowing,sown_on,lot,crop\nA,2026-04-01,,leek\nA,2026-04-01,L1,kale\n") ==
        "2:crop:leek:lot L1 is kale\n");
}

TEST_CASE("flat refusals: facts without what they are said of, or out of reach") {
  CHECK(refused("sowing,sown_on,harvest_year\nA,2026-04-01,2020\n") ==
        "2:harvest_year:2020:this is said of a lot, and the row names none\n");
  CHECK(refused("sowing,sown_on,question\nA,2026-04-01,why\n") ==
        "2:question:why:this is said of a trial, and the row names none\n");
  CHECK(refused("sowing,sown_on,block\nA,2026-04-01,north\n") ==
        "2:block:north:a block is of a trial, and the row names none\n");
  CHECK(refused("sowing,sown_on,chill_days\nA,2026-04-01,14\n") ==
        "2:chill_days:14:this is said of a treatment, and the row names none\n");
  CHECK(refused("sowing,sown_on,soak_hours\nA,2026-04-01,2000\n") ==
        "2:soak_hours:2000:hours of soaking lie between 0 and 1000\n");
  CHECK(refused("sowing,sown_on,lot,harvest_year\nA,2026-04-01,L1,24\n")
            .find("2:harvest_year:24:Lot L1: the year 24 cannot be") == 0);
  CHECK(refused("sowing,sown_on,lot,harvest_year,packed_year\nA,2026-04-01,L1,2024,2023\n")
            .find("2:::Lot L1: packed in 2023, before its harvest in 2024") == 0);
  CHECK(refused("sowing,sown_on,depth_mm\nA,2026-04-01,99999\n").find("2:depth_mm:99999:A: ") == 0);
  CHECK(refused("sowing,sown_on,wetted_on\nA,2026-04-01,2026-04-02\n")
            .find("2:wetted_on:2026-04-02:A: wetted on") == 0);
  CHECK(refused("sowing,sown_on,label_germination,lot\nA,2026-04-01,85,L1\n") ==
        "2:label_germination:85:\"85\" is no fraction; write 0.85 or 85%\n");
  CHECK(refused("sowing,sown_on,lot,parents\nA,2026-04-01,L1,mix:L2\n")
            .find("2:::There is no lot \"L2\"") == 0);
  CHECK(refused("sowing,sown_on,setting\nA,2026-04-01,bucket\n") ==
        "2:setting:bucket:\"bucket\" is not one of towel, dish, tray, cells, pot or row\n");
  CHECK(refused("sowing,sown_on,counted_by\nA,2026-04-01," + std::string(65, 'x') + "\n")
            .find("a name has at most 64 characters") != std::string::npos);
}

TEST_CASE("flat refusals: endings") {
  CHECK(refused("sowing,sown_on,ended\nA,2026-04-01,failed\n") ==
        "2:ended:failed:the day of its end is missing: give counted_on or ended_on\n");
  CHECK(refused("sowing,sown_on,ended,ended_on\nA,2026-04-01,,2026-04-05\n") ==
        "2:ended_on:2026-04-05:how it ended is missing: the column ended is blank\n");
  CHECK(refused("sowing,sown_on,ended,ended_on\nA,2026-04-01,eaten,2026-04-05\n")
            .find("2:ended:eaten:\"eaten\" is not one of finished, accident") == 0);
  CHECK(refused("sowing,sown_on,counted_on,emerged,ended\nA,2026-04-01,2026-04-05,1,finished\n"
                "A,2026-04-01,2026-04-06,2,\n") ==
        "3:counted_on:2026-04-06:A ended on 2026-04-05 (finished), before this look\n");
  CHECK(refused("sowing,sown_on,counted_on,emerged\nA,2025-04-01,2026-04-06,1\n"
                "A,2026-04-01,2026-04-06,2\n") ==
        "2:counted_on:2026-04-06:A ended on 2026-04-01 (sown-over), before this look\n");
}

TEST_CASE("flat refusals: what the logbook has otherwise") {
  const std::string there =
      "sowing,sown_on,seeds,lot,crop,counted_on,emerged,ended\n"
      "A,2026-04-01,50,L1,kale,2026-04-05,3,\nA,2026-04-01,50,L1,kale,2026-04-09,9,finished\n"
      "B,2026-04-01,50,L1,kale,2026-04-09,5,\n";
  CHECK(refused("sowing,sown_on,counted_on,emerged\nA,2026-04-01,2026-04-05,4\n", there) ==
        "2:emerged:4:the logbook has 3 up in all for A at this look [A@2026-04-01 "
        "2026-04-05]\n");
  CHECK(refused("sowing,sown_on,seeds\nA,2026-04-01,40\n", there) ==
        "2:seeds:40:the logbook has \"50\" for A; mend the file, or the logbook [hint]\n");
  CHECK(refused("sowing,sown_on,lot,crop\nZ,2026-04-01,l1,leek\n", there) ==
        "2:crop:leek:the logbook has \"kale\" for l1; mend the file, or the logbook [hint]\n");
  CHECK(refused("sowing,sown_on,counted_on,emerged\nB,2026-04-01,2026-04-06,7\n", there) ==
        "2:counted_on:2026-04-06:with this look the logbook's count of 2026-04-09 cannot be: 5 "
        "ever up is fewer than the 7 of 2026-04-06; emerged never falls, and what died goes into "
        "the column lost\n");
  CHECK(refused("sowing,sown_on,counted_on,emerged\nA,2026-04-01,2026-04-11,9\n", there) ==
        "2:counted_on:2026-04-11:A ended on 2026-04-09 (finished), before this look\n");
  CHECK(refused("sowing,sown_on,ended,ended_on\nA,2026-04-01,failed,2026-04-09\n", there) ==
        "2:ended:failed:the logbook has it ended as finished on 2026-04-09; mend the file, or take "
        "that back [A@2026-04-01]\n");
  CHECK(refused("sowing,sown_on\nB,2026-04-05\n", there)
            .find("2:sown_on:2026-04-05:an earlier sowing of the label is open and would end "
                  "here: ") == 0);
  CHECK(refused("sowing,sown_on,treatment,treated_in\nC,2026-04-01,cold,jar\n",
                "sowing,sown_on,treatment,treated_in\nA,2026-04-01,hot,jar\n")
            .find("2:treated_in:jar:the logbook has a batch of that name, of hot") == 0);
}

TEST_CASE("flat refusals: every bad row is counted, the first ones are named in order") {
  std::string text = look;
  for (int i = 0; i < 3000; ++i)
    text += "A" + std::to_string(i) + ",2026-04-01,5,2026-04-05,6,,,\n";
  Logbook book = Logbook::in_memory();
  const auto summary = tests::import_text(book, text);
  CHECK(summary.errors_in_all == 3000);
  REQUIRE(summary.errors.size() == 50);
  CHECK(summary.errors.front().line == 2);
  CHECK(summary.errors.back().line == 51);
  Logbook empty = Logbook::in_memory();
  CHECK(tests::picture(book) == tests::picture(empty));
}

TEST_CASE("flat refusals: errors of cells and of courses stand together by line") {
  CHECK(refused(std::string(look) + "A,2026-04-01,5,2026-04-05,6,,,\nB,2026-04-01,5,soon,1,,,\n"
                                    "C,2026-04-01,5,2026-04-05,9,,,\n") ==
        "2:emerged:6:6 up of 5 sown\n"
        "3:counted_on:soon:\"soon\" is not a date; write it as year-month-day, 2026-04-03\n"
        "4:emerged:9:9 up of 5 sown\n");
}

TEST_CASE("flat refusals: more up than assessments leave, in a short file and in a long one") {
  for (const int others : {0, 3000}) {  // a long file is loaded in bulk
    tests::Keeping keeping;
    keeping.sow(tests::tray("Z1", "2026-04-01"));
    keeping.count("Z1=5", "2026-04-10");
    keeping.command("assess", [](logbook::Entry& entry) {
      const auto sowing = logbook::sowing_named(entry.logbook(), "Z1");
      add_assessment(entry, sowing.id,
                     {0, tests::day("2026-04-20"), records::Outcome::rotted, 10, ""});
    });
    std::string text = "sowing,sown_on,seeds,counted_on,emerged\nZ1,2026-04-01,20,2026-04-25,15\n";
    for (int i = 0; i < others; ++i)
      text += "S" + std::to_string(i) + ",2026-04-01,20,2026-04-12,7\n";
    const auto summary = tests::import_text(keeping.book, text);
    CHECK(tests::errors_of(summary) ==
          "2:emerged:15:15 up and 10 assessed as not up are more than the 20 sown\n");
    CHECK(keeping.totals("Z1") == std::vector<std::int64_t>{5});
  }
}
