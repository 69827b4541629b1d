// A percentage never lies outside the range beside it, however uneven the sowings; what else is
// known of the share is not touched by that.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "analysis/histories.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "analysis/rho/tray_prior.hpp"
#include "analysis/summary/summary.hpp"
#include "stats/numeric/random.hpp"
#include "stats/trays/tray_aware.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::Group;
using stats::Random;

namespace {

Group group_of(const std::vector<records::History>& histories, analysis::GroupOptions options) {
  options.model = false;
  Group result;
  analysis::SummaryQuestion question;
  question.by = analysis::SummaryBy::lot;
  question.options = options;
  analysis::SummaryStream stream(question, [&](const Group& group) { result = group; });
  for (const auto& history : histories) stream.take(history);
  stream.finish();
  return result;
}

// From 1 to 1000 units, small ones as often as large ones.
std::int64_t any_size(Random& random) {
  return std::llround(std::exp(std::log(1000.0) * random.unit()));
}

// Up by two looks, and some of them lost by a third.
records::History any_sowing(Random& random, double share) {
  const std::int64_t units = any_size(random);
  const std::int64_t up = random.beta_binomial(units, share, 0.05);
  auto result = history("A", units, {{5, random.binomial(up, 0.5)}, {9, up}, {12, up}});
  auto& last = result.counts.back().entered;
  last.kind = records::CountKind::standing;
  last.lost = random.below(3) == 0 ? random.binomial(up, random.unit()) : 0;
  last.value = up - last.lost;
  return result;
}

// The share lies in its range, and the other end is as the posterior has it.
void check_held(const analysis::Stand& stand, double level) {
  REQUIRE(stand.interval);
  const auto& range = *stand.interval;
  CHECK(range.lower <= *stand.fraction);
  CHECK(*stand.fraction <= range.upper);
  CHECK(range.method == stats::method::tray_aware);
  CHECK(range.level == level);
  const bool at_an_end = *stand.fraction == range.lower || *stand.fraction == range.upper;
  const bool nothing_or_all = stand.emerged == 0 || stand.emerged == stand.seeds;
  CHECK(stand.interval_moved == (at_an_end && !nothing_or_all));
  REQUIRE_FALSE(stand.intervals.empty());
  CHECK(stand.intervals.front().lower == range.lower);
  CHECK(stand.intervals.front().upper == range.upper);
}

}  // namespace

TEST_CASE("any sowings, even or not: the share that came up or stands lies in its range") {
  Random random(20261130);
  int moved = 0;
  int standing_moved = 0;
  int by_day_moved = 0;
  for (int trial = 0; trial < 300; ++trial) {
    CAPTURE(trial);
    const std::uint32_t kind = random.below(10);
    const bool nothing_or_all = kind < 2;
    std::vector<records::History> sowings;
    const std::uint32_t size = 1 + random.below(8);
    for (std::uint32_t i = 0; i < size; ++i)
      sowings.push_back(any_sowing(random, nothing_or_all ? kind : random.unit()));
    analysis::GroupOptions options;
    options.level = random.below(4) == 0 ? 0.5 : 0.95;
    options.by_day = random.below(2) == 0 ? 5 : 7;  // looked at, and between two looks
    const Group group = group_of(sowings, options);
    check_held(group.stand, options.level);
    moved += group.stand.interval_moved ? 1 : 0;
    if (group.standing) {
      check_held(*group.standing, options.level);
      standing_moved += group.standing->interval_moved ? 1 : 0;
    }
    const auto& by = *group.by_day;
    REQUIRE(by.interval);
    const auto seeds = static_cast<double>(by.seeds);
    CHECK(by.interval->lower <= static_cast<double>(by.at_least) / seeds);
    CHECK(static_cast<double>(by.at_most) / seeds <= by.interval->upper);
    by_day_moved += by.interval_moved ? 1 : 0;
  }
  CHECK(moved > 10);
  CHECK(standing_moved > 3);
  CHECK(by_day_moved > 3);
}

TEST_CASE("the end that would leave the share out moves to it, the other stays") {
  std::vector<stats::TrayCount> counts = {{300, 1000}};
  counts.insert(counts.end(), 5, {9, 10});
  const auto prior = analysis::prior_of(records::Setting::tray);
  const auto alone = stats::tray_aware_interval(counts, prior);
  const double share = 345.0 / 1050;
  REQUIRE(alone.lower > share);  // by itself it says that the share cannot be
  const auto stand = analysis::stand_of(counts, prior);
  CHECK(stand.interval->lower == share);
  CHECK(stand.interval->upper == alone.upper);
  CHECK(stand.interval_moved);
  // Its mirror image.
  for (auto& count : counts) count.up = count.sown - count.up;
  const auto mirrored = analysis::stand_of(counts, prior);
  CHECK(mirrored.interval->upper == *mirrored.fraction);
  CHECK_CLOSE(mirrored.interval->lower, 1 - alone.upper, 1e-6);
  CHECK(mirrored.interval_moved);
  // Even trays keep their range.
  const std::vector<stats::TrayCount> even(4, {28, 30});
  CHECK_FALSE(analysis::stand_of(even, prior).interval_moved);
}

TEST_CASE("a lot's chance to meet its standard and its limits are of the posterior, unmoved") {
  std::vector<records::History> tests;
  std::vector<stats::TrayCount> counts = {{300, 1000}};
  counts.insert(counts.end(), 5, {9, 10});
  for (const auto& count : counts) {
    tests.push_back(ended(history("T", count.sown, {{4, count.up}, {9, count.up}}), 12));
    tests.back().sowing.setting = records::Setting::towel;
  }
  records::Lot lot;
  lot.code = "L";
  analysis::ViabilityQuestion question;
  question.standard = 0.8;
  question.today = on_day(30);
  question.as_of = on_day(0);  // as old as the tests
  const auto finding = analysis::lot_viability(lot, tests, question);
  const stats::TrayAwarePosterior posterior(counts, analysis::prior_of(records::Setting::towel));
  CHECK(finding.stand.interval_moved);
  CHECK(finding.stand.interval->lower == *finding.stand.fraction);
  CHECK_WITHIN(*finding.p_meets, posterior.probability_at_least(0.8), 1e-3);
  CHECK_CLOSE(finding.lower_limit->lower, posterior.interval(0.95, stats::Side::lower).lower,
              1e-12);
  CHECK_CLOSE(finding.upper_limit->upper, posterior.interval(0.95, stats::Side::upper).upper,
              1e-12);
}
