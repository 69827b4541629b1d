// Real files: the sample logs, and a public time course that comes back as it went in.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "logbook/flat/support.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/upkeep/upkeep.hpp"
#include "support/csv.hpp"
#include "support/rounds.hpp"

using namespace plumule;
using logbook::Logbook;

namespace {

std::string file_text(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::stringstream text;
  text << file.rdbuf();
  REQUIRE(text.str().size() > 0);
  return text.str();
}

const std::filesystem::path samples =
    std::filesystem::path(tests::tests_folder()).parent_path() / "sample-logs";

}  // namespace

TEST_CASE("flat samples: every sample log is taken as of the demo's day, and comes back") {
  Logbook book = Logbook::in_memory();
  int files = 0;
  for (const char* name : {"trays-2026.csv", "beans-soaked.csv", "towels.csv", "beets-and-rows.csv",
                           "trays-2025.csv"}) {
    const auto summary = tests::import_text(book, file_text(samples / name), {}, "2026-05-10");
    CHECK_MESSAGE(summary.errors_in_all == 0, tests::errors_of(summary));
    CHECK(summary.counts_new > 40);
    ++files;
  }
  CHECK(files == 5);
  CHECK(logbook::check(book).empty());
  CHECK(sowing_named(book, "T1").taken_out);
  CHECK(sowing_named(book, "W2").metres == 8.0);
  CHECK(open_sowings(book).size() == 6);
  Logbook other = Logbook::in_memory();
  CHECK(tests::errors_of(tests::import_text(other, tests::export_text(book), {}, "2026-05-10")) ==
        "");
  CHECK(tests::difference(tests::picture(other), tests::picture(book)) == "");
}

// chickweed.csv: 200 seeds at 5 C, looked at 34 times in hours; its source is told in
// tests/data/README.md.
TEST_CASE("flat samples: a public time course comes back equal, to the minute") {
  const auto rows = tests::read_csv("data/chickweed.csv");
  REQUIRE(rows.size() > 30);
  const auto sown = *records::parse_moment("2026-01-01T00:00");
  std::string text = "sowing,sown_on,seeds,counted_on,newly_emerged,setting\n";
  std::vector<std::int64_t> expected;
  std::int64_t total = 0;
  for (const auto& row : rows) {
    if (row.at("end") == "Inf") continue;
    const auto at = records::Moment::from_minutes(
        sown.minutes() + static_cast<std::int64_t>(tests::number(row, "end") * 60), true);
    text +=
        "CHICK,2026-01-01T00:00,200," + records::to_text(at) + ',' + row.at("count") + ",dish\n";
    total += static_cast<std::int64_t>(tests::number(row, "count"));
    expected.push_back(total);
  }
  Logbook book = Logbook::in_memory();
  CHECK(tests::errors_of(tests::import_text(book, text)) == "");
  Logbook other = Logbook::in_memory();
  CHECK(tests::errors_of(tests::import_text(other, tests::export_text(book))) == "");
  CHECK(tests::difference(tests::picture(other), tests::picture(book)) == "");
  std::size_t k = 0;
  const auto sowing = sowing_named(other, "CHICK");
  for (const auto& count : counts_of(other, sowing.id)) {
    REQUIRE(k < rows.size());
    CHECK(count.total == expected[k]);
    CHECK(records::days_between(sowing.sown, count.at) * 24 == tests::number(rows[k], "end"));
    ++k;
  }
  CHECK(k == expected.size());
}

TEST_CASE("flat samples: damaged files are refused or taken, and never worse") {
  const std::string text = file_text(samples / "beets-and-rows.csv");
  std::mt19937 random(11);  // NOLINT(cert-msc51-cpp,cert-msc32-c)
  int refused = 0;
  for (int turn = 0; turn < tests::rounds(300); ++turn) {
    std::string damaged = text;
    for (int hits = 0; hits < 1 + turn % 4; ++hits) {
      const std::size_t at = random() % damaged.size();
      switch (random() % 4) {
        case 0:
          damaged[at] = static_cast<char>(random() % 256);
          break;
        case 1:
          damaged.erase(at, random() % 30);
          break;
        case 2:
          damaged.insert(at, std::string(1 + random() % 3, "\",;\n\r\t-9."[random() % 9]));
          break;
        default:
          damaged.resize(at + 1);
          break;
      }
    }
    Logbook book = Logbook::in_memory();
    const auto summary = tests::import_text(book, damaged);
    refused += summary.errors_in_all > 0;
    if (summary.errors_in_all > 0) {
      CHECK(tests::picture(book).find("sowing ") == std::string::npos);
    }
    CHECK(logbook::check(book).empty());
  }
  CHECK(refused > tests::rounds(100));
}
