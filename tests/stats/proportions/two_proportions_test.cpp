// Difference, ratio and odds ratio: published values, the equations the limits must satisfy by a
// slow independent way, and properties.
#include "stats/proportions/two_proportions.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

std::vector<TwoByTwo> tables() {
  std::vector<TwoByTwo> all;
  for (const double n1 : {1.0, 3.0, 10.0, 24.0})
    for (const double n2 : {1.0, 4.0, 10.0, 61.0})
      for (const double a : {0.0, 0.3, 0.5, 0.9, 1.0})
        for (const double b : {0.0, 0.2, 0.5, 1.0})
          all.emplace_back(std::round(a * n1), n1, std::round(b * n2), n2);
  return all;
}

// Log-likelihood of p1, p2.
double log_likelihood(const TwoByTwo& t, double p1, double p2) {
  const auto part = [](double count, double p) { return count == 0 ? 0 : count * std::log(p); };
  return part(t.first.x(), p1) + part(t.first.failures(), 1 - p1) + part(t.second.x(), p2) +
         part(t.second.failures(), 1 - p2);
}

// The score statistic with the restricted maximum found by golden section: slow, and nothing in
// common with the library's way. `first`: p1 that belongs to a p2; `low`, `high`: where p2 may lie.
template <class First>
std::pair<double, double> restricted(const TwoByTwo& t, First&& first, double low, double high) {
  const double golden = (std::sqrt(5.0) - 1) / 2;
  for (int i = 0; i < 200; ++i) {
    const double x = high - golden * (high - low), y = low + golden * (high - low);
    (log_likelihood(t, first(x), x) > log_likelihood(t, first(y), y) ? high : low) =
        log_likelihood(t, first(x), x) > log_likelihood(t, first(y), y) ? y : x;
  }
  return {first((low + high) / 2), (low + high) / 2};
}

}  // namespace

TEST_CASE("intervals of a difference are those Newcombe printed in 1998") {
  int checked = 0, skipped = 0;
  for (const Row& row : read_csv("reference/statistics/newcombe_published.csv")) {
    if (row.at("kind") != "difference") continue;
    const TwoByTwo table(number(row, "x1"), number(row, "n1"), number(row, "x2"),
                         number(row, "n2"));
    const std::string& name = row.at("method");
    Interval got;
    if (name == "Newcombe method 10")
      got = newcombe_difference(table);
    else if (name == "Newcombe method 11 (cc)")
      got = newcombe_difference(table, 0.95, Side::both, true);
    else if (name == "Miettinen-Nurminen")
      got = miettinen_nurminen_difference(table);
    else {
      CHECK((name == "Wald" || name == "Mee" || name == "Agresti-Caffo"));  // not offered
      ++skipped;
      continue;
    }
    CHECK_WITHIN(got.lower, number(row, "published_lower"), 0.500001e-4);
    CHECK_WITHIN(got.upper, number(row, "published_upper"), 0.500001e-4);
    CHECK_WITHIN(got.lower, number(row, "computed_lower_R"), 0.51e-10);
    CHECK_WITHIN(got.upper, number(row, "computed_upper_R"), 0.51e-10);
    ++checked;
  }
  CHECK(checked == 22);
  CHECK(skipped == 12);
}

TEST_CASE("ratio and odds ratio agree with the published examples") {
  // Fagerland & Newcombe 2013, Statistics in Medicine 32:2823-2836, examples as quoted to three
  // decimals in the test file of the R package ratesci (read there; the paper not seen).
  struct Published {
    TwoByTwo table;
    double hybrid_rr[2], score_rr[2], hybrid_or[2], score_or[2];
  };
  const Published published[] = {
      {{24, 73, 53, 65}, {0.282, 0.563}, {0.280, 0.560}, {0.050, 0.242}, {0.050, 0.245}},
      {{29, 55, 11, 11}, {0.398, 0.761}, {0.397, 0.742}, {0, 0.427}, {0, 0.417}},
      {{7, 18, 1, 18}, {1.277, 40.751}, {1.296, 42.544}, {1.395, 75.890}, {1.416, 76.428}}};
  for (const Published& p : published) {
    const TwoProportionEffect rr = ratio(p.table), odds = odds_ratio(p.table);
    const auto check = [](const Interval& got, const double(&printed)[2]) {
      CHECK_WITHIN(got.lower, printed[0], 0.500001e-3);
      CHECK_WITHIN(got.upper, printed[1], 0.500001e-3);
    };
    check(rr.newcombe, p.hybrid_rr);
    check(rr.miettinen_nurminen, p.score_rr);
    check(odds.newcombe, p.hybrid_or);
    check(odds.miettinen_nurminen, p.score_or);
  }
  // Fagerland, Lydersen & Laake, Statistical Analysis of Contingency Tables (2017), chapter 4, as
  // printed by their R package contingencytables (read in its test file), four decimals.
  const TwoByTwo perondi(7, 34, 1, 34), lampasona(9, 13, 4, 14), ritland(0, 16, 15, 72);
  CHECK_WITHIN(miettinen_nurminen_ratio(perondi).lower, 1.2086, 0.500001e-4);
  CHECK_WITHIN(miettinen_nurminen_ratio(perondi).upper, 43.0330, 0.500001e-4);
  CHECK_WITHIN(newcombe_ratio(perondi).lower, 1.1537, 0.500001e-4);
  CHECK_WITHIN(newcombe_ratio(perondi).upper, 41.9763, 0.500001e-4);
  CHECK_WITHIN(newcombe_difference(perondi).lower, 0.0189, 0.500001e-4);
  CHECK_WITHIN(newcombe_difference(perondi).upper, 0.3404, 0.500001e-4);
  CHECK_WITHIN(miettinen_nurminen_odds_ratio(lampasona).lower, 1.0934, 0.500001e-4);
  CHECK_WITHIN(miettinen_nurminen_odds_ratio(lampasona).upper, 28.9419, 0.500001e-4);
  CHECK_WITHIN(miettinen_nurminen_difference(ritland).lower, -0.3164, 0.500001e-4);
  CHECK_WITHIN(miettinen_nurminen_difference(ritland).upper, -0.0056, 0.500001e-4);
  // That package's hybrid interval of the odds ratio (1.0433 to 20.5670 for 9/13 against 4/14) is
  // not a check: it mixes limits of p with estimates of the odds, unlike the 2013 paper.
}

