// How even the looks were, what gaps allow, and the claims on speed that rest on both: of one
// difference and of several together.
#include "stats/trials/claims.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// A sowing of 100, 80 up by a lognormal time of that median and log spread 0.2, seen on those days.
TimeCourse seen(double median, const std::vector<double>& days) {
  TimeCourse course;
  course.sown = 100;
  for (const double day : days) {
    const double z = (std::log(day) - std::log(median)) / 0.2;
    course.looks.push_back({day, std::round(80 * 0.5 * std::erfc(-z / std::sqrt(2.0)))});
  }
  return course;
}

std::vector<double> every(int step, int last = 24) {
  std::vector<double> days;
  for (int day = step; day <= last; day += step) days.push_back(day);
  return days;
}

std::vector<TimeCourse> sowings(std::initializer_list<double> medians,
                                const std::vector<double>& days) {
  std::vector<TimeCourse> made;
  for (const double median : medians) made.push_back(seen(median, days));
  return made;
}

const std::vector<double> gappy = {3, 4, 5, 9, 10, 11, 16, 17, 24};

SpeedEvidence evidence(const std::vector<TimeCourse>& a, const std::vector<TimeCourse>& b) {
  SpeedEvidence made{compare_mean_days(a, b), std::nullopt};
  if (look_gaps(a, b).uneven) made.gaps = allow_for_gaps(a, b);
  return made;
}

SpeedClaim claim_of(const SpeedEvidence& evidence) { return claim_days(evidence).claim; }

// Four sowings against four, that many days apart, with that two-sided p.
SpeedEvidence apart(double days, double p) {
  SpeedEvidence made;
  auto& shown = made.days;
  shown.status = SpeedStatus::compared;
  shown.sowings = shown.against = 4;
  shown.difference = days;
  shown.df = 6;
  shown.t = (days < 0 ? -1 : 1) * student_t_quantile_upper(p / 2, 6);
  shown.se = days / *shown.t;
  shown.p = p;
  return made;
}

}  // namespace

TEST_CASE("daily looks, and every third day with a spread of two, are even") {
  const auto daily = look_gaps(sowings({8, 9}, every(1)), sowings({10, 11}, every(1)));
  CHECK_CLOSE(daily.longest, 1, 1e-12);
  CHECK_CLOSE(daily.shortest, 1, 1e-12);
  CHECK(daily.spread > 1.5);
  CHECK_FALSE(daily.uneven);
  CHECK_FALSE(look_gaps(sowings({10, 11}, every(3)), sowings({11, 12}, every(3))).uneven);
}

TEST_CASE("missed days in the middle of it, or looks a week apart, are not") {
  const auto missed = look_gaps(sowings({8, 9}, gappy), sowings({10, 11}, gappy));
  CHECK(missed.uneven);
  CHECK_CLOSE(missed.longest, 5, 1e-12);
  CHECK_CLOSE(missed.shortest, 1, 1e-12);
  CHECK(look_gaps(sowings({9, 9}, every(7, 28)), sowings({10, 11}, every(7, 28))).uneven);
  // One treatment looked at daily, the other with gaps
  CHECK(look_gaps(sowings({8, 9}, every(1)), sowings({8, 9}, gappy)).uneven);
}

TEST_CASE("a gap that holds little is no matter, nor is one of a day however narrow the spread") {
  const TimeCourse late{100.0, {{5, 2}, {6, 30}, {7, 60}, {8, 75}, {9, 80}}, 0};
  const std::vector<TimeCourse> alike{late, late};
  CHECK_FALSE(look_gaps(alike, alike).uneven);
  const TimeCourse brief{100.0, {{4, 0}, {5, 79}, {6, 80}}, 0};
  const std::vector<TimeCourse> quick{brief, brief};
  CHECK_FALSE(look_gaps(quick, quick).uneven);
}

TEST_CASE("days scale through, and without emergence nothing is uneven") {
  auto a = sowings({8, 9}, gappy), b = sowings({10, 11}, gappy);
  const auto days = look_gaps(a, b);
  for (auto* arm : {&a, &b})
    for (auto& course : *arm)
      for (auto& look : course.looks) look.time *= 24;
  const auto hours = look_gaps(a, b);
  CHECK_CLOSE(hours.longest, 24 * days.longest, 1e-12);
  CHECK_CLOSE(hours.spread, 24 * days.spread, 1e-12);
  const std::vector<TimeCourse> none{{10.0, {{5, 0}, {9, 0}}, 0}};
  const auto nothing = look_gaps(none, none);
  CHECK_FALSE(nothing.uneven);
  CHECK(nothing.longest == 0);
  const auto allowed = allow_for_gaps(none, b);
  CHECK_FALSE(allowed.ratio.has_value());
  CHECK_FALSE((allowed.sooner() || allowed.later() || allowed.within(1)));
}

