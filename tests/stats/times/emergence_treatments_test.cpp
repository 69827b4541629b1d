// The emergence model of several treatments: against separate fits, an independent regression with
// a shared scale, and a direct search.
#include "stats/times/emergence_treatments.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/times/public_courses.hpp"
#include "stats/times/slow_likelihood.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using plumule::tests::direct_loglik;
using plumule::tests::group_courses;
using plumule::tests::number;
using plumule::tests::read_csv;
using plumule::tests::Row;

namespace {

using Courses = std::vector<TimeCourse>;

Courses as_courses(const std::vector<Span>& spans) {
  Courses courses;
  for (const Span& s : spans) {
    TimeCourse course{1.0, {}, 0};
    if (s.left > 0) course.looks.push_back({s.left, 0});
    if (s.right < no_end) course.looks.push_back({s.right, 1});
    courses.push_back(course);
  }
  return courses;
}

double joint_loglik(const std::vector<Courses>& all, const TreatmentsModel& m) {
  double sum = 0;
  for (std::size_t g = 0; g < all.size(); ++g)
    sum += direct_loglik(all[g], m.treatments[g].distribution, m.treatments[g].fraction.estimate);
  return sum;
}

}  // namespace

TEST_CASE("with nothing shared the treatments are their separate fits") {
  const std::vector<Courses> both{group_courses("eryngium", "GA3_0"),
                                  group_courses("eryngium", "GA3_250"),
                                  group_courses("eryngium", "Cold_4")};
  for (const TimeFamily family : every_time_family) {
    TreatmentOptions options;
    options.family = family;
    const TreatmentsModel joint = fit_treatments(both, options);
    REQUIRE(joint.status == ModelStatus::fitted);
    CHECK(joint.df == 6);
    double loglik = 0;
    int parameters = 0;
    for (std::size_t g = 0; g < both.size(); ++g) {
      ModelOptions alone;
      alone.family = family;
      const EmergenceModel one = fit_emergence(both[g], alone);
      const EmergenceModel& in = joint.treatments[g];
      loglik += one.loglik;
      parameters += one.parameters;
      CHECK_CLOSE(in.loglik, one.loglik, 1e-10);
      CHECK_CLOSE(in.t50.estimate, one.t50.estimate, 1e-7);
      CHECK_CLOSE(*in.t50.se, *one.t50.se, 1e-6);
      CHECK_CLOSE(*in.t50.se_clustered, *one.t50.se_clustered, 1e-6);
      CHECK_CLOSE(*in.shape.se, *one.shape.se, 1e-6);
      CHECK_CLOSE(in.fraction.estimate, one.fraction.estimate, 1e-7);
      CHECK(in.fraction_at_one == one.fraction_at_one);
    }
    CHECK_CLOSE(joint.loglik, loglik, 1e-10);
    CHECK(joint.parameters == parameters);
    const TimeRatio ratio = *time_ratio(joint, 1, 0);
    const Estimate& a = joint.treatments[1].t50;
    const Estimate& b = joint.treatments[0].t50;
    CHECK_CLOSE(ratio.ratio, a.estimate / b.estimate, 1e-12);
    CHECK_CLOSE(*ratio.log_se_clustered,
                std::hypot(*a.se_clustered / a.estimate, *b.se_clustered / b.estimate), 1e-8);
    CHECK_CLOSE(
        *ratio.upper,
        ratio.ratio * std::exp(student_t_quantile_upper(0.025, 6) * *ratio.log_se_clustered),
        1e-10);
    const TimeRatio back = *time_ratio(joint, 0, 1);
    CHECK_CLOSE(back.ratio * ratio.ratio, 1, 1e-12);
    CHECK_CLOSE(*back.lower * *ratio.upper, 1, 1e-12);
  }
}

