// What a flat log brings into a logbook.
#include <doctest/doctest.h>

#include <string>

#include "logbook/flat/support.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/words.hpp"

using namespace plumule;
using logbook::Logbook;
using tests::errors_of;
using tests::import_text;

namespace {

// The counts of a sowing: "2026-04-05=12 (12)" and so on.
std::string counts(Logbook& logbook, const std::string& name) {
  std::string text;
  for (const auto& count : counts_of(logbook, sowing_named(logbook, name).id))
    text += records::to_text(count.at) + records::to_text(count.entered) + " (" +
            std::to_string(count.total) + ") ";
  return text;
}

}  // namespace

TEST_CASE("flat import: the least that is needed, in any order of columns and rows") {
  Logbook book = Logbook::in_memory();
  const auto summary = import_text(book,
                                   "emerged,seeds,counted_on,sowing,sown_on\n"
                                   "12,50,2026-04-09,A1,2026-04-01\n"
                                   "3,50,2026-04-07,A1,2026-04-01\n"
                                   ",50,,A2,2026-04-02\n");
  CHECK(errors_of(summary) == "");
  CHECK(summary.rows == 3);
  CHECK(summary.counts_new == 2);
  CHECK(summary.sowings_new == 2);
  CHECK(counts(book, "A1") == "2026-04-07=3 (3) 2026-04-09=12 (12) ");
  const auto sowing = sowing_named(book, "A2");
  CHECK(sowing.units == 50);
  CHECK(sowing.treatment == "untreated");
  CHECK(sowing.setting == records::Setting::tray);
  CHECK(sowing.open());
}

TEST_CASE("flat import: every kind of count comes from the cells that are filled") {
  Logbook book = Logbook::in_memory();
  const auto summary = import_text(
      book,
      "sowing,sown_on,seeds,unit,counted_on,emerged,newly_emerged,lost,seedlings,counted_by\n"
      "A,2026-04-01,50,seed,2026-04-07T07:30,3,,,,Ilse\n"
      "A,2026-04-01,50,seed,2026-04-08,8..12,,,,\n"
      "A,2026-04-01,50,seed,2026-04-09,14,4,,,\n"
      "A,2026-04-01,50,seed,2026-04-10,,2,0,,\n"
      "A,2026-04-01,50,seed,2026-04-11,18,,3,,\n"
      "A,2026-04-01,50,seed,2026-04-12,20,2,1,,\n"
      "A,2026-04-01,50,seed,2026-04-13,20,0,,,\n"
      "B,2026-04-01,30,cluster,2026-04-10,5,,,9,\n"
      "B,2026-04-01,30,cluster,2026-04-11,,,,12,\n");
  CHECK(errors_of(summary) == "");
  CHECK(counts(book, "A") ==
        "2026-04-07T07:30=3 (3) 2026-04-08=8..12 (10) 2026-04-09+4 (14) 2026-04-10+2 (16) "
        "2026-04-11=15-3 (18) 2026-04-12=16-1 (20) 2026-04-13=same (20) ");
  CHECK(counts(book, "B") == "2026-04-10=5/9 (5) 2026-04-11=/12 (5) ");
  CHECK(counts_of(book, sowing_named(book, "A").id).front().by == "Ilse");
}

TEST_CASE("flat import: after a loss emerged is still all that ever came up") {
  const std::string head = "sowing,sown_on,seeds,counted_on,emerged,lost\n";
  const std::string lost = "A,2026-04-01,50,2026-04-08,14,\nA,2026-04-01,50,2026-04-10,14,3\n";
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book, head + lost + "A,2026-04-01,50,2026-04-12,16,\n", {})) == "");
  CHECK(counts(book, "A") == "2026-04-08=14 (14) 2026-04-10=11-3 (14) 2026-04-12=16 (16) ");
  // 12 stand, perhaps; but 14 were up, and no fewer can ever have come up.
  Logbook other = Logbook::in_memory();
  const auto fewer = import_text(other, head + lost + "A,2026-04-01,50,2026-04-12,12,\n", {});
  CHECK(errors_of(fewer).find("4:emerged:12:") == 0);
}