TEST_CASE(
    "what gaps allow: earliest and latest hold the difference by middles, the ratio is near") {
  const auto a = sowings({8, 8.4, 7.7}, gappy), b = sowings({10, 10.3, 9.8}, gappy);
  const auto allowed = allow_for_gaps(a, b);
  const auto middles = compare_mean_days(a, b);
  REQUIRE((allowed.earliest && allowed.latest));
  CHECK(*allowed.earliest <= *middles.difference);
  CHECK(*allowed.latest >= *middles.difference);
  REQUIRE(allowed.ratio.has_value());
  CHECK_WITHIN(allowed.ratio->ratio, 0.8, 0.03);  // the medians drawn from: 8.03 / 10.03
  CHECK(allowed.sooner());
  CHECK_FALSE(allowed.later());
  const auto turned = allow_for_gaps(b, a);
  CHECK(turned.later());
  CHECK_CLOSE(turned.ratio->ratio, 1 / allowed.ratio->ratio, 1e-6);
}

TEST_CASE("a claim within gaps keeps its level, whatever level is shown") {
  const auto a = sowings({8, 8.4, 7.7}, gappy), b = sowings({10, 10.3, 9.8}, gappy);
  const std::vector<std::vector<TimeCourse>> both{a, b};
  const auto model = fit_likeliest_treatments(both);
  const auto usual = allow_for_gaps(a, b, model), wide = allow_for_gaps(a, b, model, 0.999);
  CHECK_CLOSE(*usual.ratio_upper95, *usual.ratio->upper, 1e-15);
  CHECK_CLOSE(*wide.ratio_upper95, *usual.ratio->upper, 1e-15);
  CHECK(*wide.ratio->upper > *usual.ratio->upper);
  CHECK_CLOSE(wide.ratio->level, 0.999, 1e-15);
  CHECK(wide.sooner() == usual.sooner());
  // The ends of the gaps are those of the sowings given, whatever the model was fitted to.
  CHECK_CLOSE(*allow_for_gaps(a, b, {}).latest, *usual.latest, 1e-15);
  CHECK_FALSE(allow_for_gaps(a, b, {}).ratio.has_value());
}

TEST_CASE("claims on speed, neither, and what uneven looks take back") {
  const auto quick = sowings({8, 8.4, 7.7}, every(1)), slow = sowings({10, 10.3, 9.8}, every(1));
  CHECK(claim_of(evidence(quick, slow)) == SpeedClaim::sooner);
  CHECK(claim_of(evidence(slow, quick)) == SpeedClaim::later);
  const auto same = sowings({8.1, 8.3, 7.8}, every(1));
  CHECK(claim_of(evidence(quick, same)) == SpeedClaim::neither);
  // One arm daily, the other with its days missed just where they came: the middles differ though
  // the times do not.
  const auto daily = sowings({8, 8.1, 7.9}, every(1));
  const auto missed = sowings({8, 8.1, 7.9}, {1, 2, 3, 4, 5, 6, 13, 14, 15});
  const auto deceived = evidence(daily, missed);
  REQUIRE(deceived.gaps.has_value());
  CHECK(*deceived.days.p < 0.05);
  CHECK(claim_days(deceived).by_days == SpeedClaim::sooner);
  CHECK(claim_of(deceived) == SpeedClaim::none);
}

TEST_CASE("apart by more than the gaps can hide is a claim without any model") {
  // All in one gap each, sowing by sowing at slightly other looks
  const auto once = [](double before, double by, double up) {
    return TimeCourse{50.0, {{before, 0}, {by, up}}, 0};
  };
  const std::vector<TimeCourse> first{once(3, 5, 40), once(3, 5.5, 42)};
  const std::vector<TimeCourse> second{once(12, 14, 40), once(12, 15, 44)};
  const auto shown = evidence(first, second);
  REQUIRE(shown.gaps.has_value());
  CHECK_FALSE(shown.gaps->ratio.has_value());
  CHECK(shown.gaps->sooner());
  CHECK(claim_of(shown) == SpeedClaim::sooner);
}

TEST_CASE("one sowing, no variance or nothing up never bears out a claim on speed") {
  const auto one = sowings({8}, every(1)), two = sowings({10, 10.4}, every(1));
  CHECK(claim_of(evidence(one, two)) == SpeedClaim::none);
  const auto flat = sowings({8, 8}, every(1)), level = sowings({10, 10}, every(1));
  CHECK(claim_of(evidence(flat, level)) == SpeedClaim::none);
  const std::vector<TimeCourse> none{{10.0, {{5, 0}, {9, 0}}, 0}};
  CHECK(claim_of(evidence(none, two)) == SpeedClaim::none);
  const std::vector<TimeCourse> bad{{10.0, {{5, 12}}, 0}};
  CHECK_THROWS_AS(look_gaps(bad, two), std::domain_error);
}

