// The design-effect interval: its parts are checked on Crowder's plates in crowder_test.cpp; here
// the interval itself and its edges.
#include "stats/trays/design_effect.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the interval is exact at the effective number of seeds, by its definition") {
  const std::vector<Tally> trays{{10, 39}, {23, 62}, {23, 81}, {26, 51}, {17, 39}};
  const DesignEffect d = *design_effect(trays);
  CHECK(d.df == 4);
  CHECK(d.interval.method == "design-effect");
  // t(0.975, 4) = 2.776445105 and t(0.975, 271) = 1.968756 (printed tables).
  const double count = d.n_effective * std::pow(1.968756 / 2.776445105, 2);
  const double x = count * d.fraction;
  // At each limit the tail beyond what was seen is 2.5 % (Clopper & Pearson through the beta).
  CHECK_CLOSE(beta_lower(d.interval.lower, x, count - x + 1), 0.025, 1e-4);
  CHECK_CLOSE(beta_upper(d.interval.upper, x + 1, count - x), 0.025, 1e-4);
}

TEST_CASE("trays that agree too well do not shorten the interval") {
  const DesignEffect d = *design_effect(std::vector<Tally>{{10, 20}, {10, 20}, {10, 20}});
  CHECK(d.design_effect == 0);
  CHECK(d.n_effective == 60);
}

TEST_CASE("order and mirror, edges and refusals of the design effect") {
  std::vector<Tally> trays{{18, 25}, {24, 25}, {12, 30}}, down;
  const DesignEffect d = *design_effect(trays);
  std::reverse(trays.begin(), trays.end());
  CHECK_CLOSE(design_effect(trays)->interval.lower, d.interval.lower, 1e-12);
  for (const Tally& t : trays) down.emplace_back(t.failures(), t.n());
  CHECK_CLOSE(design_effect(down)->interval.lower, 1 - d.interval.upper, 1e-11);
  CHECK(d.interval.lower < d.fraction);
  CHECK(d.interval.upper > d.fraction);
  CHECK_FALSE(design_effect(std::vector<Tally>{{18, 25}}).has_value());
  CHECK_FALSE(design_effect(std::vector<Tally>{{18, 25}, {0, 0}}).has_value());
  const DesignEffect none = *design_effect(std::vector<Tally>{{0, 25}, {0, 25}});
  CHECK(none.interval.lower == 0);
  CHECK(none.interval.upper < 1);
  CHECK(design_effect(std::vector<Tally>{{25, 25}, {30, 30}})->interval.upper == 1);
  CHECK(design_effect(std::vector<Tally>{{1, 1}, {0, 1}, {1, 1}}).has_value());
  CHECK_THROWS_AS(design_effect(trays, 1.0), std::domain_error);
}
