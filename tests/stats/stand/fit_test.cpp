// The additive logit against published fits and against its own equations.
#include "stats/stand/fit.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

namespace {

// Crowder's plates: extract (x2) as the treatment, variety (x1) as the stratum.
std::vector<PlacedUnit> plates(bool by_variety) {
  std::vector<PlacedUnit> units;
  for (const Row& row : read_csv("data/crowder_seeds.csv"))
    units.push_back({static_cast<int>(number(row, "x2")),
                     by_variety ? static_cast<int>(number(row, "x1")) : 0,
                     static_cast<std::int64_t>(number(row, "germ")),
                     static_cast<std::int64_t>(number(row, "n"))});
  return units;
}

struct Weighed {
  std::vector<double> weight, up;
};
Weighed weigh(const StandLayout& layout, double rho) {
  Weighed made;
  for (const auto& cell : layout.cells) {
    made.weight.push_back(0);
    made.up.push_back(0);
    for (const auto& group : cell.groups) {
      const double n = layout.sizes[group.size], w = group.units * n / (1 + (n - 1) * rho);
      made.weight.back() += w;
      made.up.back() += w * group.mean;
    }
  }
  return made;
}

double deviance(const StandLayout& layout, const StandFit& fit) {
  double sum = 0;
  for (std::size_t c = 0; c < layout.cells.size(); ++c)
    for (const auto& count : layout.cells[c].counts) {
      const double x = static_cast<double>(count.up), n = static_cast<double>(count.sown);
      if (x > 0) sum += 2 * x * std::log(x / (n * fit.fraction(c)));
      if (x < n) sum += 2 * (n - x) * std::log((n - x) / (n * fit.missing(c)));
    }
  return sum;
}

double reference(const std::string& model, const std::string& quantity) {
  for (const Row& row : read_csv("reference/statistics/crowder_reference.csv"))
    if (row.at("model") == model && row.at("quantity") == quantity) return number(row, "value");
  FAIL("no such row: " << quantity);
  return 0;
}

}  // namespace

TEST_CASE("independent seeds: the deviances of Crowder's plates (R, glm)") {
  for (const bool by_variety : {true, false}) {
    const auto layout = lay_out(plates(by_variety), 2);
    const auto [weight, up] = weigh(layout, 0);
    StandFit fit(layout);
    fit.plain(weight, up);
    CHECK_CLOSE(deviance(layout, fit),
                reference("glm_binomial_submodel", by_variety ? "deviance[x1+x2]" : "deviance[x2]"),
                1e-9);
  }
}

