// The tray-aware difference against plain sums over a grid, against independent betas where rho is
// 0, and at its edges.
#include "stats/trays/tray_aware_difference.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <tuple>
#include <utility>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

constexpr double right_angle = std::numbers::pi / 2;

long double rising(long double x, std::int64_t n) {
  return n == 0 ? 0 : lgammal(x + static_cast<long double>(n)) - lgammal(x);
}

// Simpson over the logit of rho and the midpoint rule over 1,500 cells of each angle, the first's
// cumulative share interpolated between the cells' edges.
class BruteDifference {
 public:
  BruteDifference(const std::vector<TrayCount>& first, const std::vector<TrayCount>& second,
                  double b) {
    std::vector<std::vector<long double>> one, two;
    for (int r = 0; r <= nodes + 1; ++r) {
      // the last round stands for the mass of the prior below the range
      const bool below = r == nodes + 1;
      const double y = below ? from - 1 : from + step * r, rho = 1 / (1 + std::exp(-y));
      const double simpson = (r == 0 || r == nodes ? 1 : r % 2 == 1 ? 4 : 2) * step / 3;
      weights_.push_back(below ? b * std::exp(from) : simpson * b * std::pow(1 - rho, b) * rho);
      one.push_back(log_heights(first, rho));
      two.push_back(log_heights(second, rho));
    }
    heights_ = heights(two);
    for (const auto& row : heights(one)) {
      std::vector<double> share(cells + 1, 0.0);
      for (std::size_t i = 0; i < cells; ++i) share[i + 1] = share[i] + row[i];
      shares_.push_back(std::move(share));
    }
  }

  template <class Edge>
  double above(Edge&& edge) const {  // P(p1 > edge(p2))
    double above = 0, all = 0;
    for (std::size_t i = 0; i < cells; ++i) {
      const double s = std::sin(cell * (static_cast<double>(i) + 0.5)), p1 = edge(s * s);
      const double place = p1 <= 0 ? 0 : p1 >= 1 ? cells : std::asin(std::sqrt(p1)) / cell;
      const auto whole = std::min(static_cast<std::size_t>(place), cells - 1);
      for (std::size_t r = 0; r < weights_.size(); ++r) {
        const auto& share = shares_[r];
        const double under =
            share[whole] + (place - static_cast<double>(whole)) * (share[whole + 1] - share[whole]);
        const double height = weights_[r] * heights_[r][i];
        above += height * (share[cells] - under);
        all += height * share[cells];
      }
    }
    return above / all;
  }

 private:
  static constexpr std::size_t cells = 1500;
  static constexpr int nodes = 120;
  static constexpr double cell = right_angle / cells, from = -14, to = 4,
                          step = (to - from) / nodes;

  // Of all rows against the highest of any.
  static std::vector<std::vector<double>> heights(
      const std::vector<std::vector<long double>>& logs) {
    long double highest = -std::numeric_limits<long double>::infinity();
    for (const auto& row : logs)
      for (const long double value : row) highest = std::max(highest, value);
    std::vector<std::vector<double>> out;
    for (const auto& row : logs) {
      auto& made = out.emplace_back();
      for (const long double value : row)
        made.push_back(static_cast<double>(std::exp(value - highest)));
    }
    return out;
  }

  static std::vector<long double> log_heights(const std::vector<TrayCount>& trays,
                                              long double rho) {
    std::vector<long double> out;
    const long double scale = (1 - rho) / rho;
    for (std::size_t i = 0; i < cells; ++i) {
      const long double s = std::sin(cell * (static_cast<double>(i) + 0.5)), p = s * s;
      long double log_l = 0;
      for (const auto& t : trays)
        log_l += rising(p * scale, t.up) + rising((1 - p) * scale, t.sown - t.up) -
                 rising(scale, t.sown);
      out.push_back(log_l);
    }
    return out;
  }

  std::vector<double> weights_;
  std::vector<std::vector<double>> shares_, heights_;
};

// P(p1 - p2 > d) for independent betas, by Simpson over the second's angle.
double beta_difference_above(double a1, double b1, double a2, double b2, double d) {
  const double from = d < 0 ? std::asin(std::sqrt(-d)) : 0;
  const double to = d > 0 ? std::asin(std::sqrt(1 - d)) : right_angle;
  const int steps = 4000;
  const double step = (to - from) / steps;
  double sum = d < 0 ? beta_lower(-d, a2, b2) : 0;
  const double log_beta = std::lgamma(a2) + std::lgamma(b2) - std::lgamma(a2 + b2);
  for (int i = 0; i <= steps; ++i) {
    const double phi = from + step * i, s = std::sin(phi), c = std::cos(phi);
    const double density =
        2 * std::exp((2 * a2 - 1) * std::log(s) + (2 * b2 - 1) * std::log(c) - log_beta);
    sum += (i == 0 || i == steps ? 1
            : i % 2 == 1         ? 4
                                 : 2) *
           step / 3 * density * beta_upper(s * s + d, a1, b1);
  }
  return sum;
}

