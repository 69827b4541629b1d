// What belongs together in one group, and what tells groups apart.
#include <doctest/doctest.h>

#include <set>

#include "analysis/histories.hpp"
#include "analysis/summary/summary.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::Group;
using analysis::SummaryBy;

namespace {

std::vector<Group> summary(const std::vector<records::History>& histories, SummaryBy by) {
  std::vector<Group> groups;
  analysis::SummaryQuestion question;
  question.by = by;
  question.options.detail = false;
  analysis::SummaryStream stream(question, [&](const Group& group) { groups.push_back(group); });
  for (const auto& history : histories) stream.look_ahead(history);
  for (const auto& history : histories) stream.take(history);
  stream.finish();
  return groups;
}

records::History of_crop(const char* label, const std::string& crop,
                         std::optional<std::int64_t> units,
                         const std::vector<Total>& totals = {{5, 3}}) {
  auto one = history(label, units.value_or(0), totals);
  one.sowing.crop = crop;
  one.sowing.units = units;
  if (!units) one.sowing.units_known = records::UnitsKnown::unknown;
  return one;
}

std::vector<std::string> keys(const std::vector<records::History>& histories, SummaryBy by) {
  std::vector<std::string> all;
  for (const Group& group : summary(histories, by)) all.push_back(group.key);
  return all;
}

}  // namespace

TEST_CASE("sown and up are of the same sowings; what nobody knows stands beside them") {
  // One crop gave 953 up of 816 sown: a row of an unknown number had 137 up, and 50 were sown that
  // nobody had looked at.
  const auto groups = summary(
      {of_crop("A", "leek", 500, {{5, 300}, {9, 500}}), of_crop("B", "leek", 316, {{9, 316}}),
       of_crop("R", "leek", {}, {{9, 137}}), of_crop("C", "leek", 50, {})},
      SummaryBy::crop);
  REQUIRE(groups.size() == 1);
  const Group& group = groups.front();
  CHECK(group.seeds == 816);
  CHECK(group.emerged == 816);
  CHECK(group.unknown.sowings == 1);
  CHECK(group.unknown.emerged == 137);
  CHECK(group.units_unknown == 1);
  CHECK(group.not_looked_at == 1);
  CHECK(group.seeds_not_looked_at == 50);
  CHECK(group.up_in_all() == 953);
  CHECK(group.stand.emerged == 816);
}

TEST_CASE("groups that count different things have keys of their own, and share their name") {
  auto roots = of_crop("B", "bean", 20);
  roots.sowing.counting = records::Counting::root_seen;
  auto clusters = of_crop("C", "bean", 20);
  clusters.sowing.unit = records::UnitKind::cluster;
  const auto seeds = of_crop("A", "bean", 20);
  CHECK(keys({seeds}, SummaryBy::crop) == std::vector<std::string>{"bean"});
  CHECK(keys({clusters}, SummaryBy::crop) == std::vector<std::string>{"bean"});
  CHECK(keys({seeds, roots}, SummaryBy::crop) ==
        std::vector<std::string>{"bean: root", "bean: shoot"});
  CHECK(keys({seeds, clusters}, SummaryBy::crop) ==
        std::vector<std::string>{"bean: seeds", "bean: clusters"});
  CHECK(keys({seeds, roots, clusters}, SummaryBy::crop) ==
        std::vector<std::string>{"bean: root of seeds", "bean: shoot of seeds",
                                 "bean: shoot of clusters"});
  for (const Group& group : summary({seeds, roots, clusters}, SummaryBy::crop))
    CHECK(group.name == "bean");
}

TEST_CASE("what is of no crop is not what is of a crop called so") {
  const auto groups =
      summary({of_crop("A", "", 20), of_crop("B", "no crop", 30), of_crop("C", "No crop", 10)},
              SummaryBy::crop);
  REQUIRE(groups.size() == 2);
  CHECK(groups[0].key == "no crop");
  CHECK(groups[0].seeds == 40);
  CHECK(groups[1].key == "no crop 2");
  CHECK(groups[1].name == "no crop");
  CHECK(groups[1].seeds == 20);
}

TEST_CASE("no crop can be called so that two keys are the same") {
  auto roots = of_crop("B", "bean", 20);
  roots.sowing.counting = records::Counting::root_seen;
  std::vector<records::History> all = {of_crop("A", "bean", 20), roots, of_crop("E", "no crop", 5),
                                       of_crop("F", "", 5)};
  for (const char* crop : {"bean: root", "bean: shoot", "bean: root 2", "no crop 2", "BEAN: ROOT"})
    all.push_back(of_crop("C", crop, 20));
  std::set<std::string> keys;
  for (const Group& group : summary(all, SummaryBy::crop)) CHECK(keys.insert(group.key).second);
  CHECK(keys.size() == 8);
}