TEST_CASE("a shared spread agrees with an independent two-sample regression") {
  // tests/reference/statistics/cosmesis_reference.csv: R survival, survreg, interval2
  const Courses radiation = as_courses(plumule::tests::cosmesis_spans("Rad"));
  const Courses chemo = as_courses(plumule::tests::cosmesis_spans("RadChem"));
  Courses together = radiation;
  together.insert(together.end(), chemo.begin(), chemo.end());
  int rows = 0;
  for (const TimeFamily family : {TimeFamily::weibull, TimeFamily::lognormal}) {
    const std::string part =
        family == TimeFamily::weibull ? "survreg_weibull" : "survreg_lognormal";
    TreatmentOptions options;
    options.family = family;
    options.shared_spread = true;
    options.fraction_fixed_at_one = true;
    const TreatmentsModel m = fit_treatments(std::vector<Courses>{radiation, chemo}, options);
    REQUIRE(m.status == ModelStatus::fitted);
    ModelOptions null;
    null.family = family;
    null.fraction_fixed_at_one = true;
    const EmergenceModel one = fit_emergence(together, null);
    const EmergenceModel& r = m.treatments[0];
    const EmergenceModel& c = m.treatments[1];
    const TimeRatio ratio = *time_ratio(m, 1, 0);
    const double sign = family == TimeFamily::weibull ? -1 : 1;
    for (const Row& row : read_csv("reference/statistics/cosmesis_reference.csv")) {
      if (row.at("part") != part) continue;
      const std::string& what = row.at("quantity");
      INFO(part, " ", what);
      const double value = number(row, "value");
      ++rows;
      if (what == "(Intercept)_est") {
        CHECK_CLOSE(std::log(r.distribution.scale), value, 1e-6);
      } else if (what == "(Intercept)_se") {
        CHECK_CLOSE(*r.scale.se / r.scale.estimate, value, 1e-4);
      } else if (what == "treatmentRadChem_est") {
        CHECK_CLOSE(std::log(c.distribution.scale / r.distribution.scale), value, 1e-6);
        CHECK_CLOSE(std::log(ratio.ratio), value, 1e-6);
      } else if (what == "treatmentRadChem_se") {
        CHECK_CLOSE(*ratio.log_se, value, 1e-4);
      } else if (what == "Log(scale)_est") {
        CHECK_CLOSE(sign * std::log(r.distribution.shape), value, 1e-6);
        CHECK(r.distribution.shape == c.distribution.shape);
      } else if (what == "Log(scale)_se") {
        CHECK_CLOSE(*r.shape.se / r.shape.estimate, value, 1e-4);
      } else if (what == "logLik") {
        CHECK_CLOSE(m.loglik, value, 1e-9);
      } else {
        REQUIRE(what == "LRT_chisq");
        CHECK_CLOSE(2 * (m.loglik - one.loglik), value, 1e-7);
      }
    }
  }
  CHECK(rows == 16);
}

TEST_CASE("shared spread and fraction are at a maximum of the joint likelihood") {
  const std::vector<Courses> both{group_courses("eryngium", "GA3_0"),
                                  group_courses("eryngium", "GA3_250")};
  for (const TimeFamily family : every_time_family)
    for (const bool shared_fraction : {false, true}) {
      TreatmentOptions options;
      options.family = family;
      options.shared_spread = true;
      options.shared_fraction = shared_fraction;
      const TreatmentsModel m = fit_treatments(both, options);
      INFO("family ", static_cast<int>(family), " shared fraction ", shared_fraction);
      REQUIRE(m.status == ModelStatus::fitted);
      CHECK(m.parameters == (shared_fraction ? 4 : 5));
      CHECK(m.treatments[0].distribution.shape == m.treatments[1].distribution.shape);
      if (shared_fraction)
        CHECK(m.treatments[0].fraction.estimate == m.treatments[1].fraction.estimate);
      CHECK_CLOSE(joint_loglik(both, m), m.loglik, 1e-9);
      options.shared_spread = options.shared_fraction = false;
      CHECK(m.loglik <= fit_treatments(both, options).loglik + 1e-9);
      // No small move of any allowed parameter is likelier.
      std::mt19937 rng(3);
      std::normal_distribution<double> z(0, 1);
      for (const double size : {0.1, 0.01, 0.001})
        for (int i = 0; i < 150; ++i) {
          TreatmentsModel moved = m;
          const double shape = std::exp(size * z(rng));
          const double fraction = size * z(rng);
          for (EmergenceModel& one : moved.treatments) {
            one.distribution.shape *= shape;
            one.distribution.scale *= std::exp(size * z(rng));
            const double by = shared_fraction ? fraction : size * z(rng);
            const double logit = std::log(one.fraction.estimate / (1 - one.fraction.estimate)) + by;
            one.fraction.estimate = 1 / (1 + std::exp(-logit));
          }
          CHECK(joint_loglik(both, moved) <= m.loglik + 1e-9);
        }
    }
}

