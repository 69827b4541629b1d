// The statistics alone: what 42 of 50 can tell.
#include <cstdio>
#include <plumule/stats/proportions/proportion.hpp>
#include <plumule/version.hpp>

int main() {
  const auto exact = plumule::stats::clopper_pearson({42, 50});
  std::printf("%s: %.4f %.4f\n", PLUMULE_VERSION, exact.lower, exact.upper);
  // 0.7089 and 0.9283 by R's binom.test and by mpmath
  return exact.lower > 0.70885 && exact.lower < 0.70895 && exact.upper < 0.92835 ? 0 : 1;
}
