#include "stats/times/emergence_model.hpp"

#include <algorithm>
#include <stdexcept>

#include "stats/times/emergence_estimates.hpp"
#include "stats/times/emergence_material.hpp"
#include "stats/times/fraction_bound.hpp"
#include "stats/times/npmle.hpp"
#include "stats/times/sowing_scores.hpp"

namespace plumule::stats {
namespace {

EmergenceModel unfitted(const EmergenceMaterial& m, ModelStatus status,
                        const ModelOptions& options) {
  EmergenceModel model;
  model.status = status;
  model.distribution.family = options.family.value_or(TimeFamily::log_logistic);
  model.sowings = static_cast<int>(m.used.size());
  model.of_emerged = !m.pool.all_known;
  model.fraction_unsettled = m.last_still || status == ModelStatus::single_count;
  const double up = m.pool.units > 0 ? m.pool.emerged / m.pool.units : 0;
  model.fraction.estimate = model.up_by_last_look.estimate = up;
  if (m.pool.emerged > 0)
    if (const auto half = time_of_emerged(npmle(m.pool.spans), 0.5)) {
      model.t50_after = half->left;
      model.t50_by = half->right;
    }
  return model;
}

EmergenceModel fit_one(const EmergenceMaterial& m, TimeFamily family, const ModelOptions& options) {
  const bool fixed = options.fraction_fixed_at_one || !m.pool.all_known;
  const EmergenceMaximum maximum = maximise_emergence(m.pool.spans, family, fixed, options.lag);
  const double unit = time_unit(m.pool.spans);
  EmergenceModel model;
  model.status = maximum.converged ? ModelStatus::fitted : ModelStatus::not_converged;
  model.distribution.family = family;
  model.sowings = static_cast<int>(m.used.size());
  model.of_emerged = !m.pool.all_known;
  model.steps = maximum.steps;
  model.parameters = 2 + !maximum.whole + (maximum.lag > 0);
  model.loglik = maximum.loglik;
  model.aic = 2 * model.parameters - 2 * maximum.loglik;
  if (!std::isfinite(maximum.loglik)) return model;

  ModelErrors errors;
  errors.level = options.level;
  if (maximum.converged) {
    const Eigen::Map<const Eigen::Matrix4d> covariance(maximum.covariance.data());
    errors.hessian = covariance;
    if (m.by_unit.size() > 1) {
      errors.clustered =
          covariance * score_products(m.pool.spans, m.by_unit, family, maximum, unit) * covariance;
      errors.df = static_cast<int>(m.by_unit.size()) - 1;
    }
  }
  describe(model, family, maximum, unit, m.pool.last_look, errors);
  model.fraction_unsettled = model.share_seen < 0.95 || m.last_still;
  if (fixed) model.fraction_at_one = false;
  if (maximum.whole && !fixed && maximum.converged)
    model.fraction_least = least_fraction(m.pool.spans, family, maximum);
  return model;
}

// By QAIC where every fit has one, else by AIC; what did not converge last.
void put_best_first(std::vector<EmergenceModel>& models) {
  const bool quasi = std::ranges::all_of(
      models, [](const EmergenceModel& model) { return model.qaic.has_value(); });
  std::ranges::stable_sort(models, [&](const EmergenceModel& a, const EmergenceModel& b) {
    const bool fa = a.status == ModelStatus::fitted, fb = b.status == ModelStatus::fitted;
    if (fa != fb) return fa;
    return quasi ? *a.qaic < *b.qaic : a.aic < b.aic;
  });
}

}  // namespace

std::vector<EmergenceModel> fit_families(std::span<const TimeCourse> sowings,
                                         const ModelOptions& options) {
  if (!(options.level > 0 && options.level < 1))
    throw std::domain_error("the level of an interval must lie between 0 and 1");
  const EmergenceMaterial m = gather(sowings);
  if (options.fraction_fixed_at_one && m.some_never)
    throw std::domain_error("units known never to come up: the fraction can't be held at 1");
  if (const auto status = too_little(m)) return {unfitted(m, *status, options)};

  std::vector<EmergenceModel> models;
  for (const TimeFamily family : every_time_family)
    if (!options.family || *options.family == family) models.push_back(fit_one(m, family, options));

  // One dispersion for all, from the family that comes closest.
  const auto closest = std::ranges::max_element(models, {}, &EmergenceModel::loglik);
  std::optional<double> c;
  if (m.used.size() > 1 && closest->status == ModelStatus::fitted)
    c = dispersion(m.used, closest->distribution, closest->fraction.estimate, closest->parameters,
                   closest->of_emerged);
  for (EmergenceModel& model : models) {
    model.dispersion = c;
    if (c) model.qaic = -2 * model.loglik / *c + 2 * (model.parameters + 1);
  }
  put_best_first(models);
  return models;
}

EmergenceModel fit_emergence(std::span<const TimeCourse> sowings, const ModelOptions& options) {
  return fit_families(sowings, options).front();
}

}  // namespace plumule::stats