TEST_CASE("the family of several treatments is that of least QAIC, by one dispersion") {
  const std::vector<Courses> both{group_courses("eryngium", "GA3_0"),
                                  group_courses("eryngium", "GA3_250")};
  std::vector<TreatmentsModel> each;
  for (const TimeFamily family : every_time_family) {
    TreatmentOptions options;
    options.family = family;
    each.push_back(fit_treatments(both, options));
    // By hand: Pearson's chi-square over the cells of every dish, open cells pooled to an expected
    // count of 1, less a df for each dish and parameter (Burnham & Anderson 2002, section 2.5).
    double chi = 0, df = -each.back().parameters;
    for (std::size_t g = 0; g < both.size(); ++g)
      for (const TimeCourse& course : both[g]) {
        const EmergenceModel& arm = each.back().treatments[g];
        std::vector<std::pair<double, double>> cells;  // seen, expected
        double f = 0, c = 0, seen = 0, expected = 0;
        const auto cell = [&](double more, double likely) {
          seen += more;
          expected += likely;
          if (expected < 1) return;
          cells.emplace_back(seen, expected);
          seen = expected = 0;
        };
        for (const Look& look : course.looks) {
          const double now = share_up(arm.distribution, look.time);
          cell(look.total - c, *course.sown * arm.fraction.estimate * (now - f));
          f = now;
          c = look.total;
        }
        cell(*course.sown - c, *course.sown * (1 - arm.fraction.estimate * f));
        cells.back().first += seen;
        cells.back().second += expected;
        for (const auto& [x, e] : cells) chi += (x - e) * (x - e) / e;
        df += static_cast<double>(cells.size()) - 1;
      }
    CHECK_CLOSE(*each.back().dispersion, std::max(1.0, chi / df), 1e-9);
    CHECK_CLOSE(*each.back().qaic,
                -2 * each.back().loglik / *each.back().dispersion + 2 * each.back().parameters + 2,
                1e-12);
  }
  const auto closest = std::max_element(
      each.begin(), each.end(), [](const auto& a, const auto& b) { return a.loglik < b.loglik; });
  const auto qaic = [&](const TreatmentsModel& m) {
    return -2 * m.loglik / *closest->dispersion + 2 * m.parameters + 2;
  };
  const auto best = std::min_element(
      each.begin(), each.end(), [&](const auto& a, const auto& b) { return qaic(a) < qaic(b); });
  const TreatmentsModel chosen = fit_likeliest_treatments(both);
  CHECK(chosen.family == best->family);
  CHECK_CLOSE(*chosen.qaic, qaic(*best), 1e-12);
  CHECK(likeliest_family(both) == chosen.family);
  // One that can't be fitted is no hindrance to the others.
  auto three = both;
  three.push_back({{20.0, {{5, 0}, {9, 0}}, 0}});
  CHECK(likeliest_family(three) == chosen.family);
  CHECK_FALSE(likeliest_family(std::vector<Courses>{three.back(), {}}).has_value());
  // A dispersion given is the one used; one dish each has none.
  TreatmentOptions given;
  given.dispersion = 2;
  CHECK_CLOSE(*fit_treatments(both, given).dispersion, 2, 1e-15);
  const std::vector<Courses> single{{both[0][0]}, {both[1][0]}};
  CHECK_FALSE(fit_likeliest_treatments(single).qaic.has_value());
  given.dispersion = 0.5;
  CHECK_THROWS_AS(fit_treatments(both, given), std::domain_error);
}

TEST_CASE("treatments on the boundary, with one sowing, or with too little are handled") {
  const Courses all_up{{20.0, {{2, 1}, {3, 6}, {4, 14}, {5, 18}, {6, 20}, {30, 20}}, 0}};
  const Courses part{{20.0, {{3, 1}, {4, 5}, {5, 9}, {6, 11}, {8, 12}, {30, 12}}, 0}};
  TreatmentOptions options;
  const TreatmentsModel m = fit_treatments(std::vector<Courses>{all_up, part}, options);
  REQUIRE(m.status == ModelStatus::fitted);
  CHECK(m.treatments[0].fraction_at_one);
  CHECK(m.treatments[0].fraction_least.has_value());
  CHECK_FALSE(m.treatments[1].fraction_at_one);
  CHECK(m.parameters == 5);
  CHECK(m.df == 0);
  const TimeRatio ratio = *time_ratio(m, 1, 0);
  CHECK(ratio.ratio > 1);
  CHECK_FALSE(ratio.lower.has_value());  // one sowing each: no error between sowings
  CHECK(ratio.log_se.has_value());
  const Courses thin{{20.0, {{5, 3}}, 0}};
  const TreatmentsModel none = fit_treatments(std::vector<Courses>{all_up, thin}, options);
  CHECK(none.status == ModelStatus::single_count);
  CHECK_FALSE(time_ratio(none, 0, 1).has_value());
  CHECK_THROWS_AS(time_ratio(m, 0, 2), std::domain_error);
  CHECK_THROWS_AS(fit_treatments(std::vector<Courses>{}, options), std::domain_error);
  CHECK_THROWS_AS(fit_treatments(std::vector<Courses>{all_up, {}}, options), std::domain_error);
}

TEST_CASE("sowings that agree to a seed give no error to build an interval on") {
  const TimeCourse one{20.0, {{3, 1}, {4, 5}, {5, 9}, {6, 11}, {8, 12}, {30, 12}}, 0};
  const TimeCourse other{20.0, {{3, 3}, {4, 9}, {5, 13}, {6, 15}, {8, 16}, {30, 16}}, 0};
  const TreatmentsModel alike =
      fit_treatments(std::vector<Courses>{{one, one, one}, {other, other}}, {});
  REQUIRE(alike.status == ModelStatus::fitted);
  const TimeRatio ratio = *time_ratio(alike, 1, 0);
  CHECK(ratio.ratio < 1);
  CHECK_FALSE(ratio.lower.has_value());
  CHECK_FALSE(ratio.upper.has_value());
  CHECK(ratio.log_se.has_value());
  CHECK_FALSE(alike.treatments[0].t50.lower.has_value());
  CHECK(alike.treatments[0].t50.se.has_value());
  CHECK(time_ratio(fit_treatments(std::vector<Courses>{{one, other}, {other, one}}, {}), 1, 0)
            ->lower.has_value());
}
