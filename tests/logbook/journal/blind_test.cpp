// In a blind trial neither a refusal nor the journal gives away what was counted before.
#include <doctest/doctest.h>

#include "logbook/journal/journal.hpp"
#include "logbook/keeping.hpp"

using namespace plumule::logbook;
using namespace plumule::tests;
namespace records = plumule::records;

namespace {

// A1 in trial T, 17 up on 10 April.
void begin(Keeping& keeping, bool blind) {
  records::Trial trial;
  trial.code = "T";
  trial.blind = blind;
  keeping.command("trial", [&](Entry& entry) { add_trial(entry, trial); });
  auto sowing = tray("A1");
  sowing.trial = "T";
  keeping.sow(sowing);
  keeping.command("plumule count A1=17", [&](Entry& entry) {
    const auto pair = records::parse_pair("A1=17");
    record_count(entry, sowing_named(keeping.book, "A1"),
                 records::Count{at("2026-04-10"), pair.typed.entered, "", 0});
  });
}

bool names_17(const std::string& text) { return text.find("17") != std::string::npos; }

}  // namespace

TEST_SUITE("blind trials") {
  TEST_CASE("a trial is blind by its own word, and a sowing of none is not") {
    Keeping blind, seeing;
    begin(blind, true);
    begin(seeing, false);
    CHECK(is_blind(blind.book, "T"));
    CHECK(is_blind(blind.book, "t"));  // as labels are found
    CHECK_FALSE(is_blind(seeing.book, "T"));
    CHECK_FALSE(is_blind(blind.book, ""));
    CHECK_FALSE(is_blind(blind.book, "OTHER"));
  }

  TEST_CASE("a count that cannot be is refused without the earlier figure") {
    for (const bool is : {true, false}) {
      Keeping keeping;
      begin(keeping, is);
      const std::string lower = said([&] { keeping.count("A1=12", "2026-04-14"); });
      CHECK(lower != "(not refused)");
      CHECK(names_17(lower) != is);
      const std::string more = said([&] { keeping.count("A1+9", "2026-04-14"); });
      CHECK(more != "(not refused)");
      CHECK(names_17(more) != is);
    }
  }

  TEST_CASE("the journal tells whose figures its words would name") {
    for (const bool is : {true, false}) {
      Keeping keeping;
      begin(keeping, is);
      const auto line = journal(keeping.book, 1).front();
      CHECK(line.blind_counts ==
            (is ? std::vector<std::string>{"A1"} : std::vector<std::string>{}));
      keeping.sow(tray("A2"));
      CHECK(journal(keeping.book, 1).front().blind_counts.empty());
    }
  }
}
