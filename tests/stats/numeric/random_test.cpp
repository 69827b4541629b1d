// The generator: published first outputs, and the moments of its draws from fixed seeds.
#include "stats/numeric/random.hpp"

#include <array>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

constexpr int draws = 40000;

// Mean and variance of the draws lie within five standard errors of what they should be (the fourth
// moment taken from the draws).
void check_moments(double mean, double variance, const std::function<double()>& draw) {
  std::vector<double> v;
  double sum = 0;
  for (int i = 0; i < draws; ++i) {
    v.push_back(draw());
    sum += v.back();
  }
  const double m = sum / draws;
  double second = 0, fourth = 0;
  for (const double x : v) {
    second += std::pow(x - m, 2) / draws;
    fourth += std::pow(x - m, 4) / draws;
  }
  CHECK_WITHIN(m, mean, 5 * std::sqrt(variance / draws));
  CHECK_WITHIN(second, variance, 5 * std::sqrt((fourth - second * second) / draws) + 1e-12);
}

}  // namespace

TEST_CASE("xoshiro256++ gives its published first numbers") {
  // State 1, 2, 3, 4: the reference outputs used by public ports of the generator (from memory).
  Random random(std::array<std::uint64_t, 4>{1, 2, 3, 4});
  for (const std::uint64_t expected :
       {41943041ULL, 58720359ULL, 3588806011781223ULL, 3591011842654386ULL, 9228616714210784205ULL})
    CHECK(random.next() == expected);
}

TEST_CASE("the state is filled by splitmix64") {
  // splitmix64 from seed 0 begins e220a8397b1dcdaf 6e789e6aa1b965f4 06c45d188009454f
  // f88bb8a8724c81ec (from memory).
  Random seeded(0),
      given(std::array<std::uint64_t, 4>{0xe220a8397b1dcdafULL, 0x6e789e6aa1b965f4ULL,
                                         0x06c45d188009454fULL, 0xf88bb8a8724c81ecULL});
  for (int i = 0; i < 10; ++i) CHECK(seeded.next() == given.next());
}

TEST_CASE("uniform draws are even and stay inside") {
  Random random(1);
  std::array<int, 7> seen{};
  for (int i = 0; i < 70000; ++i) ++seen.at(random.below(7));
  double x2 = 0;
  for (const int count : seen) x2 += std::pow(count - 10000, 2) / 10000.0;
  CHECK(x2 < 22.5);  // chi-squared(6) at 0.999
  for (int i = 0; i < 10000; ++i) {
    const double u = random.open_unit();
    CHECK((u > 0 && u < 1));
  }
  check_moments(0.5, 1.0 / 12, [&] { return random.unit(); });
}

TEST_CASE("continuous draws have their mean and variance") {
  Random random(2);
  check_moments(0, 1, [&] { return random.normal(); });
  check_moments(1, 1, [&] { return random.exponential(); });
  for (const double shape : {0.3, 1.0, 4.5, 200.0})
    check_moments(shape, shape, [&] { return random.gamma(shape); });
  for (const auto& [a, b] : {std::pair{0.2, 0.3}, {0.5, 4.0}, {30.0, 7.0}})
    check_moments(a / (a + b), a * b / ((a + b) * (a + b) * (a + b + 1)),
                  [&, u = a, v = b] { return random.beta(u, v); });
}

TEST_CASE("counts have their mean and variance") {
  Random random(3);
  for (const auto& [n, p] :
       {std::pair{5, 0.3}, {24, 0.9}, {25, 0.02}, {1000, 0.77}, {1000000000, 0.4}})
    check_moments(n * p, n * p * (1 - p),
                  [&, k = n, q = p] { return static_cast<double>(random.binomial(k, q)); });
  for (const auto& [total, marked, drawn] :
       {std::array{20, 8, 5}, {100, 97, 50}, {1000, 10, 900}, {7, 7, 3}}) {
    const double n = total, m = marked, k = drawn;
    check_moments(k * m / n, k * m / n * (1 - m / n) * (n - k) / (n - 1),
                  [&, t = total, a = marked, d = drawn] {
                    return static_cast<double>(random.hypergeometric(t, a, d));
                  });
  }
  check_moments(20 * 0.8, 20 * 0.16 * (1 + 19 * 0.1),
                [&] { return static_cast<double>(random.beta_binomial(20, 0.8, 0.1)); });
  CHECK(random.binomial(50, 0) == 0);
  CHECK(random.binomial(50, 1) == 50);
  CHECK(random.beta_binomial(9, 1, 0.5) == 9);
  const auto all = random.beta_binomial(9, 0.5, 1);
  CHECK((all == 0 || all == 9));
}

TEST_CASE("shuffles keep what they shuffle") {
  Random random(4);
  std::vector<int> first(3), items;
  for (int i = 0; i < 30000; ++i) {
    items = {0, 1, 2};
    random.shuffle(std::span(items));
    CHECK(items[0] + items[1] + items[2] == 3);
    ++first.at(static_cast<std::size_t>(items[0]));
  }
  for (const int count : first) CHECK_WITHIN(count, 10000, 5 * std::sqrt(10000 * 2 / 3.0));
}

TEST_CASE("draws that make no sense are refused") {
  Random random(5);
  CHECK_THROWS_AS(random.gamma(0), std::domain_error);
  CHECK_THROWS_AS(random.beta(0, 0.5), std::domain_error);
  CHECK_THROWS_AS(random.binomial(-1, 0.5), std::domain_error);
  CHECK_THROWS_AS(random.binomial(3, 1.5), std::domain_error);
  CHECK_THROWS_AS(random.hypergeometric(5, 6, 2), std::domain_error);
  CHECK_THROWS_AS(random.beta_binomial(5, 0.5, 2), std::domain_error);
}