TEST_CASE("score limits solve their equation with the likelihood maximised by brute force") {
  const double z = 1.959963984540054;
  int checked = 0;
  for (const TwoByTwo& t : tables()) {
    const double n1 = t.first.n(), n2 = t.second.n(), more = t.total() / (t.total() - 1);
    const auto at = [&](double p1, double p2, double off, double variance) {
      (void)p1;
      (void)p2;
      return off / std::sqrt(variance * more);
    };
    const Interval d = miettinen_nurminen_difference(t);
    for (const double limit : {d.lower, d.upper}) {
      if (std::fabs(limit) == 1) continue;
      const auto [p1, p2] = restricted(
          t, [&](double q) { return q + limit; }, std::max(0.0, -limit), std::min(1.0, 1 - limit));
      const double off = t.first.fraction() - t.second.fraction() - limit;
      CHECK_CLOSE(std::fabs(at(p1, p2, off, p1 * (1 - p1) / n1 + p2 * (1 - p2) / n2)), z, 1e-6);
      ++checked;
    }
    const Interval r = miettinen_nurminen_ratio(t);
    for (const double limit : {r.lower, r.upper}) {
      if (limit == 0 || limit == infinity) continue;
      const auto [p1, p2] = restricted(
          t, [&](double q) { return q * limit; }, 0, std::min(1.0, 1 / limit));
      const double off = t.first.fraction() - limit * t.second.fraction();
      CHECK_CLOSE(
          std::fabs(at(p1, p2, off, p1 * (1 - p1) / n1 + limit * limit * p2 * (1 - p2) / n2)), z,
          1e-6);
      ++checked;
    }
    const Interval o = miettinen_nurminen_odds_ratio(t);
    for (const double limit : {o.lower, o.upper}) {
      if (limit == 0 || limit == infinity) continue;
      const auto [p1, p2] = restricted(
          t, [&](double q) { return q * limit / (1 - q + q * limit); }, 0, 1);
      const double information = 1 / (n1 * p1 * (1 - p1)) + 1 / (n2 * p2 * (1 - p2));
      const double off = (t.first.x() - n1 * p1) * std::sqrt(information / more);
      CHECK_CLOSE(std::fabs(off), z, 1e-6);
      ++checked;
    }
  }
  CHECK(checked > 800);
}

TEST_CASE("labels swap signs and turn ratios over, and every interval holds the estimate") {
  const auto inverse = [](double v) { return v == 0 ? infinity : v == infinity ? 0 : 1 / v; };
  for (const TwoByTwo& t : tables()) {
    const TwoByTwo s = t.swapped();
    const TwoProportionEffect d = difference(t), ds = difference(s);
    for (const auto m :
         {&TwoProportionEffect::newcombe, &TwoProportionEffect::miettinen_nurminen}) {
      CHECK_WITHIN((d.*m).lower, -(ds.*m).upper, 1e-12);
      CHECK_WITHIN((d.*m).upper, -(ds.*m).lower, 1e-12);
      CHECK((d.*m).lower <= d.estimate + 1e-15);
      CHECK((d.*m).upper >= d.estimate - 1e-15);
      for (const auto effect : {&ratio, &odds_ratio}) {
        const TwoProportionEffect r = effect(t, 0.95, Side::both), rs = effect(s, 0.95, Side::both);
        CHECK_CLOSE((r.*m).lower, inverse((rs.*m).upper), 1e-9);
        CHECK_CLOSE((r.*m).upper, inverse((rs.*m).lower), 1e-9);
        CHECK((r.*m).lower <= (r.*m).upper);
        if (std::isnan(r.estimate)) continue;
        CHECK((r.*m).lower <= r.estimate * (1 + 1e-12));
        CHECK((r.*m).upper >= r.estimate * (1 - 1e-12));
      }
    }
  }
}

