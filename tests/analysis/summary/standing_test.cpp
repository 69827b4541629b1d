// What came up and what stands are two answers of the same sowings: the second is the first less
// what was recorded as lost, and there is none where no loss was.
#include <doctest/doctest.h>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "analysis/rho/tray_prior.hpp"
#include "analysis/summary/summary.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::Group;
using analysis::SummaryBy;

namespace {

std::vector<Group> summary(const std::vector<records::History>& histories, SummaryBy by) {
  std::vector<Group> groups;
  analysis::SummaryQuestion question;
  question.by = by;
  analysis::SummaryStream stream(question, [&](const Group& group) { groups.push_back(group); });
  for (const auto& history : histories) stream.look_ahead(history);
  for (const auto& history : histories) stream.take(history);
  stream.finish();
  return groups;
}

// Looked at once more on that day: that many were lost since.
records::History losing(records::History history, int day, std::int64_t lost) {
  const std::int64_t up = history.counts.back().total;
  records::Count count;
  count.at = records::Moment::from_minutes(history.sowing.sown.minutes() + day * 1440, true);
  count.entered.kind = records::CountKind::standing;
  count.entered.value = up - lost;
  count.entered.lost = lost;
  count.total = up;
  history.counts.push_back(count);
  return history;
}

// Four trays of 30: 28 up when soaked, of which 20 were lost; 21 up when not.
std::vector<records::History> soaked_and_not() {
  std::vector<records::History> trays;
  for (const char* name : {"A", "B", "C", "D"}) {
    trays.push_back(
        losing(in_trial(history(std::string("S") + name, 30, {{5, 28}, {9, 28}}), "soak"), 15, 20));
    trays.push_back(
        in_trial(history(std::string("U") + name, 30, {{6, 21}, {9, 21}, {15, 21}}), "untreated"));
  }
  return trays;
}

void check_same(const analysis::Stand& one, const analysis::Stand& other) {
  CHECK(one.sowings == other.sowings);
  CHECK(one.seeds == other.seeds);
  CHECK(one.emerged == other.emerged);
  CHECK(one.fraction == other.fraction);
  REQUIRE(one.interval);
  REQUIRE(other.interval);
  CHECK(one.interval->lower == other.interval->lower);
  CHECK(one.interval->upper == other.interval->upper);
  CHECK(one.prior.b == other.prior.b);
}

}  // namespace

TEST_CASE("where a loss was recorded both are told, elsewhere nothing is") {
  const auto groups = summary(soaked_and_not(), SummaryBy::treatment);
  REQUIRE(groups.size() == 2);
  const auto& soaked = groups[0];
  CHECK(soaked.lost == 80);
  CHECK(soaked.stand.emerged == 112);
  REQUIRE(soaked.standing.has_value());
  const auto prior = analysis::prior_of(records::Setting::tray);
  const std::vector<stats::TrayCount> up(4, {28, 30});
  const std::vector<stats::TrayCount> left(4, {8, 30});
  check_same(soaked.stand, analysis::stand_of(up, prior));
  check_same(*soaked.standing, analysis::stand_of(left, prior));
  CHECK_CLOSE(*soaked.standing->fraction, 32.0 / 120, 1e-12);
  CHECK(soaked.standing->intervals.size() == soaked.stand.intervals.size());
  CHECK(groups[1].lost == 0);
  CHECK_FALSE(groups[1].standing.has_value());
}

TEST_CASE("a comparison's treatments stand as the summary's do") {
  const auto trays = soaked_and_not();
  analysis::ComparisonQuestion question;
  question.subject = "T";
  question.today = on_day(60);
  const auto answer = analysis::compare_treatments(trays, question);
  const auto groups = summary(trays, SummaryBy::treatment);
  REQUIRE(answer.treatments.size() == 2);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(answer.treatments[i].lost == groups[i].lost);
    REQUIRE(answer.treatments[i].standing.has_value() == groups[i].standing.has_value());
    if (groups[i].standing) check_same(*answer.treatments[i].standing, *groups[i].standing);
  }
}

TEST_CASE("what stands goes by jars where sowings shared one") {
  std::vector<records::History> jar;
  for (const char* name : {"A", "B", "C", "D"})
    jar.push_back(losing(in_trial(history(name, 30, {{5, 26}}), "soak", "", "J1"), 9, 10));
  const auto group = summary(jar, SummaryBy::treatment).front();
  REQUIRE(group.standing.has_value());
  CHECK(group.standing->sowings == 4);
  const stats::TrayCount one[] = {{64, 120}};
  const auto expected = analysis::stand_of(one, analysis::prior_of(records::Setting::tray));
  CHECK(group.standing->interval->lower == expected.interval->lower);
  CHECK(group.standing->interval->upper == expected.interval->upper);
}

TEST_CASE("all lost stand at nought; a loss outside the percentage is counted, and is not in it") {
  const auto all = summary({losing(history("A", 30, {{5, 28}}), 9, 28)}, SummaryBy::sowing).front();
  REQUIRE(all.standing.has_value());
  CHECK(all.standing->emerged == 0);
  CHECK(all.standing->interval->lower == 0);
  CHECK(all.stand.emerged == 28);

  // Of an unknown number sown: no percentage of either.
  auto row = losing(history("B", 1, {{5, 40}}), 9, 12);
  row.sowing.units_known = records::UnitsKnown::unknown;
  row.sowing.units.reset();
  const auto unknown = summary({row}, SummaryBy::sowing).front();
  CHECK(unknown.up_in_all() == 40);
  CHECK(unknown.lost_in_all() == 12);
  CHECK(unknown.seeds == 0);
  CHECK(unknown.emerged == 0);
  CHECK_FALSE(unknown.standing.has_value());

  // Knocked over before the others had done.
  const auto knocked =
      ended(losing(history("C", 50, {{4, 12}}), 5, 3), 5, records::EndingKind::accident);
  const auto whole = history("D", 50, {{4, 10}, {6, 30}, {8, 40}});
  const auto group = summary({whole, knocked}, SummaryBy::lot).front();
  CHECK(group.stand.sowings == 1);
  CHECK(group.lost == 3);
  CHECK_FALSE(group.standing.has_value());
}
