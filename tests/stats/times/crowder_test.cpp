// Crowder's plates (1978): every row of the reference table is checked, or skipped for a named
// reason.
#include <cmath>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "stats/proportions/replicates.hpp"
#include "stats/proportions/stratified.hpp"
#include "stats/trays/beta_binomial.hpp"
#include "stats/trays/design_effect.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

namespace {

// Group x1 + 2 x2 holds the plates of variety x1 on extract x2.
std::vector<GroupedTally> plates() {
  std::vector<GroupedTally> all;
  for (const Row& row : read_csv("data/crowder_seeds.csv"))
    all.push_back({static_cast<std::size_t>(number(row, "x1") + 2 * number(row, "x2")),
                   {number(row, "germ"), number(row, "n")}});
  return all;
}

std::vector<Tally> arm(std::size_t group) {
  std::vector<Tally> trays;
  for (const GroupedTally& t : plates())
    if (t.group == group) trays.push_back(t.tally);
  return trays;
}

Tally pooled(std::size_t group) {
  double x = 0, n = 0;
  for (const Tally& t : arm(group)) {
    x += t.x();
    n += t.n();
  }
  return {x, n};
}

struct Expected {
  double value, se;  // se 0: none to check
};

double logit(double p) { return std::log(p / (1 - p)); }

// Coefficients of the saturated two-by-two model from four logits and their covariance.
Expected effect(const std::string& name, const std::vector<double>& p,
                const std::function<double(std::size_t, std::size_t)>& covariance) {
  std::map<std::string, std::vector<double>> weights{{"intercept", {1, 0, 0, 0}},
                                                     {"x1_O73", {-1, 1, 0, 0}},
                                                     {"x2_cucumber", {-1, 0, 1, 0}},
                                                     {"x1x2", {1, -1, -1, 1}}};
  const std::vector<double>& w = weights.at(name);
  Expected e{0, 0};
  for (std::size_t i = 0; i < 4; ++i) {
    e.value += w[i] * logit(p[i]);
    for (std::size_t j = 0; j < 4; ++j)
      e.se += w[i] * w[j] * covariance(i, j) / (p[i] * (1 - p[i]) * p[j] * (1 - p[j]));
  }
  e.se = std::sqrt(e.se);
  return e;
}

bool coefficient(const std::string& quantity) {
  return quantity == "intercept" || quantity.starts_with("x1") || quantity.starts_with("x2");
}

std::vector<TwoByTwo> extract_within_variety() {
  return {{pooled(2), pooled(0)}, {pooled(3), pooled(1)}};
}

std::string skip_reason(const std::string& model, const std::string& quantity) {
  if (model.starts_with("glmer") || model.starts_with("logistic_normal"))
    return "random effects on the logit are not offered";
  if (model == "glm_binomial_submodel") return "models without interaction are not offered";
  if (quantity == "LRT_interaction_chisq") return "models without interaction are not offered";
  if (quantity.find("deviance") != std::string::npos || quantity == "df_resid")
    return "deviances are not offered";
  if (quantity == "exact_p" || quantity.find("conditional") != std::string::npos ||
      quantity.find("exact") != std::string::npos)
    return "exact conditional strata are not offered";
  if (quantity.starts_with("RD") || quantity.starts_with("logRR"))
    return "common difference and ratio are not offered";
  return "";
}

}  // namespace