const std::vector<TrayCount> good{{49, 50}, {50, 50}}, fair{{40, 50}, {45, 50}};
const std::vector<TrayCount> uneven{{8, 10}, {30, 45}, {1, 3}}, few{{7, 10}};

}  // namespace

TEST_CASE("chances of a difference agree with plain sums over a grid") {
  for (const auto& [first, second, b] :
       {std::tuple{good, fair, 24.0}, {fair, uneven, 14.0}, {few, good, 49.0}}) {
    const BruteDifference brute(first, second, b);
    const TrayAwareDifference posterior(first, second, rho_from_beta(b));
    for (const double d : {-0.3, -0.1, 0.0, 0.1, 0.2}) {
      CAPTURE(d);
      CHECK_WITHIN(posterior.probability_better_by(d),
                   brute.above([d](double p2) { return p2 + d; }), 2e-6);
    }
  }
}

TEST_CASE("chances of a difference agree with plain sums for trays no grower hopes for") {
  // Where a treatment is likeliest at its edge the grid itself is off by some 4e-5.
  const std::vector<TrayCount> all{{20, 20}, {20, 20}}, none{{0, 20}, {0, 20}}, seed{{1, 1}},
      tray{{7, 12}}, apart{{0, 25}, {25, 25}}, huge{{99000, 100000}, {60000, 100000}};
  for (const auto& both : {std::pair{all, fair},
                           {fair, all},
                           {all, none},
                           {none, none},
                           {seed, fair},
                           {tray, seed},
                           {apart, all},
                           {huge, tray}}) {
    const auto &first = both.first, &second = both.second;
    const BruteDifference brute(first, second, 24);
    const TrayAwareDifference posterior(first, second, rho_from_beta(24));
    for (const double d : {-0.6, -0.1, 0.0, 0.03, 0.2, 0.9}) {
      CAPTURE(first[0].up);
      CAPTURE(second[0].up);
      CAPTURE(d);
      CHECK_WITHIN(posterior.probability_better_by(d),
                   brute.above([d](double p2) { return p2 + d; }), 5e-5);
    }
  }
}

TEST_CASE("chances of a ratio and an odds ratio agree with plain sums over a grid") {
  const BruteDifference brute(fair, uneven, 24);
  const TrayAwareDifference posterior(fair, uneven, rho_from_beta(24));
  for (const double c : {0.8, 1.0, 1.3, 2.0}) {
    CAPTURE(c);
    CHECK_WITHIN(posterior.probability_ratio_above(c),
                 brute.above([c](double p2) { return c * p2; }), 2e-6);
    CHECK_WITHIN(posterior.probability_odds_ratio_above(c),
                 brute.above([c](double p2) { return c * p2 / (1 - p2 + c * p2); }), 2e-6);
  }
}

TEST_CASE("with rho fixed at 0 the difference is that of two independent betas") {
  for (const double d : {-0.3, -0.05, 0.0, 0.1, 0.4}) {
    CAPTURE(d);
    CHECK_WITHIN(TrayAwareDifference(fair, few, rho_fixed_at(0)).probability_better_by(d),
                 beta_difference_above(85.5, 15.5, 7.5, 3.5, d), 2e-8);
    CHECK_WITHIN(TrayAwareDifference(good, fair, rho_fixed_at(0)).probability_better_by(d),
                 beta_difference_above(99.5, 1.5, 85.5, 15.5, d), 2e-8);
  }
}

TEST_CASE("the ends of each interval hold their share") {
  for (const auto& [first, second] : {std::pair{good, fair}, {fair, uneven}, {few, good}}) {
    const TrayAwareDifference posterior(first, second, rho_from_beta(24));
    for (const double level : {0.8, 0.95, 0.99}) {
      CAPTURE(level);
      const double tail = (1 - level) / 2;
      const auto d = posterior.difference(level);
      CHECK_WITHIN(posterior.probability_better_by(d.lower), 1 - tail, 1e-7);
      CHECK_WITHIN(posterior.probability_better_by(d.upper), tail, 1e-7);
      const auto r = posterior.ratio(level), o = posterior.odds_ratio(level);
      CHECK_WITHIN(posterior.probability_ratio_above(r.lower), 1 - tail, 1e-7);
      CHECK_WITHIN(posterior.probability_ratio_above(r.upper), tail, 1e-7);
      CHECK_WITHIN(posterior.probability_odds_ratio_above(o.lower), 1 - tail, 1e-7);
      CHECK_WITHIN(posterior.probability_odds_ratio_above(o.upper), tail, 1e-7);
      CHECK(d.method == method::tray_aware);
    }
    CHECK(posterior.probability_better() == posterior.probability_better_by(0));
    CHECK_WITHIN(posterior.probability_within(0.1),
                 posterior.probability_better_by(-0.1) - posterior.probability_better_by(0.1),
                 1e-15);
  }
}

TEST_CASE("exchanging the treatments turns every contrast round") {
  const TrayAwareDifference one(fair, uneven, rho_from_beta(14));
  const TrayAwareDifference other(uneven, fair, rho_from_beta(14));
  CHECK_WITHIN(one.probability_better_by(0.07), 1 - other.probability_better_by(-0.07), 1e-7);
  CHECK_WITHIN(one.difference().lower, -other.difference().upper, 1e-6);
  CHECK_WITHIN(one.mean_difference(), -other.mean_difference(), 1e-9);
  CHECK_CLOSE(one.ratio().lower, 1 / other.ratio().upper, 1e-6);
  CHECK_CLOSE(one.odds_ratio().upper, 1 / other.odds_ratio().lower, 1e-6);
}