TEST_CASE("flat import: lots, treatments, batches, trials and blocks with their facts") {
  Logbook book = Logbook::in_memory();
  const auto summary = import_text(
      book,
      "sowing,sown_on,seeds,lot,crop,variety,harvest_year,label_germination,trial,question,"
      "closes_on,block,treatment,soak_hours,treated_in,treated_on,place,depth_mm,medium\n"
      "S1,2026-04-01,50,L1,garden bean,\"Quillet, dwarf\",2024,85%,SOAK,does it help?,2026-05-01,"
      "north,soaked,8,jar-1,2026-03-31,bench,25,\"loam; sand\"\n"
      "S2,2026-04-01,50,l1,,,,,soak,,,south,untreated,0,,,bench,,\n"
      ",,,L9,leek,Grey Warden,2019,0.7,,,,,,,,,,,\n");
  CHECK(errors_of(summary) == "");
  CHECK(summary.lots_new == 2);
  CHECK(summary.treatments_new == 1);
  CHECK(summary.trials_new == 1);
  CHECK(summary.sowings_new == 2);
  const auto lot = lot_named(book, "L1");
  CHECK(lot.variety == "Quillet, dwarf");
  CHECK(lot.label_germination == 0.85);
  CHECK(lot_named(book, "L9").label_germination == 0.7);
  CHECK(treatment_named(book, "soaked").soak_hours == 8.0);
  CHECK(find_batch(book, "jar-1")->treatment == "soaked");
  const auto trial = trial_named(book, "SOAK");
  CHECK(trial.blocks == std::vector<std::string>{"north", "south"});
  CHECK(trial.question == "does it help?");
  const auto sowing = sowing_named(book, "S1");
  CHECK(sowing.crop == "garden bean");
  CHECK(sowing.batch == "jar-1");
  CHECK(sowing.depth_mm == 25.0);
  CHECK(sowing.medium == "loam; sand");
  CHECK(sowing_named(book, "S2").lot == "L1");
}

TEST_CASE("flat import: hours of soaking without a name make a treatment") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(book,
                              "sowing,sown_on,soak_hours\nA,2026-04-01,8\nB,2026-04-01,0\n"
                              "C,2026-04-01,7.5\nD,2026-04-01,\n")) == "");
  CHECK(sowing_named(book, "A").treatment == "soaked-8h");
  CHECK(sowing_named(book, "B").treatment == "untreated");
  CHECK(sowing_named(book, "C").treatment == "soaked-7.5h");
  CHECK(sowing_named(book, "D").treatment == "untreated");
  CHECK(treatment_named(book, "soaked-8h").soak_hours == 8.0);
}

TEST_CASE("flat import: crop and variety without a lot are the sowing's, unknown crops are said") {
  Logbook book = Logbook::in_memory();
  logbook::ImportOptions options;
  options.known_crop = [](std::string_view crop) { return crop == "kale"; };
  const auto summary = import_text(book,
                                   "sowing,sown_on,crop,variety\nA,2026-04-01,moonwort,Silver\n"
                                   "B,2026-04-01,kale,\nC,2026-04-01,moonwort,\n",
                                   options);
  CHECK(errors_of(summary) == "");
  CHECK(summary.unknown_crops == std::vector<std::string>{"moonwort"});
  CHECK(sowing_named(book, "A").crop == "moonwort");
  CHECK(sowing_named(book, "A").lot.empty());
}

TEST_CASE("flat import: temperatures and notes, with a look and without one") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(
            book,
            "sowing,sown_on,counted_on,emerged,soil_temp_c,soil_min_c,soil_max_c,counted_by,note\n"
            "A,2026-04-01,2026-04-05,0,12.5,,,Ilse,\"two\nlines, \"\"quoted\"\"\"\n"
            "A,2026-04-01,2026-04-06T08:00,,,9,17.25,,\n"
            "A,2026-04-01,,,,,,,sown in the rain\n")) == "");
  const auto id = sowing_named(book, "A").id;
  const auto temperatures = temperatures_of(book, id);
  REQUIRE(temperatures.size() == 2);
  CHECK(temperatures[0].spot_c == 12.5);
  CHECK(temperatures[0].by == "Ilse");
  CHECK(temperatures[1].max_c == 17.25);
  CHECK(records::to_text(temperatures[1].at) == "2026-04-06T08:00");
  const auto notes = notes_of(book, records::About::sowing, id);
  REQUIRE(notes.size() == 2);
  CHECK(notes[0].text == "sown in the rain");
  CHECK(records::to_text(notes[0].on) == "2026-04-01");
  CHECK(notes[1].text == "two\nlines, \"quoted\"");
  CHECK(counts_of(book, id).size() == 1);
}

