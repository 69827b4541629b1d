// The emergence model on random and thin data: nothing likelier is found by a slow search, and
// every answer is sound.
#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

#include "stats/times/emergence_model.hpp"
#include "stats/times/slow_likelihood.hpp"
#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;
using plumule::tests::direct_loglik;
using plumule::tests::rounds;

namespace {

ModelOptions only(TimeFamily family) {
  ModelOptions options;
  options.family = family;
  return options;
}

// A slow search: the best point of ever finer grids over log shape, log scale and logit pi.
double grid_search(const std::vector<TimeCourse>& sowings, TimeFamily family,
                   const EmergenceModel& near) {
  double best = -HUGE_VAL;
  double at[3] = {std::log(near.distribution.shape), std::log(near.distribution.scale), 2};
  if (near.fraction.estimate < 1 - 1e-9)
    at[2] = std::log(near.fraction.estimate / (1 - near.fraction.estimate));
  else
    at[2] = 30;
  const double centre[3] = {at[0], at[1], at[2]};
  for (double width : {2.0, 0.4, 0.06, 0.008}) {
    double from[3] = {at[0], at[1], at[2]};
    if (width == 2.0) std::copy(centre, centre + 3, from);
    for (int i = -4; i <= 4; ++i)
      for (int j = -4; j <= 4; ++j)
        for (int k = -4; k <= 4; ++k) {
          const double x[3] = {from[0] + width * i / 4, from[1] + width * j / 4,
                               from[2] + width * k};
          const double l = direct_loglik(sowings, {family, std::exp(x[0]), std::exp(x[1]), 0},
                                         1 / (1 + std::exp(-x[2])));
          if (l > best) {
            best = l;
            std::copy(x, x + 3, at);
          }
        }
  }
  return best;
}

std::vector<TimeCourse> random_courses(std::mt19937& rng) {
  const auto below = [&](unsigned n) { return static_cast<int>(rng() % n); };
  std::vector<TimeCourse> courses(static_cast<std::size_t>(1 + below(4)));
  const int first = below(8);
  for (TimeCourse& course : courses) {
    const int units = 1 + below(30);
    course.sown = units;
    double time = first;
    double total = 0;
    for (int look = below(9); look > 0; --look) {
      time += 0.5 * (1 + below(4));
      total = std::min(total + std::max(0, below(9) - 3), static_cast<double>(units));
      course.looks.push_back({time, total});
    }
    if (below(5) == 0) course.never = below(1 + static_cast<unsigned>(units - total));
    if (below(12) == 0) course.sown.reset();
  }
  return courses;
}

bool sound(const std::optional<double>& x) { return !x || std::isfinite(*x); }

bool sound(const Estimate& e) {
  return std::isfinite(e.estimate) && sound(e.se) && sound(e.se_clustered) && sound(e.lower) &&
         sound(e.upper) && (!e.lower || (*e.lower <= e.estimate && e.estimate <= *e.upper));
}

bool sound(const EmergenceModel& m) {
  bool all = std::isfinite(m.loglik) && std::isfinite(m.aic) && sound(m.dispersion) &&
             sound(m.qaic) && sound(m.fraction_least) && std::isfinite(m.share_seen);
  for (const Estimate* e : {&m.fraction, &m.shape, &m.scale, &m.t10, &m.t25, &m.t50, &m.t75, &m.t90,
                            &m.up_by_last_look, &m.lag})
    all = all && sound(*e);
  return all;
}

}  // namespace

TEST_CASE("no point of a fine grid is likelier than the fit, for every family") {
  std::mt19937 rng(11);
  int compared = 0;
  for (int i = 0; i < 60 && compared < rounds(32); ++i) {
    std::vector<TimeCourse> courses = random_courses(rng);
    for (TimeCourse& course : courses)
      if (!course.sown) course.sown = emerged(course) + course.never + 3;
    for (const TimeFamily family : every_time_family) {
      const EmergenceModel fit = fit_emergence(courses, only(family));
      if (fit.status != ModelStatus::fitted) continue;
      INFO("trial ", i, " family ", static_cast<int>(family));
      const double direct = direct_loglik(courses, fit.distribution, fit.fraction.estimate);
      CHECK_WITHIN(direct, fit.loglik, 1e-8 * (1 + std::fabs(fit.loglik)));
      const double grid = grid_search(courses, family, fit);
      CHECK(fit.loglik >= grid - 1e-7);
      ++compared;
    }
  }
  CHECK(compared >= rounds(32));
}

TEST_CASE("thin data are answered with what can be known") {
  const auto status = [](std::vector<TimeCourse> sowings) { return fit_emergence(sowings); };
  const EmergenceModel none = status({{10.0, {{3, 0}, {5, 0}}, 0}});
  CHECK(none.status == ModelStatus::nothing_emerged);
  CHECK_FALSE(none.t50_by.has_value());
  CHECK(status({}).status == ModelStatus::nothing_emerged);
  CHECK(status({{10.0, {}, 0}}).status == ModelStatus::nothing_emerged);
  const EmergenceModel single = status({{10.0, {{7, 6}}, 0}, {10.0, {{7, 8}}, 0}});
  CHECK(single.status == ModelStatus::single_count);
  CHECK_CLOSE(single.fraction.estimate, 0.7, 1e-14);
  CHECK(*single.t50_after == 0);
  CHECK(*single.t50_by == 7);
  const EmergenceModel one = status({{10.0, {{3, 0}, {5, 6}, {9, 6}}, 0}});
  CHECK(one.status == ModelStatus::one_interval);
  CHECK(*one.t50_after == 3);
  CHECK(*one.t50_by == 5);
  CHECK_FALSE(one.fraction_unsettled);
  const EmergenceModel two = status({{10.0, {{3, 2}, {5, 9}, {9, 9}}, 0}});
  CHECK(two.status == ModelStatus::two_intervals);
  CHECK(*two.t50_after == 3);
  CHECK_THROWS_AS(status({{10.0, {{3, 2}, {2, 3}}, 0}}), std::domain_error);
  ModelOptions bad;
  bad.level = 1;
  CHECK_THROWS_AS(fit_emergence(std::vector<TimeCourse>{}, bad), std::domain_error);
}

TEST_CASE("random thin data give sound figures, in any order and unit of time") {
  std::mt19937 rng(5);
  int fitted = 0;
  int at_one = 0;
  for (int i = 0; i < rounds(1500); ++i) {
    std::vector<TimeCourse> courses = random_courses(rng);
    ModelOptions options;
    options.lag = i % 50 == 0;
    INFO("trial ", i);
    const auto models = fit_families(courses, options);
    for (const EmergenceModel& model : models) {
      CHECK(sound(model));
      CHECK(model.status != ModelStatus::not_converged);
      fitted += model.status == ModelStatus::fitted;
      at_one += model.fraction_at_one;
    }
    if (models[0].status != ModelStatus::fitted || options.lag) continue;
    std::ranges::reverse(courses);
    for (TimeCourse& course : courses)
      for (Look& look : course.looks) look.time *= 24;
    options.family = models[0].distribution.family;
    const EmergenceModel hours = fit_emergence(courses, options);
    CHECK_CLOSE(hours.loglik, models[0].loglik, 1e-9);
    CHECK_CLOSE(hours.t50.estimate, 24 * models[0].t50.estimate, 1e-5);
    CHECK_CLOSE(hours.distribution.shape, models[0].distribution.shape, 1e-4);
    CHECK(hours.fraction_at_one == models[0].fraction_at_one);
  }
  CHECK(fitted > rounds(1000));
  CHECK(at_one > rounds(50));
}
