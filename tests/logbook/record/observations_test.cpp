// Assessments, temperatures and notes; and the histories that carry them to analysis.
#include "logbook/record/observations.hpp"

#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/journal/seen_changes.hpp"
#include "logbook/journal/undo.hpp"
#include "logbook/keeping.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/upkeep/upkeep.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

template <class Act>
std::string doing(Keeping& keeping, const Act& act) {
  return said([&] { keeping.command("observe", act); });
}

records::Temperature reading(const char* when, double celsius) {
  records::Temperature temperature;
  temperature.at = at(when);
  temperature.spot_c = celsius;
  return temperature;
}

}  // namespace

TEST_SUITE("observations") {
  TEST_CASE("assessments cover what did not come up, no more") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    keeping.count("A1=14", "2026-04-10");
    const auto assess = [&](records::Outcome outcome, std::int64_t units, const char* on) {
      return doing(keeping, [&](Entry& entry) {
        records::Assessment assessment;
        assessment.on = day(on);
        assessment.outcome = outcome;
        assessment.units = units;
        assessment.by = "ben";
        add_assessment(entry, id, assessment);
      });
    };
    CHECK(
        assess(records::Outcome::hard, 7, "2026-04-20") ==
        "A1: 20 sown, 14 came up, which leaves 6; 7 hard cannot be. Of those that came up none is "
        "assessed.");
    CHECK(assess(records::Outcome::hard, 2, "2026-04-20") == "(not refused)");
    CHECK(assess(records::Outcome::not_found, 5, "2026-04-20") ==
          "A1: 20 sown, 14 came up and 2 are assessed already, which leaves 4; 5 not-found cannot "
          "be. Of those that came up none is assessed.");
    CHECK(assess(records::Outcome::not_found, 4, "2026-04-20") == "(not refused)");
    CHECK(assess(records::Outcome::hard, 0, "2026-04-20") ==
          "A1: An assessment is of 1 unit or more (and at most 1,000,000,000), not 0.");
    CHECK(assess(records::Outcome::hard, 1, "2026-05-20") ==
          "A1: Wed 20 May 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(assess(records::Outcome::hard, 1, "2026-04-02") ==
          "A1 was sown on Fri 3 Apr 2026, after Thu 2 Apr 2026. Another day meant?");
    const auto found = assessments_of(keeping.book, id);
    REQUIRE(found.size() == 2);
    CHECK(found[0].outcome == records::Outcome::hard);
    CHECK(found[0].by == "ben");
    CHECK(found[1].units == 4);
    CHECK(check(keeping.book).empty());
  }

  TEST_CASE("temperatures of a sowing and of a place") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    keeping.command("temp", [&](Entry& entry) {
      records::Temperature own = reading("2026-04-05T07:00", 11.5);
      own.sowing = id;
      add_temperature(entry, own);
      records::Temperature bench = reading("2026-04-06", 14);
      bench.place = "Bench";
      bench.spot_c.reset();
      bench.min_c = 8;
      bench.max_c = 21;
      bench.by = "cy";
      add_temperature(entry, bench);
    });
    REQUIRE(temperatures_of(keeping.book, id).size() == 1);
    CHECK(temperatures_of(keeping.book, id)[0].spot_c == 11.5);
    CHECK(temperatures_of(keeping.book, id)[0].at == at("2026-04-05T07:00"));
    REQUIRE(temperatures_at(keeping.book, "bench").size() == 1);
    CHECK(temperatures_at(keeping.book, "bench")[0].max_c == 21);
    CHECK(temperatures_at(keeping.book, "bench")[0].by == "cy");
    records::Temperature ahead = reading("2026-05-02", 10);
    ahead.place = "bench";
    CHECK(doing(keeping, [&](Entry& entry) { add_temperature(entry, ahead); }) ==
          "A temperature: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    records::Temperature lost = reading("2026-04-02", 10);
    lost.sowing = 99;
    CHECK(doing(keeping, [&](Entry& entry) { add_temperature(entry, lost); }) ==
          "That sowing is not in the logbook any more.");
  }

  TEST_CASE("notes about whatever there is") {
    Keeping keeping;
    const records::Id lot = keeping.lot("X7");
    const auto note = [&](records::About about, records::Id of, const char* on, const char* text) {
      return doing(keeping, [&](Entry& entry) {
        add_note(entry, {0, about, of, day(on), text, "ben"});
      });
    };
    CHECK(note(records::About::lot, lot, "2026-04-01", "smells of mice") == "(not refused)");
    CHECK(note(records::About::treatment, 1, "2026-04-01", "as bought") == "(not refused)");
    CHECK(note(records::About::trial, 1, "2026-04-01", "x") ==
          "The note is about a trial that is not in the logbook.");
    CHECK(note(records::About::sowing, 1, "2026-04-01", "x") ==
          "The note is about a sowing that is not in the logbook.");
    CHECK(note(records::About::lot, lot, "2026-05-02", "x") ==
          "A note: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");
    CHECK(note(records::About::lot, lot, "2026-04-01", " \n").rfind("The note is empty.", 0) == 0);
    REQUIRE(notes_of(keeping.book, records::About::lot, lot).size() == 1);
    CHECK(notes_of(keeping.book, records::About::lot, lot)[0].text == "smells of mice");
    CHECK(notes_of(keeping.book, records::About::lot, lot)[0].by == "ben");
  }

  TEST_CASE("what was seen is corrected, kept as it was, and taken back") {
    Keeping keeping;
    records::Sowing sowing = tray("A1");
    sowing.place = "bench";
    const records::Id id = keeping.sow(sowing);
    keeping.count("A1=14", "2026-04-10");
    records::Id assessed = 0;
    records::Id warm = 0;
    records::Id noted = 0;
    keeping.command("observe", [&](Entry& entry) {
      assessed = add_assessment(entry, id, {0, day("2026-04-20"), records::Outcome::hard, 3, ""});
      records::Temperature one = reading("2026-04-09", 81);
      one.place = "bench";
      warm = add_temperature(entry, one);
      noted = add_note(entry, {0, records::About::sowing, id, day("2026-04-09"), "dyr", ""});
    });
    keeping.by = "ben";
    keeping.command("amend", [&](Entry& entry) {
      amend_assessment(entry, id, {assessed, day("2026-04-20"), records::Outcome::firm, 6, "ada"});
      records::Temperature now = temperatures_at(keeping.book, "bench").at(0);
      now.spot_c = std::nullopt;
      now.min_c = 8;
      now.max_c = 18;
      amend_temperature(entry, now);
      amend_note(entry, {noted, records::About::sowing, id, day("2026-04-09"), "dry", ""});
    });
    CHECK(check(keeping.book).empty());
    REQUIRE(assessments_of(keeping.book, id).size() == 1);
    CHECK(assessments_of(keeping.book, id)[0].units == 6);
    CHECK(temperatures_at(keeping.book, "bench")[0].max_c == 18);
    CHECK(notes_of(keeping.book, records::About::sowing, id)[0].text == "dry");
    std::string changes;
    for (const FieldChange& one : seen_changes(keeping.book, *find_sowing(keeping.book, "A1")))
      changes += one.by + ", " + one.field + ": " + one.before + " -> " + one.after + "\n";
    CHECK(changes ==
          "ben, assessed 2026-04-20: 3 hard -> 6 firm\n"
          "ben, temperature of 2026-04-09: 81 C -> lowest 8 C, highest 18 C\n"
          "ben, note of 2026-04-09: dyr -> dry\n");

    // More than did not come up; the one that stood counts no more.
    const records::Id now = assessments_of(keeping.book, id)[0].id;
    CHECK(
        doing(
            keeping,
            [&](Entry& entry) {
              amend_assessment(entry, id, {now, day("2026-04-20"), records::Outcome::firm, 7, ""});
            }) ==
        "A1: 20 sown, 14 came up, which leaves 6; 7 firm cannot be. Of those that came up none "
        "is assessed.");
    CHECK(assessments_of(keeping.book, id)[0].units == 6);
    CHECK(doing(keeping, [&](Entry& entry) {
            records::Temperature late = temperatures_at(keeping.book, "bench").at(0);
            late.at = at("2026-05-02");
            amend_temperature(entry, late);
          }) == "A temperature: Sat 2 May 2026 has not come yet; today is Fri 1 May 2026.");

    keeping.command("amend", [&](Entry& entry) {
      take_out_seen(entry, Seen::assessment, now);
      take_out_seen(entry, Seen::temperature, warm);
      take_out_seen(entry, Seen::note, noted);
    });
    CHECK(assessments_of(keeping.book, id).empty());
    CHECK(temperatures_at(keeping.book, "bench").empty());
    CHECK(notes_of(keeping.book, records::About::sowing, id).empty());
    CHECK(seen_changes(keeping.book, *find_sowing(keeping.book, "A1")).size() == 4);
    CHECK(check(keeping.book).empty());

    undo(keeping.book, "ben");
    undo(keeping.book, "ben");
    REQUIRE(assessments_of(keeping.book, id).size() == 1);
    CHECK(assessments_of(keeping.book, id)[0].outcome == records::Outcome::hard);
    CHECK(assessments_of(keeping.book, id)[0].id == assessed);
    CHECK(temperatures_at(keeping.book, "bench")[0].spot_c == 81);
    CHECK(notes_of(keeping.book, records::About::sowing, id)[0].text == "dyr");
    CHECK(seen_changes(keeping.book, *find_sowing(keeping.book, "A1")).empty());
    CHECK(check(keeping.book).empty());
  }
}