TEST_CASE("flat import: endings, on the last row or dated") {
  Logbook book = Logbook::in_memory();
  CHECK(errors_of(import_text(
            book,
            "sowing,sown_on,counted_on,emerged,ended,ended_on,ended_why\n"
            "A,2026-04-01,2026-04-05,0,,,\nA,2026-04-01,2026-04-09T18:00,3,finished,,\n"
            "B,2026-04-01,2026-04-05,2,accident,2026-04-06,\"knocked over, sadly\"\n"
            "C,2026-04-01,2026-04-05,0,given-up,,\nC,2026-04-01,2026-04-07,0,given-up,,\n"
            "D,2026-04-01,,,failed,2026-04-20,dried out\n")) == "");
  const auto ended = [&](const char* name) {
    const auto ending = *sowing_named(book, name).ending;
    return std::string(records::word(ending.kind)) + ' ' + records::to_text(ending.at) + ' ' +
           ending.why;
  };
  CHECK(ended("A") == "finished 2026-04-09T18:00 ");
  CHECK(ended("B") == "accident 2026-04-06 knocked over, sadly");
  CHECK(ended("C") == "given-up 2026-04-07 ");
  CHECK(ended("D") == "failed 2026-04-20 dried out");
}

TEST_CASE("flat import: a towel's sprouts are taken out, unless it gives totals") {
  Logbook book = Logbook::in_memory();
  CHECK(
      errors_of(import_text(
          book,
          "sowing,sown_on,setting,seeds,counted_on,emerged,newly_emerged,taken_out\n"
          "T1,2026-03-01,towel,10,2026-03-05,,2,\nT1,2026-03-01,towel,10,2026-03-06,,3,\n"
          "T2,2026-03-01,towel,10,2026-03-05,2,,\nT3,2026-03-01,towel,10,,,,\n"
          "T4,2026-03-01,towel,10,2026-03-05,2,2,no\nT5,2026-03-01,dish,10,2026-03-05,,2,yes\n")) ==
      "");
  CHECK(sowing_named(book, "T1").taken_out);
  CHECK_FALSE(sowing_named(book, "T2").taken_out);
  CHECK(sowing_named(book, "T3").taken_out);
  CHECK_FALSE(sowing_named(book, "T4").taken_out);
  CHECK(sowing_named(book, "T5").taken_out);
  CHECK(counts(book, "T1") == "2026-03-05+2 (2) 2026-03-06+3 (5) ");
}

TEST_CASE("flat import: a label sown again closes the earlier sowing") {
  Logbook book = Logbook::in_memory();
  auto summary = import_text(book,
                             "sowing,sown_on,counted_on,emerged\nA1,2025-04-01,2025-04-20,5\n"
                             "A1,2026-04-01,,\na1,2026-03-01,2026-03-09,1\n");
  CHECK(errors_of(summary) == "");
  CHECK(summary.sown_over == std::vector<std::string>{"A1@2025-04-01", "a1@2026-03-01"});
  CHECK(sowing_named(book, "A1@2025").ending->kind == records::EndingKind::sown_over);
  CHECK(records::to_text(sowing_named(book, "A1@2025").ending->at) == "2026-03-01");
  CHECK(sowing_named(book, "A1").open());
  // Again later, over the one that is open in the logbook.
  summary = import_text(book, "sowing,sown_on\nA1,2026-05-01\n");
  CHECK(errors_of(summary) == "");
  CHECK(summary.sown_over == std::vector<std::string>{"A1@2026-04-01"});
  CHECK(records::to_text(sowing_named(book, "A1@2026-04-01").ending->at) == "2026-05-01");
}

TEST_CASE("flat import: what spreadsheets make of a file is read the same") {
  const std::string plain =
      "sowing,sown_on,counted_on,emerged,note\nA,2026-04-01,2026-04-05,2,\"a, b\"\n"
      "B,2026-04-01,2026-04-05,3,\n";
  Logbook book = Logbook::in_memory();
  import_text(book, plain);
  const std::string expected = tests::picture(book);
  const std::string semicolons =
      "Sowing;Sown on;counted-on;EMERGED;note\r\n A ;2026-04-01 ;2026-04-05;2.0;a, b\r\n"
      "B;2026-04-01;2026-04-05;3;\r\n\r\n;;;;\r\n";
  const std::string tabs =
      "sowing\tsown_on\tcounted_on\temerged\tnote\rA\t2026-04-01\t2026-04-05\t2\ta, b\r"
      "B\t2026-04-01\t2026-04-05\t3\t\r";
  for (const std::string& text : {"\xEF\xBB\xBF" + plain, semicolons, tabs}) {
    Logbook other = Logbook::in_memory();
    CHECK(errors_of(import_text(other, text)) == "");
    CHECK(tests::picture(other) == expected);
  }
}

TEST_CASE("flat import: unknown columns may be passed over, and are named") {
  Logbook book = Logbook::in_memory();
  logbook::ImportOptions options;
  options.ignore_columns = true;
  const auto summary =
      import_text(book, "sowing,Moon,sown_on,weight\nA,full,2026-04-01,3.5\n", options);
  CHECK(errors_of(summary) == "");
  CHECK(summary.ignored_columns == std::vector<std::string>{"Moon", "weight"});
  CHECK(summary.sowings_new == 1);
}