TEST_CASE("Crowder's plates agree with R, row by row") {
  const BetaBinomialFit fit = fit_beta_binomial(plates());
  REQUIRE(fit.status == BetaBinomialStatus::ok);
  const CommonOddsRatio common = mantel_haenszel_odds_ratio(extract_within_variety());
  std::vector<Heterogeneity> spread;
  for (std::size_t g = 0; g < 4; ++g) spread.push_back(*heterogeneity(arm(g)));
  int checked = 0;
  for (const Row& row : read_csv("reference/statistics/crowder_reference.csv")) {
    const std::string& model = row.at("model");
    const std::string& q = row.at("quantity");
    if (!skip_reason(model, q).empty()) continue;
    Expected got{std::nan(""), 0};
    double tolerance = 1e-9;
    if (model == "glm_binomial") {
      std::vector<double> p;
      for (std::size_t g = 0; g < 4; ++g) p.push_back(pooled(g).fraction());
      if (coefficient(q))
        got = effect(q, p, [&](std::size_t i, std::size_t j) {
          return i == j ? p[i] * (1 - p[i]) / pooled(i).n() : 0;
        });
      if (q == "logLik_with_binomial_coef") {
        got.value = 0;
        for (std::size_t g = 0; g < 4; ++g)
          got.value += beta_binomial_log_likelihood(arm(g), p[g], 0);
      }
      if (q == "pearson_X2") {
        got.value = 0;
        for (std::size_t g = 0; g < 4; ++g) got.value += spread[g].chi_squared;
      }
    } else if (model == "betabinomial_ML") {
      tolerance = 1e-6;
      if (coefficient(q))
        got = effect(q, fit.p,
                     [&](std::size_t i, std::size_t j) { return fit.covariance[i * 5 + j]; });
      if (q == "rho") got = {fit.rho, fit.se_rho()};
      if (q == "logit_rho") got = {logit(fit.rho), fit.se_rho() / (fit.rho * (1 - fit.rho))};
      if (q == "theta_rho_over_1_minus_rho") got.value = fit.rho / (1 - fit.rho);
      if (q == "logLik_with_binomial_coef") got.value = fit.log_likelihood;
    } else if (model.starts_with("arm_")) {
      const std::size_t group = model == "arm_x1=0_x2=0" ? 0 : 2;
      const DesignEffect d = *design_effect(arm(group));
      const Heterogeneity& h = spread.at(group);
      double mean = 0;
      for (const Tally& t : arm(group)) mean += t.fraction() / d.trays;
      if (q == "p_pooled") got = {d.fraction, d.se};
      if (q == "se_binomial")
        got.value = std::sqrt(d.fraction * (1 - d.fraction) / pooled(group).n());
      if (q == "design_effect") got.value = d.design_effect;
      if (q == "n_effective") got.value = d.n_effective;
      if (q == "heterogeneity_X2") got.value = h.chi_squared;
      if (q == "heterogeneity_df") got.value = h.df;
      if (q == "heterogeneity_p") got.value = h.p_chi_squared;
      if (q == "ICC_anova") got.value = *moment_rho(arm(group));
      if (q == "mean_of_plate_proportions") got.value = mean;
    } else if (model == "CMH_x2_within_x1") {
      const auto cmh = cochran_mantel_haenszel(extract_within_variety(), q.ends_with("TRUE"));
      const OddsRatioAgreement agree = *breslow_day(extract_within_variety());
      if (q.starts_with("chisq")) got.value = cmh->chi_squared;
      if (q.starts_with("p_")) got.value = cmh->p;
      if (q == "OR_MH") got.value = common.estimate;
      if (q == "OR_lo95_RBG") got.value = common.interval->lower;
      if (q == "OR_hi95_RBG") got.value = common.interval->upper;
      if (q == "BreslowDay_X2") got.value = agree.breslow_day.chi_squared;
      if (q == "BreslowDay_p") got.value = agree.breslow_day.p;
      if (q == "BreslowDay_Tarone_X2") got.value = agree.tarone.chi_squared;
      if (q == "BreslowDay_Tarone_p") got.value = agree.tarone.p;
    }
    CHECK_MESSAGE(!std::isnan(got.value), "neither checked nor skipped: ", model, " ", q);
    CHECK_MESSAGE(close(got.value, number(row, "value"), tolerance), model, " ", q, " is ",
                  got.value, ", expected ", row.at("value"));
    if (got.se > 0 && row.at("se") != "NA")
      CHECK_MESSAGE(close(got.se, number(row, "se"), 1e-4), model, " ", q, " has se ", got.se,
                    ", expected ", row.at("se"));
    ++checked;
  }
  CHECK(checked == 43);
}
