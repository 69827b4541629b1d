// The four families of emergence time: shares, quantiles, edges.
#include "stats/times/time_distribution.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/times/time_terms.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("a share of time and the time of that share are inverse") {
  for (const TimeFamily family : every_time_family)
    for (const double shape : {0.3, 1.0, 6.0})
      for (const double lag : {0.0, 2.5})
        for (const double p : {0.01, 0.1, 0.5, 0.9, 0.999}) {
          const TimeDistribution d{family, shape, 7, lag};
          const double t = time_of_share(d, p);
          CHECK_CLOSE(share_up(d, t), p, 1e-9);
          CHECK_CLOSE(share_to_come(d, t), 1 - p, 1e-9);
          CHECK(share_up(d, lag) == 0);
          CHECK(share_up(d, std::numeric_limits<double>::infinity()) == 1);
          CHECK(share_to_come(d, lag / 2) == 1);
        }
}

TEST_CASE("families have their medians and special cases") {
  // By the definitions: scale is the median of two of them; shape 1 Weibull and gamma are
  // exponential.
  CHECK_CLOSE(share_up({TimeFamily::log_logistic, 4, 7, 0}, 7), 0.5, 1e-14);
  CHECK_CLOSE(share_up({TimeFamily::lognormal, 0.3, 7, 0}, 7), 0.5, 1e-14);
  CHECK_CLOSE(share_up({TimeFamily::weibull, 1, 7, 0}, 3), -std::expm1(-3.0 / 7), 1e-14);
  CHECK_CLOSE(share_up({TimeFamily::gamma, 1, 7, 0}, 3), -std::expm1(-3.0 / 7), 1e-12);
  CHECK_CLOSE(share_up({TimeFamily::log_logistic, 4, 7, 1.5}, 15.5), 16.0 / 17, 1e-13);
}

TEST_CASE("working terms agree with the shares and their differences") {
  for (const TimeFamily family : every_time_family)
    for (const double t : {0.2, 0.7, 1.0, 1.4, 4.0}) {
      const double u = 0.2, v = 1.3, x = std::log(t);
      const TimeTerms here = time_terms(family, u, v, x);
      const TimeDistribution d =
          family == TimeFamily::gamma ? TimeDistribution{family, std::exp(v), std::exp(-u - v), 0}
          : family == TimeFamily::lognormal ? TimeDistribution{family, 1 / v, std::exp(-u / v), 0}
                                            : TimeDistribution{family, v, std::exp(-u / v), 0};
      CHECK_CLOSE(here.lower, share_up(d, t), 1e-11);
      CHECK_CLOSE(here.upper, share_to_come(d, t), 1e-11);
      const double h = 1e-4;
      const TimeTerms pu = time_terms(family, u + h, v, x), mu = time_terms(family, u - h, v, x);
      const TimeTerms pv = time_terms(family, u, v + h, x), mv = time_terms(family, u, v - h, x);
      CHECK_WITHIN(here.du, (pu.lower - mu.lower) / (2 * h), 1e-7);
      CHECK_WITHIN(here.dv, (pv.lower - mv.lower) / (2 * h), 1e-7);
      CHECK_WITHIN(here.duu, (pu.du - mu.du) / (2 * h), 1e-7);
      CHECK_WITHIN(here.duv, (pv.du - mv.du) / (2 * h), 1e-7);
      CHECK_WITHIN(here.duv, (pu.dv - mu.dv) / (2 * h), 1e-7);
      CHECK_WITHIN(here.dvv, (pv.dv - mv.dv) / (2 * h), 1e-7);
    }
}

TEST_CASE("distributions and shares that cannot be are refused") {
  CHECK_THROWS_AS(share_up({TimeFamily::weibull, 0, 1, 0}, 1), std::domain_error);
  CHECK_THROWS_AS(share_up({TimeFamily::weibull, 1, -1, 0}, 1), std::domain_error);
  CHECK_THROWS_AS(share_up({TimeFamily::gamma, 1, 1, -1}, 1), std::domain_error);
  CHECK_THROWS_AS(share_up({TimeFamily::gamma, 1, 1, 0}, std::nan("")), std::domain_error);
  CHECK_THROWS_AS(time_of_share({TimeFamily::gamma, 1, 1, 0}, 1), std::domain_error);
}