TEST_CASE("means, information and covariances as R has them (glm, quasibinomial)") {
  struct Case {
    std::string name;
    std::vector<PlacedUnit> units;
    std::vector<double> rhos;
  };
  std::vector<PlacedUnit> groups, blotch;
  for (const Row& row : read_csv("data/crowder_seeds.csv"))
    groups.push_back({static_cast<int>(number(row, "x1") + 2 * number(row, "x2")), 0,
                      static_cast<std::int64_t>(number(row, "germ")),
                      static_cast<std::int64_t>(number(row, "n"))});
  for (const Row& row : read_csv("data/blotch.csv"))
    blotch.push_back({static_cast<int>(number(row, "variety")),
                      static_cast<int>(number(row, "site")),
                      std::llround(100 * number(row, "percent")), 10'000});
  const std::vector<Case> cases{{"plates", plates(true), {0, 0.02, 0.2}},
                                {"plates, four groups", groups, {0.0124}},
                                {"blotch", blotch, {0.1}},
                                {"uneven blocks",
                                 {{1, 0, 46, 50},
                                  {1, 0, 47, 50},
                                  {1, 0, 46, 50},
                                  {1, 0, 47, 50},
                                  {0, 0, 47, 50},
                                  {0, 1, 19, 50},
                                  {0, 1, 20, 50},
                                  {0, 1, 21, 50},
                                  {0, 1, 19, 50}},
                                 {0.03}},
                                {"unlike trays",
                                 {{1, 0, 50, 100},
                                  {1, 0, 9, 10},
                                  {1, 0, 9, 10},
                                  {1, 0, 9, 10},
                                  {0, 0, 75, 100},
                                  {0, 0, 5, 10},
                                  {0, 0, 5, 10},
                                  {0, 0, 5, 10}},
                                 {0.1}},
                                {"two lots",
                                 {{1, 1, 80, 100},
                                  {1, 1, 81, 100},
                                  {1, 1, 79, 100},
                                  {1, 2, 10, 100},
                                  {0, 1, 92, 100},
                                  {0, 2, 22, 100},
                                  {0, 2, 21, 100}},
                                 {0.01}},
                                {"some all up",
                                 {{0, 0, 20, 30},
                                  {1, 0, 30, 30},
                                  {2, 0, 28, 30},
                                  {0, 1, 0, 40},
                                  {1, 1, 12, 20},
                                  {2, 1, 9, 20},
                                  {0, 2, 17, 30},
                                  {1, 2, 25, 30},
                                  {2, 2, 30, 30}},
                                 {0.05}}};
  std::size_t checked = 0;
  for (const auto& [name, units, rhos] : cases)
    for (const double rho : rhos)
      for (const bool penalised : {false, true}) {
        int treatments = 0;
        for (const auto& unit : units) treatments = std::max(treatments, unit.treatment + 1);
        const auto all = static_cast<std::size_t>(treatments);
        const auto layout = lay_out(units, treatments);
        const auto [weight, up] = weigh(layout, rho);
        StandFit fit(layout);
        std::vector<double> mean(all), covariance(all * all);
        if (penalised) {
          fit.penalised(weight, up);
          fit.means(mean, covariance);
        } else {
          fit.plain(weight, up);
          fit.means(mean);
        }
        double pearson = 0;
        for (std::size_t c = 0; c < layout.cells.size(); ++c)
          for (const auto& group : layout.cells[c].groups) {
            const double n = layout.sizes[group.size], off = group.mean - fit.fraction(c);
            pearson += n / (1 + (n - 1) * rho) * (group.squares + group.units * off * off) /
                       (fit.fraction(c) * fit.missing(c));
          }
        for (const Row& row : read_csv("reference/statistics/stand_glm.csv")) {
          if (row.at("case") != name || number(row, "rho") != rho ||
              (row.at("fit") == "penalised") != penalised)
            continue;
          const std::string& quantity = row.at("quantity");
          const double got = quantity == "first mean"          ? mean.front()
                             : quantity == "last mean"         ? mean.back()
                             : quantity == "pearson"           ? pearson
                             : quantity == "log weights"       ? fit.log_weights()
                             : quantity == "variance of first" ? covariance.front()
                             : quantity == "variance of last"  ? covariance.back()
                             : quantity == "covariance"        ? covariance[all - 1]
                                                               : HUGE_VAL;
          INFO(row.at("case") << " " << quantity << " " << penalised);
          CHECK_WITHIN(got, number(row, "value"), 2e-6 * (0.02 + std::fabs(number(row, "value"))));
          ++checked;
        }
      }
  CHECK(checked == read_csv("reference/statistics/stand_glm.csv").size());
}

TEST_CASE("the equations of both fits hold, and their margins") {
  const auto layout = lay_out(plates(true), 2);
  const auto [weight, up] = weigh(layout, 0.02);
  StandFit fit(layout);
  fit.plain(weight, up);
  CHECK_CLOSE(weight[0] * fit.fraction(0) + weight[1] * fit.fraction(1), up[0] + up[1], 1e-9);
  CHECK_CLOSE(weight[0] * fit.fraction(0) + weight[2] * fit.fraction(2), up[0] + up[2], 1e-9);
  fit.penalised(weight, up);
  const auto score = [&fit, &w = weight, &u = up](std::size_t c) {
    return u[c] - w[c] * fit.fraction(c) + fit.leverage(c) * (0.5 - fit.fraction(c));
  };
  CHECK_WITHIN(score(0) + score(1), 0, 1e-5);
  CHECK_WITHIN(score(2) + score(3), 0, 1e-5);
  CHECK_WITHIN(score(0) + score(2), 0, 1e-5);
  double leverages = 0;
  for (std::size_t c = 0; c < 4; ++c) leverages += fit.leverage(c);
  CHECK_CLOSE(leverages, layout.rank, 1e-9);
}

TEST_CASE("one stratum: half a seed up and half a seed not, in each treatment (Firth 1993)") {
  const auto layout =
      lay_out(std::vector<PlacedUnit>{{0, 0, 0, 30}, {1, 0, 30, 30}, {1, 0, 29, 30}}, 2);
  StandFit fit(layout);
  fit.penalised(std::vector<double>{30, 60}, std::vector<double>{0, 59});
  CHECK_CLOSE(fit.fraction(0), 0.5 / 31, 1e-6);
  CHECK_CLOSE(fit.fraction(1), 59.5 / 61, 1e-6);
  std::vector<double> mean(2), covariance(4);
  fit.means(mean, covariance);
  CHECK_CLOSE(covariance[0], mean[0] * (1 - mean[0]) / 30, 1e-6);
  CHECK_CLOSE(covariance[3], mean[1] * (1 - mean[1]) / 60, 1e-6);
  CHECK_WITHIN(covariance[1], 0, 1e-15);
}
