// Every row of the two reference tables of two proportions: checked, or skipped for a named reason.
// Values carry 12 digits; tolerance 1e-10 for exact p values, 1e-9 relative elsewhere.
#include <cmath>
#include <functional>
#include <map>
#include <set>
#include <utility>

#include "reference_cases.hpp"
#include "stats/inference/multiplicity.hpp"
#include "stats/proportions/dose_curve.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/proportions/trend.hpp"
#include "stats/proportions/unconditional_tests.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

namespace {

using Answer = std::function<double(const std::string& input)>;
using Key = std::pair<std::string, std::string>;  // method, quantity

double end(const Interval& interval, const std::string& quantity) {
  return quantity.starts_with("lo") ? interval.lower : interval.upper;
}

double level(const std::string& quantity) { return std::stod(quantity.substr(2)) / 100; }

Alternative alternative(const std::string& quantity) {
  if (quantity == "p_less") return Alternative::less;
  if (quantity == "p_greater") return Alternative::greater;
  return Alternative::two_sided;
}

Tally tally_in(const std::string& input) {
  const auto v = numbers_in(input);
  return {v.at(0), v.at(1)};
}

std::map<Key, Answer> answers() {
  std::map<Key, Answer> a;
  for (const std::string q : {"p_two-sided", "p_less", "p_greater"}) {
    for (const char* method : {"fisher_exact", "fisher.test"})
      a[{method, q}] = [q](auto& in) { return fisher(table_in(in), alternative(q)); };
    a[{"barnard_pooled_z", q}] = [q](auto& in) { return barnard(table_in(in), alternative(q)).p; };
    a[{"boschloo", q}] = [q](auto& in) { return boschloo(table_in(in), alternative(q)).p; };
  }
  a[{"barnard_pooled_z", "z"}] = [](auto& in) { return barnard(table_in(in)).statistic; };
  a[{"boschloo", "p_two-sided_ordering_by_fisher_two_sided"}] = [](auto& in) {
    return boschloo(table_in(in)).p;
  };
  a[{"boschloo", "p_two-sided_twice_min_one_sided"}] = [](auto& in) {
    return boschloo(table_in(in), Alternative::two_sided, BoschlooTwoSided::twice_one_sided).p;
  };
  // scipy doubles the smaller one-sided value; the same number from another program.
  a[{"boschloo", "p_two-sided_scipy"}] = a[{"boschloo", "p_two-sided_twice_min_one_sided"}];
  for (const std::string q : {"lo90", "hi90", "lo95", "hi95", "lo99", "hi99"}) {
    a[{"newcombe_hybrid_score", q}] = [q](auto& in) {
      return end(newcombe_difference(table_in(in), level(q)), q);
    };
    a[{"statsmodels_diff_newcomb", q}] = a[{"newcombe_hybrid_score", q}];
    a[{"miettinen_nurminen", q}] = [q](auto& in) {
      return end(miettinen_nurminen_difference(table_in(in), level(q)), q);
    };
    a[{"wilson", q}] = [q](auto& in) { return end(wilson(tally_in(in), level(q)), q); };
    a[{"clopper_pearson", q}] = [q](auto& in) {
      return end(clopper_pearson(tally_in(in), level(q)), q);
    };
    a[{"jeffreys", q}] = [q](auto& in) {
      return end(jeffreys(tally_in(in), level(q), Side::both, JeffreysEnds::plain), q);
    };
    a[{"mantel_haenszel_OR", q}] = [q](auto& in) {
      return end(mantel_haenszel_odds_ratio(strata_in(in), level(q)).interval.value(), q);
    };
  }
  a[{"risk_ratio_log", "RR"}] = [](auto& in) { return ratio(table_in(in)).estimate; };
  a[{"odds_ratio", "OR"}] = [](auto& in) { return odds_ratio(table_in(in)).estimate; };
  a[{"mantel_haenszel_OR", "OR"}] = [](auto& in) {
    return mantel_haenszel_odds_ratio(strata_in(in)).estimate;
  };
  a[{"mantel_haenszel_OR", "logOR_se_RBG"}] = [](auto& in) {
    return mantel_haenszel_odds_ratio(strata_in(in)).log_se.value();
  };
  for (const bool correction : {false, true}) {
    const std::string tail = correction ? "True" : "False";
    a[{"cmh_test", "X2_correction=" + tail}] = [=](auto& in) {
      return cochran_mantel_haenszel(strata_in(in), correction).value().chi_squared;
    };
    a[{"cmh_test", "p_correction=" + tail}] = [=](auto& in) {
      return cochran_mantel_haenszel(strata_in(in), correction).value().p;
    };
  }
  a[{"breslow_day", "X2_tarone=False"}] = [](auto& in) {
    return breslow_day(strata_in(in)).value().breslow_day.chi_squared;
  };
  a[{"breslow_day", "p_tarone=False"}] = [](auto& in) {
    return breslow_day(strata_in(in)).value().breslow_day.p;
  };
  a[{"breslow_day", "X2_tarone=True"}] = [](auto& in) {
    return breslow_day(strata_in(in)).value().tarone.chi_squared;
  };
  a[{"breslow_day", "p_tarone=True"}] = [](auto& in) {
    return breslow_day(strata_in(in)).value().tarone.p;
  };
  for (std::size_t i = 0; i < 4; ++i)
    a[{"holm", "adj_p" + std::to_string(i + 1)}] = [i](auto& in) {
      return holm(numbers_in(in)).at(i);
    };
  const auto trend = [](const std::string& in) { return cochran_armitage(doses_in(in)).value(); };
  a[{"cochran_armitage", "U"}] = [=](auto& in) { return trend(in).score; };
  a[{"cochran_armitage", "Z"}] = [=](auto& in) { return trend(in).z; };
  a[{"cochran_armitage", "X2"}] = [=](auto& in) { return trend(in).z * trend(in).z; };
  a[{"cochran_armitage", "p_two-sided"}] = [=](auto& in) { return trend(in).p; };
  a[{"prop.trend.test", "X2"}] = a[{"cochran_armitage", "X2"}];
  a[{"prop.trend.test", "p"}] = a[{"cochran_armitage", "p_two-sided"}];
  a[{"pearson_k_groups", "X2"}] = [=](auto& in) { return trend(in).groups.chi_squared; };
  a[{"pearson_k_groups", "p"}] = [=](auto& in) { return trend(in).groups.p; };
  a[{"departure_from_trend", "X2"}] = [=](auto& in) { return trend(in).departure.chi_squared; };
  a[{"departure_from_trend", "p"}] = [=](auto& in) { return trend(in).departure.p; };
  const auto line = [](const std::string& in) { return fit_dose_curve(doses_in(in), 1); };
  a[{"logistic_dose", "slope"}] = [=](auto& in) { return line(in).coefficients.at(1); };
  a[{"logistic_dose", "intercept"}] = [=](auto& in) { return line(in).coefficients.at(0); };
  a[{"logistic_dose", "slope_se"}] = [=](auto& in) {  // binomial: without the dispersion
    return line(in).se(1) / std::sqrt(line(in).dispersion);
  };
  return a;
}

// What the library does not offer, and so cannot be checked; a quantity, or a whole method.
const std::map<Key, std::string> skipped{
    {{"barnard_pooled_z", "p_two-sided_scipy"},
     "scipy misses ties: the table says not a reference"},
    {{"cochran_armitage", "Z_with_N-1_variance"}, "binomial variance is the one offered"},
    {{"risk_ratio_log", ""}, "log interval of a ratio not offered"},
    {{"odds_ratio", ""}, "Woolf interval not offered"},
    {{"fisher.test", ""}, "conditional odds ratio not offered"}};
const std::map<std::string, std::string> skipped_methods{
    {"chi_square", "not offered"},
    {"likelihood_ratio_G", "not offered"},
    {"chi_square_N-1", "not offered"},
    {"mee_score_no_N-1", "the score interval has the N/(N - 1) factor"},
    {"statsmodels_diff_wald", "Wald intervals are not offered"},
    {"statsmodels_diff_agresti-caffo", "not offered"},
    {"statsmodels_ratio_log", "not offered"},
    {"statsmodels_ratio_log-adjusted", "not offered"},
    {"statsmodels_or_logit-adjusted", "not offered"},
    {"odds_ratio_haldane_0.5", "not offered"},
    {"agresti_coull", "not offered"},
    {"wald", "not offered"},
    {"mid_p", "mid-p interval of one proportion not offered"},
    {"mantel_haenszel_RD", "common difference not offered"},
    {"mantel_haenszel_RR", "common ratio not offered"},
    {"bonferroni", "Holm is the one offered"},
    {"sidak", "Holm is the one offered"},
    {"holm-sidak", "Holm is the one offered"},
    {"simes-hochberg", "Holm is the one offered"},
    {"hommel", "Holm is the one offered"},
    {"fdr_bh", "Holm is the one offered"},
    {"fdr_by", "Holm is the one offered"},
    {"dunnett_logit", "Holm is the one offered"},
    {"multcomp_glht_Dunnett", "Holm is the one offered"},
    {"fisher_exact_power", "power is checked with the design"},
    {"pooled_z_exact_power", "power is checked with the design"},
    {"fisher_exact_n_per_arm", "power is checked with the design"},
    {"power.prop.test", "power is checked with the design"},
    {"closed_form_pooled", "power is checked with the design"},
    {"closed_form_unpooled", "power is checked with the design"},
    {"fleiss_continuity_corrected", "power is checked with the design"}};

bool exact_test(const std::string& method) {
  return method == "fisher_exact" || method == "fisher.test" || method == "barnard_pooled_z" ||
         method == "boschloo";
}

// Checks every row; returns how many were checked.
int check_all(const std::string& path) {
  const std::map<Key, Answer> known = answers();
  int checked = 0;
  for (const Row& row : read_csv(path)) {
    const std::string& method = row.at("method");
    const std::string& quantity = row.at("quantity");
    const auto answer = known.find({method, quantity});
    if (answer == known.end()) {
      const bool named = skipped.contains({method, quantity}) || skipped.contains({method, ""}) ||
                         skipped_methods.contains(method);
      CHECK_MESSAGE(named, "neither checked nor skipped: ", method, " ", quantity);
      continue;
    }
    const double expected = number(row, "value");
    const double got = answer->second(row.at("input"));
    // 0.0 and 1.0 are the closed ends of an interval.
    const bool right = exact_test(method)
                           ? within(got, expected, 1e-10) && close(got, expected, 1e-8)
                           : within(got, expected, 1e-12) || close(got, expected, 1e-9);
    CHECK_MESSAGE(right, row.at("case_id"), " ", row.at("input"), ": ", method, " ", quantity,
                  " is ", got, ", expected ", expected, ", off by ", got - expected);
    ++checked;
  }
  return checked;
}

}  // namespace

TEST_CASE("two proportions agree with scipy, statsmodels and slow versions, row by row") {
  CHECK(check_all("reference/statistics/twoprop_cases.csv") >= 480);
}

TEST_CASE("two proportions agree with R, row by row") {
  CHECK(check_all("reference/statistics/twoprop_r.csv") >= 35);
}
