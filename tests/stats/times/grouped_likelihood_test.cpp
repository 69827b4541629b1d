// Gradient and Hessian of the grouped likelihood against differences, and the parts against the
// whole.
#include "stats/times/grouped_likelihood.hpp"

#include <cmath>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the gradient and Hessian of the likelihood are those of its differences") {
  const std::vector<Span> spans = merged({{0, 2, 1},
                                          {2, 3, 4},
                                          {3, 4.5, 9},
                                          {3, 5, 2},
                                          {5, 9, 3},
                                          {4, no_end, 2},
                                          {9, no_end, 6},
                                          {no_end, no_end, 2}});
  int checked = 0;
  for (const TimeFamily family : every_time_family)
    for (const bool whole : {false, true})
      for (const double v : {0.8, 2.5}) {
        std::vector<Span> used = spans;
        if (whole) used.pop_back();  // known never-emergers and a fraction of 1 exclude each other
        for (const double lag : {0.0, 1.2}) {
          GroupedLikelihood likelihood(used, 4, lag);
          const WorkingPoint at{0.7, 0.3, v};
          const LikelihoodValue here = likelihood.value(family, at, whole);
          REQUIRE(std::isfinite(here.loglik));
          const double h = 1e-4;
          static constexpr std::size_t upper[3][3] = {{0, 1, 2}, {1, 3, 4}, {2, 4, 5}};
          for (std::size_t i = 0; i < 3; ++i) {
            WorkingPoint more = at, less = at;
            (i == 0 ? more.a : i == 1 ? more.u : more.v) += h;
            (i == 0 ? less.a : i == 1 ? less.u : less.v) -= h;
            const LikelihoodValue p = likelihood.value(family, more, whole);
            const LikelihoodValue m = likelihood.value(family, less, whole);
            CHECK_WITHIN(here.gradient[i], (p.loglik - m.loglik) / (2 * h), 2e-5);
            for (std::size_t j = 0; j < 3; ++j)
              CHECK_WITHIN(here.hessian[upper[i][j]], (p.gradient[j] - m.gradient[j]) / (2 * h),
                           2e-5);
            ++checked;
          }
        }
      }
  CHECK(checked == 4 * 2 * 2 * 2 * 3);
}

TEST_CASE("parts of the units add up to all of them") {
  const std::vector<Span> a{{0, 2, 1}, {2, 3, 4}, {9, no_end, 6}};
  const std::vector<Span> b{{2, 3, 2}, {3, 9, 9}, {9, no_end, 1}};
  std::vector<Span> all = a;
  all.insert(all.end(), b.begin(), b.end());
  GroupedLikelihood likelihood(merged(all), 4);
  const WorkingPoint at{0.7, 0.3, 2};
  const LikelihoodValue whole = likelihood.value(TimeFamily::weibull, at, false);
  const LikelihoodValue one = likelihood.value_of(a, at, false);
  const LikelihoodValue two = likelihood.value_of(b, at, false);
  CHECK_CLOSE(one.loglik + two.loglik, whole.loglik, 1e-13);
  for (std::size_t i = 0; i < 3; ++i)
    CHECK_WITHIN(one.gradient[i] + two.gradient[i], whole.gradient[i], 1e-12);
}

TEST_CASE("a count without probability has no likelihood, not a NaN") {
  GroupedLikelihood likelihood(std::vector<Span>{{1, 2, 3}, {400, 500, 1}}, 1);
  const LikelihoodValue none = likelihood.value(TimeFamily::weibull, {0, 0, 30}, false);
  CHECK(none.loglik == -HUGE_VAL);
  CHECK(none.gradient[1] == 0);
}