TEST_SUITE("histories") {
  TEST_CASE("a history is all that was seen, in order of sowing") {
    Keeping keeping;
    keeping.lot("X7", "Bean");
    records::Sowing late = tray("A10");
    late.lot = "X7";
    keeping.sow(late);
    records::Sowing second = tray("A2");
    second.crop = "pea";
    keeping.sow(second);
    keeping.sow(tray("B1", "2026-03-01"));
    keeping.count("A10=3", "2026-04-08");
    keeping.count("A10=5", "2026-04-10");
    const auto labels = [&](const Selection& selection) {
      std::string text;
      for (const auto& history : histories(keeping.book, selection))
        text += history.sowing.label + ':' + std::to_string(history.counts.size()) + ' ';
      return text;
    };
    CHECK(labels({}) == "B1:0 A2:0 A10:2 ");
    Selection of_lot;
    of_lot.lot = "x7";
    CHECK(labels(of_lot) == "A10:2 ");
    Selection of_crop;
    of_crop.crop = "bean";
    CHECK(labels(of_crop) == "A10:2 ");
    of_crop.crop = "PEA";
    CHECK(labels(of_crop) == "A2:0 ");
    of_crop.lot = "X7";
    CHECK(labels(of_crop).empty());
    Selection untreated;
    untreated.treatment = "untreated";
    CHECK(labels(untreated) == "B1:0 A2:0 A10:2 ");
    Selection by_id;
    by_id.sowings = {1, 3};
    CHECK(labels(by_id) == "B1:0 A10:2 ");
    Selection trial;
    trial.trial = "none";
    CHECK(labels(trial).empty());
    CHECK(histories(keeping.book, of_lot)[0].sowing.crop == "Bean");
    Selection of_no_lot;
    of_no_lot.lot = "";
    CHECK(labels(of_no_lot) == "B1:0 A2:0 ");
    of_no_lot.trial = "";
    CHECK(labels(of_no_lot) == "B1:0 A2:0 ");
  }

  TEST_CASE("many sowings are read whole, in order, and may be asked for by a long list") {
    Keeping keeping;
    Selection listed;
    listed.sowings.assign(300'000, 999'999);  // as text longer than a statement may be
    std::string expected;
    for (int i = 0; i < 200; ++i) {
      const std::string label = "T" + std::to_string(i);
      listed.sowings.push_back(keeping.sow(tray(label)));
      keeping.count(label + "=" + std::to_string(i % 20), "2026-04-10");
      expected += label + ':' + std::to_string(i % 20) + ' ';
    }
    const records::Id moved = listed.sowings[300'150];
    keeping.command("observe", [&](Entry& entry) {
      move_sowing(entry, moved, {0, day("2026-04-09"), "bench"});
      records::Temperature one = reading("2026-04-10", 18);
      one.place = "bench";
      add_temperature(entry, one);
      add_assessment(entry, moved, {0, day("2026-04-20"), records::Outcome::hard, 2, "ben"});
    });
    const auto check_all = [&](const std::vector<records::History>& all) {
      std::string found;
      for (const records::History& history : all) {
        REQUIRE(history.counts.size() == 1);
        found += history.sowing.label + ':' + std::to_string(history.counts[0].total) + ' ';
        const bool is_moved = history.sowing.id == moved;
        CHECK(history.sowing.place == (is_moved ? "bench" : ""));
        CHECK(history.temperatures.size() == (is_moved ? 1 : 0));
        CHECK(history.assessments.size() == (is_moved ? 1 : 0));
      }
      CHECK(found == expected);
    };
    std::vector<records::History> all;
    each_history(keeping.book, listed,
                 [&](const records::History& history) { all.push_back(history); });
    check_all(all);
    check_all(histories(keeping.book, listed));
    listed.sowings = {moved};
    expected = "T150:10 ";
    check_all(histories(keeping.book, listed));
  }

  TEST_CASE("temperatures of a place belong to a sowing while it stood there") {
    Keeping keeping;
    records::Sowing sowing = tray("A1");
    sowing.place = "cellar";
    const records::Id id = keeping.sow(sowing);
    keeping.command("observe", [&](Entry& entry) {
      move_sowing(entry, id, {0, day("2026-04-10"), "bench"});
      for (const char* on : {"2026-04-02", "2026-04-03", "2026-04-09", "2026-04-10", "2026-04-30"})
        for (const char* place : {"cellar", "bench"}) {
          records::Temperature one = reading(on, place[0] == 'c' ? 8 : 18);
          one.place = place;
          add_temperature(entry, one);
        }
      records::Temperature own = reading("2026-04-09T09:00", 9);
      own.sowing = id;
      add_temperature(entry, own);
    });
    keeping.end("A1", records::EndingKind::finished, "2026-04-20");
    std::string seen;
    for (const auto& history : histories(keeping.book, {}))
      for (const auto& one : history.temperatures)
        seen +=
            records::to_text(one.at) + '=' + std::to_string(static_cast<int>(*one.spot_c)) + ' ';
    CHECK(seen == "2026-04-03=8 2026-04-09T09:00=9 2026-04-09=8 2026-04-10=18 ");
  }
}
