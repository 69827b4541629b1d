// What trays are worth on a dose curve.
#include "stats/stand/doses.hpp"

#include <algorithm>
#include <cstdint>
#include <stdexcept>
#include <vector>

#include "stats/stand/model.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

const auto prior = rho_from_beta(24);

std::vector<DoseGroup> soaks() {
  return {{0, Tally(60, 100)},  {0, Tally(4, 10)},  {8, Tally(85, 100)},  {8, Tally(9, 10)},
          {16, Tally(80, 100)}, {16, Tally(9, 10)}, {24, Tally(50, 100)}, {24, Tally(7, 10)}};
}

}  // namespace

TEST_CASE("a large tray is worth few more seeds than a small one, in its own percentage") {
  const auto made = worth_of_trays(soaks(), prior);
  REQUIRE(made.sowings.size() == 8);
  CHECK(made.rho > 0.005);
  for (std::size_t i = 0; i < 8; ++i) {
    CHECK_CLOSE(made.sowings[i].tally.fraction(), soaks()[i].tally.fraction(), 1e-12);
    CHECK(made.sowings[i].dose == soaks()[i].dose);
  }
  const double large = made.sowings[0].tally.n(), small = made.sowings[1].tally.n();
  CHECK_CLOSE(large, 100 / (1 + 99 * made.rho), 1e-12);
  CHECK(large / small < 10);
  // its rho is the model's with every dose a treatment
  std::vector<PlacedUnit> units;
  for (const auto& soak : soaks())
    units.push_back({static_cast<int>(soak.dose / 8), 0, static_cast<std::int64_t>(soak.tally.x()),
                     static_cast<std::int64_t>(soak.tally.n())});
  const StandModel model(units, 4, prior);
  CHECK(made.rho == std::max(model.rho_by_trial(), model.rho_at_large()));
}

TEST_CASE("a rho of 0 leaves the curve as it is; one above it widens the errors") {
  const auto plain = fit_dose_curve(soaks());
  const auto none = fit_dose_curve(worth_of_trays(soaks(), rho_fixed_at(0)).sowings);
  CHECK_CLOSE(none.coefficients[2], plain.coefficients[2], 1e-9);
  CHECK_CLOSE(none.se(2), plain.se(2), 1e-9);
  const auto trays = fit_dose_curve(worth_of_trays(soaks(), rho_fixed_at(0.1)).sowings);
  CHECK(trays.status == CurveStatus::ok);
  CHECK(trays.se(2) > plain.se(2));
}

TEST_CASE("sowings without seed are passed over, and what cannot be is refused") {
  auto some = soaks();
  some.push_back({32, Tally(0, 0)});
  CHECK(worth_of_trays(some, prior).sowings.size() == 8);
  CHECK(worth_of_trays({}, prior).sowings.empty());
  some.push_back({32, Tally(0.5, 1)});
  CHECK_THROWS_AS(worth_of_trays(some, prior), std::domain_error);
  CHECK_THROWS_AS(worth_of_trays(soaks(), RhoPrior{-1, -1}), std::domain_error);
}
