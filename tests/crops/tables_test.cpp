// What holds of every row of the reference tables and of every crop's facts.
#include <doctest/doctest.h>

#include <set>
#include <stdexcept>
#include <string>

#include "crops/crop.hpp"
#include "crops/known_crop.hpp"
#include "crops/table.hpp"
#include "schema/embedded.hpp"

using namespace plumule::crops;
using plumule::tests::known_crop;

namespace {

constexpr const char* crop_tables[] = {"cautions.csv",
                                       "clusters.csv",
                                       "emergence_days.csv",
                                       "germination_minima.csv",
                                       "hard_seed.csv",
                                       "heat_sums.csv",
                                       "kin.csv",
                                       "presowing.csv",
                                       "seed_life.csv",
                                       "sealed_moisture.csv",
                                       "slow_kinds.csv",
                                       "soil_temperature.csv",
                                       "test_methods.csv"};
constexpr const char* other_tables[] = {"substrata.csv"};

void check_origin(const Origin& origin) {
  CHECK(!origin.source.empty());
  const std::set<std::string_view> kinds = {"law",      "government", "extension", "journal",
                                            "thesis",   "textbook",   "handbook",  "secondary",
                                            "practice", "computation"};
  CHECK_MESSAGE(kinds.count(origin.kind) == 1, std::string(origin.kind));
  if (!origin.address.empty()) {
    const std::set<std::string_view> linked = {"law", "government", "extension", "journal"};
    CHECK_MESSAGE(linked.count(origin.kind) == 1, std::string(origin.address));
    CHECK(origin.address.rfind("https://", 0) == 0);
  }
}

}  // namespace

TEST_CASE("every row is about a crop of the list, or any, and has a source") {
  for (const char* name : crop_tables) {
    const Table table(name);
    const bool crop_second = std::string(name) == "cautions.csv";
    CHECK(!table.rows().empty());
    for (const auto& row : table.rows()) {
      const std::string_view slug = row["crop"];
      CHECK_MESSAGE((slug == "any" || crop_by_slug(slug) != nullptr), name, ": ",
                    std::string(slug));
      if (crop_second) CHECK(!row["hazard"].empty());
      check_origin(origin(row));
    }
  }
  const Table kin("kin.csv");
  for (const auto& row : kin.rows()) CHECK(crop_by_slug(row["like"]) != nullptr);
}

TEST_CASE("tables of one answer a crop have one row a crop") {
  for (const char* name : {"hard_seed.csv", "kin.csv", "sealed_moisture.csv", "crops.csv"}) {
    const Table table(name);
    std::set<std::string_view> crops;
    for (const auto& row : table.rows())
      CHECK_MESSAGE(crops.insert(row["crop"]).second, name, ": ", std::string(row["crop"]));
  }
}

TEST_CASE("every source is used, and every table of the folder is known here") {
  std::set<std::string_view> used;
  std::set<std::string> seen = {"schema/reference/crops.csv", "schema/reference/sources.csv"};
  const auto gather = [&](const char* name) {
    seen.insert("schema/reference/" + std::string(name));
    const Table table(name);
    for (const auto& row : table.rows()) used.insert(row["source"]);
    if (std::string(name) == "emergence_days.csv")
      for (const auto& row : table.rows()) used.insert(row["percent_source"]);
  };
  for (const char* name : crop_tables) gather(name);
  for (const char* name : other_tables) gather(name);
  const Table sources("sources.csv");
  for (const auto& row : sources.rows())
    CHECK_MESSAGE(used.count(row["source"]) == 1, std::string(row["source"]));
  for (const auto& file : plumule::schema::files())
    if (file.path.rfind("schema/reference/", 0) == 0)
      CHECK_MESSAGE(seen.count(std::string(file.path)) == 1, std::string(file.path));
}

TEST_CASE("every crop has a fact, and every fact a source and a value") {
  for (const Crop& crop : all_crops()) {
    const Known known = known_of(crop);
    CHECK(known.crop.slug == crop.slug);
    CHECK_MESSAGE(!known.facts.empty(), std::string(crop.slug));
    for (const Fact& fact : known.facts) {
      check_origin(fact.origin);
      CHECK(!fact.topic.empty());
      CHECK(!fact.what.empty());
      if (fact.low) CHECK_MESSAGE(!fact.unit.empty(), fact.what);
      if (fact.unit == "fraction") CHECK((*fact.low >= 0 && *fact.high <= 1));
    }
    for (const Caution& caution : known.cautions) check_origin(caution.origin);
  }
}

TEST_CASE("facts of one crop stand by topic, and disagree side by side") {
  const Known tomato = known_of(known_crop("tomato"));
  std::set<std::string> best_ranges;
  std::string last_topic;
  std::set<std::string> closed;
  for (const Fact& fact : tomato.facts) {
    const std::string topic(fact.topic);
    if (topic != last_topic) {
      CHECK_MESSAGE(closed.count(topic) == 0, topic, " comes twice");
      closed.insert(last_topic);
      last_topic = topic;
    }
    if (topic == "soil temperature" && fact.what == "best range")
      best_ranges.insert(std::string(fact.origin.source));
  }
  CHECK(best_ranges.size() == 3);  // Oregon State, California, Delaware
}

TEST_CASE("trust is told in a grower's words") {
  CHECK(words(Trust::memory) == "from memory");
  CHECK(words(Trust::common_practice) == "common practice");
  CHECK_THROWS_AS(origin("no-such-source", "read", ""), std::logic_error);
  CHECK_THROWS_AS(origin("cfr-31", "hearsay", ""), std::logic_error);
}

TEST_CASE("a table that is not there, or a column, is a mistake of ours") {
  CHECK_THROWS_AS(Table("no_such_table.csv"), std::logic_error);
  const Table crops("crops.csv");
  CHECK_THROWS_AS(crops.rows()[0]["no such column"], std::logic_error);
  CHECK_THROWS_AS(crops.rows()[0].number("name"), std::logic_error);
  CHECK(crops.rows_of("carrot").size() == 1);
  CHECK(crops.rows_of("carr").empty());
}
