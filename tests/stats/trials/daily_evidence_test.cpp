// Seed-level evidence: by hand, as a martingale, and its deflation.
#include "stats/trials/daily_evidence.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

FollowedSowing sowing(bool treated, std::int64_t sown, std::vector<DayCount> counts) {
  FollowedSowing made;
  made.treated = treated;
  made.sown = sown;
  made.counts = std::move(counts);
  return made;
}

// The average over the grid of odds ratios, straight from its definition.
template <class Product>
double average(Product&& product) {
  double sum = 0, weights = 0;
  for (int i = -15; i <= 15; ++i) {
    const double z = 0.2 * i, weight = std::exp(-z * z / 2);
    sum += weight * product(std::exp(0.7 * z));
    weights += weight;
  }
  return sum / weights;
}

}  // namespace

TEST_CASE("the ratio of a split is Fisher's noncentral hypergeometric over the plain one") {
  // two of four came up, two to come on each side: chances 1/6, 4/6, 1/6 by counting
  for (const double w : {0.3, 1.0, 2.5}) {
    const double mean = (1 + 4 * w + w * w) / 6;
    CHECK_CLOSE(std::exp(log_split_ratio(2, 2, 2, 2, std::log(w))), w * w / mean, 1e-12);
    CHECK_CLOSE(std::exp(log_split_ratio(1, 2, 2, 2, std::log(w))), w / mean, 1e-12);
    CHECK_CLOSE(std::exp(log_split_ratio(0, 2, 2, 2, std::log(w))), 1 / mean, 1e-12);
  }
  CHECK_WITHIN(log_split_ratio(3, 5, 40, 30, 0), 0, 1e-12);
  // Where one side has none to come there is one split only.
  CHECK_WITHIN(log_split_ratio(2, 2, 5, 0, 0.7), 0, 1e-12);
  CHECK_WITHIN(log_split_ratio(0, 2, 0, 5, 0.7), 0, 1e-12);
  CHECK_THROWS_AS(log_split_ratio(3, 2, 5, 5, 0.1), std::domain_error);
  CHECK_THROWS_AS(log_split_ratio(0, 4, 5, 2, 0.1), std::domain_error);
}

TEST_CASE("under no difference a look's ratio has mean 1 for every odds ratio") {
  const auto choose = [](double n, double k) {
    return std::lgamma(n + 1) - std::lgamma(k + 1) - std::lgamma(n - k + 1);
  };
  for (const long long d : {1, 6, 17})
    for (const double log_w : {-2.1, 0.4, 2.1}) {
      double mean = 0;
      for (long long x = std::max(0LL, d - 15); x <= std::min(d, 12LL); ++x) {
        const double up = static_cast<double>(x), all = static_cast<double>(d);
        mean += std::exp(choose(12, up) + choose(15, all - up) - choose(27, all) +
                         log_split_ratio(x, d, 12, 15, log_w));
      }
      CHECK_CLOSE(mean, 1, 1e-12);
    }
}

TEST_CASE("evidence is the average over the grid of the products over looks") {
  const std::vector<FollowedSowing> trial{sowing(true, 2, {{3, 2}, {5, 2}}),
                                          sowing(false, 2, {{3, 0}, {5, 1}})};
  const auto evidence = daily_evidence(trial, 10);
  REQUIRE(evidence.looks.size() == 2);
  // day 3: both of the treated, none of the others; day 5: nothing left to compare with
  CHECK_CLOSE(evidence.raw, average([](double w) { return w * w * 6 / (1 + 4 * w + w * w); }),
              1e-12);
  CHECK_CLOSE(evidence.phi, 1.05, 1e-12);
  CHECK_CLOSE(evidence.deflated,
              average([](double w) { return std::pow(w * w * 6 / (1 + 4 * w + w * w), 1 / 1.05); }),
              1e-12);
  CHECK(evidence.highest_raw >= evidence.raw);
}

TEST_CASE("the deflation is the spread assumed times the seeds of a sowing") {
  const std::vector<FollowedSowing> trial{sowing(true, 25, {{3, 20}}), sowing(false, 25, {{3, 2}})};
  const auto evidence = daily_evidence(trial, 10);
  CHECK_CLOSE(evidence.phi, 1 + 24 * 0.05, 1e-12);
  CHECK(evidence.raw > 20);
  CHECK(evidence.deflated < evidence.raw);
  CHECK(evidence.deflated > 1);
  CHECK_CLOSE(daily_evidence(trial, 10, 0).deflated, evidence.raw, 1e-12);
}

TEST_CASE("labels exchanged give the same evidence, and no difference little") {
  std::vector<FollowedSowing> trial{sowing(true, 20, {{3, 5}, {6, 15}}),
                                    sowing(false, 20, {{3, 1}, {6, 12}})};
  const double one = daily_evidence(trial, 10).raw;
  for (auto& s : trial) s.treated = !s.treated;
  CHECK_CLOSE(daily_evidence(trial, 10).raw, one, 1e-10);
  const std::vector<FollowedSowing> same{sowing(true, 20, {{3, 5}, {6, 12}}),
                                         sowing(false, 20, {{3, 5}, {6, 12}})};
  CHECK(daily_evidence(same, 10).raw < 1);
}

TEST_CASE("a sowing that has ended has nothing more to come") {
  std::vector<FollowedSowing> trial{sowing(true, 10, {{3, 5}, {6, 8}}), sowing(false, 10, {{3, 5}}),
                                    sowing(false, 10, {{3, 5}, {6, 5}})};
  trial[1].ended_on = 3;
  const auto evidence = daily_evidence(trial, 10);
  REQUIRE(evidence.looks.size() == 2);
  const double by_hand = average([](double w) {
    return std::exp(log_split_ratio(5, 15, 10, 20, std::log(w)) +
                    log_split_ratio(3, 3, 5, 5, std::log(w)));
  });
  CHECK_CLOSE(evidence.raw, by_hand, 1e-10);
}

TEST_CASE("one treatment or no look gives no evidence") {
  const std::vector<FollowedSowing> alone{sowing(true, 20, {{3, 5}})};
  CHECK_FALSE(daily_evidence(alone, 10).given);
  const std::vector<FollowedSowing> unseen{sowing(true, 20, {}), sowing(false, 20, {})};
  CHECK_FALSE(daily_evidence(unseen, 10).given);
  CHECK(daily_evidence(unseen, 10).raw == 1);
  CHECK_THROWS_AS(daily_evidence(unseen, 10, -1), std::domain_error);
}

TEST_CASE("a million seeds do not overflow") {
  const std::vector<FollowedSowing> trial{sowing(true, 1000000, {{3, 600000}}),
                                          sowing(false, 1000000, {{3, 600500}})};
  const auto evidence = daily_evidence(trial, 10);
  CHECK(std::isfinite(evidence.looks[0].log_raw));
  CHECK(evidence.looks[0].log_raw < 1);
}