TEST_CASE("several differences in days are claimed together by Holm") {
  const auto claims = [](const std::vector<SpeedEvidence>& shown) {
    std::vector<SpeedClaim> made;
    for (const auto& one : claim_days_together(shown)) made.push_back(one.claim);
    return made;
  };
  using enum SpeedClaim;
  CHECK(claim_of(apart(-3, 0.03)) == sooner);
  CHECK(claim_of(apart(3, 0.04)) == later);
  // 2 x 0.03 is over 0.05, and nothing after it counts.
  CHECK(claims({apart(-3, 0.03), apart(3, 0.04)}) == std::vector{none, none});
  CHECK(claims({apart(3, 0.04), apart(-3, 0.02)}) == std::vector{later, sooner});
  CHECK(claims({apart(-3, 0.01), apart(3, 0.03), apart(3, 0.2)}) ==
        std::vector{sooner, none, none});
  const auto judged = claim_days_together(std::vector{apart(-3, 0.03), apart(3, 0.04)});
  CHECK_CLOSE(*judged[0].claim_p, 0.06, 1e-12);
  CHECK_CLOSE(*judged[1].claim_p, 0.06, 1e-12);
}

TEST_CASE("what cannot be judged is no part of the family") {
  auto lone = apart(-3, 0.01);
  lone.days.sowings = 1;
  const auto nothing_up = SpeedEvidence{};
  const auto judged =
      claim_days_together(std::vector{lone, apart(-3, 0.03), nothing_up, apart(3, 0.2)});
  CHECK(judged[0].claim == SpeedClaim::none);
  CHECK_FALSE((judged[0].claim_p || judged[0].within_p || judged[2].claim_p));
  CHECK_CLOSE(*judged[1].claim_p, 0.06, 1e-12);
  CHECK(claim_days_together({}).empty());
}

TEST_CASE("neither holds over all the differences too") {
  // Alike to a tenth of a day, each with its two one-sided tests at some 3 %
  const auto alike = [](double days, double one_sided) {
    auto made = apart(days, 0.9);
    made.days.se = (worth_days - std::fabs(days)) / student_t_quantile_upper(one_sided, 6);
    made.days.t = days / *made.days.se;
    made.days.p = 2 * student_t_upper(std::fabs(*made.days.t), 6);
    return made;
  };
  CHECK_CLOSE(*claim_days(alike(-0.1, 0.03)).within_p, 0.03, 1e-9);
  CHECK(claim_of(alike(-0.1, 0.03)) == SpeedClaim::neither);
  CHECK(claim_of(alike(0.1, 0.04)) == SpeedClaim::neither);
  const auto both = claim_days_together(std::vector{alike(-0.1, 0.03), alike(0.1, 0.04)});
  CHECK_CLOSE(*both[0].within_p, 0.06, 1e-9);
  CHECK(both[0].claim == SpeedClaim::none);
  CHECK(both[1].claim == SpeedClaim::none);
  const auto surer = claim_days_together(std::vector{alike(-0.1, 0.02), alike(0.1, 0.04)});
  CHECK(surer[0].claim == SpeedClaim::neither);
  CHECK(surer[1].claim == SpeedClaim::neither);
  // Sooner by half a day for sure: a claim goes before neither.
  const auto near = apart(-0.5, 0.001);
  CHECK(*claim_days(near).within_p < 0.05);
  CHECK(claim_of(near) == SpeedClaim::sooner);
}

TEST_CASE("of one difference neither is the 90 % interval within a day either way") {
  Random random(21);
  int within = 0, beyond = 0;
  for (int trial = 0; trial < 2000; ++trial) {
    std::vector<std::optional<double>> a, b;
    const double spread = 0.2 + random.unit();
    for (auto* side : {&a, &b})
      for (auto some = 2 + random.below(6); some > 0; --some)
        side->push_back(10 + spread * random.normal());
    const SpeedEvidence shown{compare_values(a, b), std::nullopt};
    const auto judged = claim_days(shown);
    const bool inside = *shown.days.lower90 > -worth_days && *shown.days.upper90 < worth_days;
    CHECK((*judged.within_p <= t_level) == inside);
    if (judged.claim != SpeedClaim::sooner && judged.claim != SpeedClaim::later)
      CHECK((judged.claim == SpeedClaim::neither) == inside);
    ++(inside ? within : beyond);
  }
  CHECK(within > 100);
  CHECK(beyond > 100);
}

TEST_CASE("a difference of just a day is claimed like any other") {
  CHECK(claim_of(apart(1, 0.01)) == SpeedClaim::later);
  CHECK(claim_of(apart(-1, 0.01)) == SpeedClaim::sooner);
}
