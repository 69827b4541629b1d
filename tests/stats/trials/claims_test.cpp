// How even the looks were, what gaps allow, and the claim on speed that rests on both.
#include "stats/trials/claims.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/times/time_distribution.hpp"
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

}  // namespace

TEST_CASE("within sources a claim needs the t's p and its sign, and neither is not given") {
  StandEvidence evidence;
  evidence.units = evidence.against = 6;
  evidence.within = Within::sources;
  evidence.chances = PosteriorChances{0.999, 0.9, 0.0, 0.99};
  evidence.t.status = TStatus::ok;
  evidence.t.p = 0.01;
  evidence.t.difference = 0.2;
  CHECK(stand_claim(evidence) == StandClaim::more);
  evidence.t.difference = -0.2;  // the seed lots have it the other way round
  CHECK(stand_claim(evidence) == StandClaim::none);
  evidence.chances->better = 0.001;
  CHECK(stand_claim(evidence) == StandClaim::fewer);
  evidence.t.difference = 0.2;
  CHECK(stand_claim(evidence) == StandClaim::none);
  evidence.t.difference = -0.2;
  evidence.t.p = 0.06;
  CHECK(stand_claim(evidence) == StandClaim::none);
  // After looking the factor claims, and asks the sources as well.
  evidence.after_looking = true;
  evidence.bayes_factor = 30;
  CHECK(stand_claim(evidence) == StandClaim::none);
  evidence.t.p = 0.04;
  CHECK(stand_claim(evidence) == StandClaim::fewer);
  evidence.t.difference = 0.2;
  CHECK(stand_claim(evidence) == StandClaim::none);
}

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
  CHECK(speed_claim(evidence(quick, slow)) == SpeedClaim::sooner);
  CHECK(speed_claim(evidence(slow, quick)) == SpeedClaim::later);
  const auto same = sowings({8.1, 8.3, 7.8}, every(1));
  CHECK(speed_claim(evidence(quick, same)) == SpeedClaim::neither);
  // One arm daily, the other with its days missed just where they came: the middles differ though
  // the times do not.
  const auto daily = sowings({8, 8.1, 7.9}, every(1));
  const auto missed = sowings({8, 8.1, 7.9}, {1, 2, 3, 4, 5, 6, 13, 14, 15});
  const auto deceived = evidence(daily, missed);
  REQUIRE(deceived.gaps.has_value());
  CHECK(*deceived.days.p < 0.05);
  CHECK(claim_of_days(deceived.days) == SpeedClaim::sooner);
  CHECK(speed_claim(deceived) == SpeedClaim::none);
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
  CHECK(speed_claim(shown) == SpeedClaim::sooner);
}

TEST_CASE("one sowing, no variance or nothing up never bears out a claim on speed") {
  const auto one = sowings({8}, every(1)), two = sowings({10, 10.4}, every(1));
  CHECK(speed_claim(evidence(one, two)) == SpeedClaim::none);
  const auto flat = sowings({8, 8}, every(1)), level = sowings({10, 10}, every(1));
  CHECK(speed_claim(evidence(flat, level)) == SpeedClaim::none);
  const std::vector<TimeCourse> none{{10.0, {{5, 0}, {9, 0}}, 0}};
  CHECK(speed_claim(evidence(none, two)) == SpeedClaim::none);
  const std::vector<TimeCourse> bad{{10.0, {{5, 12}}, 0}};
  CHECK_THROWS_AS(look_gaps(bad, two), std::domain_error);
}