TEST_CASE("the marginal of each treatment is that of one rho for both") {
  // The same trays on both sides: no difference is expected, and better or worse are even chances.
  const TrayAwareDifference same(fair, fair, rho_from_beta(24));
  CHECK_WITHIN(same.probability_better(), 0.5, 1e-7);
  CHECK_WITHIN(same.mean_difference(), 0, 1e-9);
  CHECK_WITHIN(same.difference().lower + same.difference().upper, 0, 2e-6);
}

TEST_CASE("treatments with nothing or everything up close the ends they touch") {
  const std::vector<TrayCount> none{{0, 20}, {0, 20}}, all{{20, 20}, {20, 20}};
  const TrayAwareDifference best(all, none, rho_from_beta(24)), worst(none, all, rho_from_beta(24));
  CHECK(best.difference().upper == 1);
  CHECK(worst.difference().lower == -1);
  CHECK(std::isinf(best.ratio().upper));
  CHECK(std::isinf(best.odds_ratio().upper));
  CHECK(worst.ratio().lower == 0);
  CHECK(worst.odds_ratio().lower == 0);
  CHECK(best.difference().lower > 0.5);
  CHECK(best.probability_better() > 0.999999);
  const TrayAwareDifference nothing(none, none, rho_from_beta(24));
  CHECK(nothing.ratio().lower == 0);
  CHECK(std::isinf(nothing.ratio().upper));
  CHECK(nothing.difference().lower < 0);
  CHECK(nothing.difference().upper > 0);
}

TEST_CASE("a million seeds a tray do not upset the difference") {
  const std::vector<TrayCount> a{{800000, 1000000}, {800000, 1000000}},
      b{{700000, 1000000}, {700000, 1000000}};
  const TrayAwareDifference posterior(a, b, rho_from_beta(24));
  const auto d = posterior.difference();
  CHECK_WITHIN(posterior.probability_better_by(d.lower), 0.975, 1e-6);
  CHECK(d.lower < 0.1);
  CHECK(d.upper > 0.1);
  // Two trays each cannot tell rho: the interval stays far wider than the seeds alone would have
  // it.
  CHECK(d.upper - d.lower > 0.05);
}

TEST_CASE("the posterior is the mixture over rho of those at fixed rho") {
  // Each fixed rho weighted by its prior and both treatments' evidence, by the trapezoid in log rho
  // odds: another way through the same model, at ordinary sizes and at a million seeds.
  const std::vector<TrayCount> a{{800000, 1000000}, {803000, 1000000}},
      b{{790000, 1000000}, {797000, 1000000}};
  for (const auto& [first, second] : {std::pair{good, fair}, {fair, uneven}, {a, b}}) {
    const TrayAwareDifference posterior(first, second, rho_from_beta(24));
    for (const double d : {-0.02, 0.0, 0.01, 0.1}) {
      CAPTURE(d);
      double above = 0, all = 0, unit = 0;
      for (double y = -19; y < 1; y += 0.25) {
        const double rho = 1 / (1 + std::exp(-y));
        const RhoPrior fixed = rho_fixed_at(rho);
        const double log_weight = 24 * std::log1p(-rho) + std::log(rho) +
                                  TrayAwarePosterior(first, fixed).log_evidence() +
                                  TrayAwarePosterior(second, fixed).log_evidence();
        if (all == 0) unit = log_weight;
        const double weight = std::exp(log_weight - unit);
        all += weight;
        above += weight * TrayAwareDifference(first, second, fixed).probability_better_by(d);
      }
      CHECK_WITHIN(posterior.probability_better_by(d), above / all, 3e-6);
    }
  }
}

TEST_CASE("a treatment without sowings leaves its prior, and says so") {
  const TrayAwareDifference posterior({}, few, rho_from_beta(24));
  CHECK(posterior.status() == TrayAwareStatus::no_trays);
  CHECK_WITHIN(posterior.mean_first(), 0.5, 1e-9);
  CHECK(posterior.difference().upper < 1);
}

TEST_CASE("contrasts that cannot be are settled or refused") {
  const TrayAwareDifference posterior(fair, few, rho_from_beta(24));
  CHECK(posterior.probability_better_by(1) == 0);
  CHECK(posterior.probability_better_by(-1) == 1);
  CHECK(posterior.probability_ratio_above(0) == 1);
  CHECK(posterior.probability_odds_ratio_above(std::numeric_limits<double>::infinity()) == 0);
  CHECK_WITHIN(posterior.probability_within(1), 1, 1e-12);
  CHECK_THROWS_AS(posterior.probability_within(-0.1), std::domain_error);
  CHECK_THROWS_AS(posterior.probability_better_by(std::nan("")), std::domain_error);
  CHECK_THROWS_AS(posterior.difference(1), std::domain_error);
}
