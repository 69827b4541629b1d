// The walk: who is asked about what, in which order, and what an answer and a second thought do.
#include "bench/count_walk.hpp"

#include <doctest/doctest.h>

#include "logbook/keeping.hpp"

using namespace plumule;
using namespace plumule::tests;
using plumule::records::Advice;

namespace {

std::optional<bench::Noted> answer(Keeping& keeping, bench::Stop& stop,
                                   const std::optional<records::Entered>& entered) {
  return keeping.command("count", [&](logbook::Entry& entry) {
    return bench::answer(entry, at("2026-04-12"), stop, entered);
  });
}

records::Entered up(std::int64_t value) { return {.value = value}; }

}  // namespace

TEST_SUITE("the walk") {
  TEST_CASE("those due come first; what this person has counted is passed over") {
    Keeping keeping;
    for (const char* label : {"A1", "A2", "A3", "A4"}) keeping.sow(tray(label));
    keeping.sow(tray("B1", "2026-04-12"));  // sown that very day
    keeping.count("A1=3", "2026-04-12", "ada");
    keeping.count("A2=4", "2026-04-12", "ben");
    const bench::CountWalk walk = bench::count_walk(keeping.book, at("2026-04-12"), "ada", {"A4"});
    CHECK(walk.counted_already == 1);
    REQUIRE(walk.stops.size() == 3);
    CHECK(walk.stops[0].sowing.label == "A4");
    CHECK(walk.stops[0].due);
    CHECK(walk.stops[1].sowing.label == "A2");
    CHECK(walk.stops[1].other == "ben");
    CHECK(walk.stops[2].sowing.label == "A3");
  }

  TEST_CASE("an answer is kept, corrected and taken back") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    keeping.count("A1=3", "2026-04-10");
    bench::CountWalk walk = bench::count_walk(keeping.book, at("2026-04-12"), "ada", {});
    REQUIRE(walk.stops.size() == 1);
    bench::Stop& stop = walk.stops[0];
    CHECK(stop.before->total == 3);
    const auto noted = answer(keeping, stop, up(5));
    REQUIRE(noted.has_value());
    CHECK(noted->count.total == 5);
    CHECK_FALSE(answer(keeping, stop, up(6)).has_value());
    CHECK(logbook::counts_of(keeping.book, id).back().total == 6);
    answer(keeping, stop, std::nullopt);
    CHECK(logbook::counts_of(keeping.book, id).size() == 1);
    CHECK_FALSE(stop.given.has_value());
  }

  TEST_CASE("a second reading is not corrected on the walk") {
    Keeping keeping;
    keeping.sow(tray("A1"));
    keeping.count("A1=3", "2026-04-12", "ben");
    bench::CountWalk walk = bench::count_walk(keeping.book, at("2026-04-12"), "ada", {});
    REQUIRE(walk.stops.size() == 1);
    bench::Stop& stop = walk.stops[0];
    const auto noted = answer(keeping, stop, up(4));
    REQUIRE(noted.has_value());
    CHECK(noted->fate == bench::Fate::second_reading);
    const auto again = [&] { answer(keeping, stop, up(5)); };
    CHECK(said(again) ==
          "What you gave for A1 stands beside the figure of ben as a second reading. Which holds?");
    CHECK(advised(again) == Advised{Advice::settle_aside});
    CHECK(bench::count_walk(keeping.book, at("2026-04-12"), "ada", {}).counted_already == 1);
  }

  TEST_CASE("what the rules say against a figure, and that it can be kept in no figure") {
    Keeping keeping;
    const records::Id id = keeping.sow(tray("A1"));
    keeping.count("A1=9", "2026-04-10");
    const records::Sowing sowing = logbook::sowing_by_id(keeping.book, id);
    const auto refusal = bench::against(keeping.book, sowing, at("2026-04-12"), up(7));
    REQUIRE(refusal.has_value());
    CHECK(refusal->fact == "A1: 9 stood on Friday, 7 now.");
    CHECK_FALSE(bench::against(keeping.book, sowing, at("2026-04-12"), up(10)).has_value());
    const bench::Noted kept = keeping.command("count", [&](logbook::Entry& entry) {
      return bench::note_doubtful(entry, sowing, at("2026-04-12"), up(7), refusal->fact);
    });
    CHECK(kept.fate == bench::Fate::doubtful);
    CHECK(kept.aside == "d1");
    CHECK(logbook::counts_of(keeping.book, id).size() == 1);
  }
}