TEST_CASE("counting what did not come up negates the difference and turns the score odds over") {
  for (const TwoByTwo& t : tables()) {
    const TwoByTwo m(t.first.failures(), t.first.n(), t.second.failures(), t.second.n());
    for (const auto interval : {&miettinen_nurminen_difference}) {
      CHECK_WITHIN(interval(t, 0.95, Side::both).lower, -interval(m, 0.95, Side::both).upper,
                   1e-12);
    }
    CHECK_WITHIN(newcombe_difference(t).lower, -newcombe_difference(m).upper, 1e-12);
    const Interval o = miettinen_nurminen_odds_ratio(t), om = miettinen_nurminen_odds_ratio(m);
    if (o.lower > 0) CHECK_CLOSE(o.lower, 1 / om.upper, 1e-9);
  }
}

TEST_CASE("a one-sided limit of two proportions is the end of the wider two-sided interval") {
  const TwoByTwo t(18, 20, 11, 20);
  for (const auto effect : {&difference, &ratio, &odds_ratio}) {
    const TwoProportionEffect both = effect(t, 0.9, Side::both), low = effect(t, 0.95, Side::lower),
                              high = effect(t, 0.95, Side::upper);
    CHECK_CLOSE(low.newcombe.lower, both.newcombe.lower, 1e-12);
    CHECK_CLOSE(high.newcombe.upper, both.newcombe.upper, 1e-12);
    CHECK_CLOSE(low.miettinen_nurminen.lower, both.miettinen_nurminen.lower, 1e-12);
    CHECK_CLOSE(high.miettinen_nurminen.upper, both.miettinen_nurminen.upper, 1e-12);
    CHECK(low.newcombe.upper >= 1);
    CHECK(low.newcombe.side == Side::lower);
  }
}

TEST_CASE("edges of two proportions are settled") {
  const TwoProportionEffect none = odds_ratio({0, 10, 0, 10}, 0.95, Side::both);
  CHECK(std::isnan(none.estimate));
  CHECK(none.miettinen_nurminen.lower == 0);
  CHECK(none.miettinen_nurminen.upper == infinity);
  CHECK(ratio({5, 10, 0, 10}).estimate == infinity);
  CHECK(ratio({5, 10, 0, 10}).miettinen_nurminen.upper == infinity);
  CHECK(ratio({5, 10, 0, 10}).newcombe.lower > 0);
  CHECK(ratio({0, 10, 0, 10}).newcombe.lower == 0);
  CHECK(ratio({0, 10, 0, 10}).newcombe.upper == infinity);
  CHECK(difference({0, 10, 10, 10}).miettinen_nurminen.lower == -1);
  CHECK(difference({0, 0, 3, 10}).newcombe.lower == -1);
  CHECK(difference({0, 0, 3, 10}).miettinen_nurminen.upper == 1);
  CHECK(odds_ratio({10, 10, 0, 10}).newcombe.lower > 1);
  CHECK_THROWS_AS(difference({1, 2, 1, 2}, 1.0), std::domain_error);
  CHECK_THROWS_AS(ratio({1, 2, 1, 2}, 0.0), std::domain_error);
  CHECK_THROWS_AS(odds_ratio({1, 2, 1, 2}, 2.0), std::domain_error);
}

TEST_CASE("a thousand million seeds give the large-sample interval") {
  // 5e8 of 1e9 against 4.9999e8: the Wald interval is exact to about 1e-9 of the difference there.
  const TwoByTwo t(500000000, 1000000000, 499990000, 1000000000);
  const double half = 1.959963984540054 * std::sqrt(2 * 0.25 / 1e9);
  for (const Interval& i : {newcombe_difference(t), miettinen_nurminen_difference(t)}) {
    CHECK_WITHIN(i.lower, 1e-5 - half, 1e-10);
    CHECK_WITHIN(i.upper, 1e-5 + half, 1e-10);
  }
}

// MOVER-R by its plain formula in 60 decimal digits (Python's decimal), Wilson limits likewise.
TEST_CASE("the ratio of shares near 1 among a milliard keeps its digits") {
  const double n = 1e9;
  const auto offsets = [&](double x1, double x2) {
    const Interval interval = newcombe_ratio({Tally(x1, n), Tally(x2, n)});
    return std::pair(interval.lower - 1, interval.upper - 1);
  };
  const auto near_one = offsets(999999995, 999999990);
  CHECK_WITHIN(near_one.first, -3.113811e-9, 1e-14);
  CHECK_WITHIN(near_one.second, 1.388389e-8, 1e-14);
  const auto whole = offsets(1e9, 999999990);
  CHECK_WITHIN(whole.first, 4.031453e-9, 1e-14);
  CHECK_WITHIN(whole.second, 1.840947e-8, 1e-14);
  const auto further = offsets(999999000, 999998700);
  CHECK_WITHIN(further.first, 2.061028e-7, 1e-13);
  CHECK_WITHIN(further.second, 3.942527e-7, 1e-13);
}
