// The C library's logarithm is the reference.
#include "stats/numeric/log_sum.hpp"

#include <cmath>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("a sum of logarithms is that of the C library's, one by one and together") {
  LogSum all;
  double expected = 0;
  int number = 0;
  for (double value = 2.3e-308; value < 1e308;
       value *= 1.0137 + 0.3 * std::fabs(std::log(value)) / 700) {
    LogSum one;
    one.add(1, value);
    CHECK_WITHIN(one.sum(), std::log(value), 5e-16 * std::fmax(1, std::fabs(std::log(value))));
    all.add(number % 7, value);
    expected += number % 7 * std::log(value);
    ++number;
  }
  CHECK(number > 2000);
  CHECK_WITHIN(all.sum(), expected, 1e-7);
  all.clear();
  CHECK(all.sum() == 0);
}

TEST_CASE("logarithms near 1 keep their digits") {
  for (const double off : {1e-3, 1e-6, 1e-9, 1e-12, -1e-3, -1e-6, -1e-9, -1e-12}) {
    LogSum one;
    const double value = 1 + off;
    one.add(1, value);
    CHECK_CLOSE(one.sum(), std::log(value), 1e-15);
  }
}
