#include "stats/times/emergence_treatments.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/newton.hpp"
#include "stats/times/emergence_estimates.hpp"
#include "stats/times/emergence_material.hpp"
#include "stats/times/fraction_bound.hpp"
#include "stats/times/sowing_scores.hpp"

namespace plumule::stats {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;

constexpr double boundary = 15;  // a logit beyond which a fraction is 1, as in the solver
constexpr Eigen::Index absent = -1;

struct Arm {
  EmergenceMaterial material;
  GroupedLikelihood likelihood;
  WorkingPoint point;
  bool fixed = false;                                // fraction held at 1
  bool whole = false;                                // held, or on the boundary
  Eigen::Index place[3] = {absent, absent, absent};  // of a, u and v among all parameters
};

class Joint {
 public:
  Joint(std::vector<Arm> arms, const TreatmentOptions& options)
      : arms_(std::move(arms)), options_(options) {}

  // Newton over all parameters; a fraction that runs to 1 is put there, and freed again if the
  // likelihood rises on leaving it.
  bool maximise() {
    for (int tries = 0; tries < 6; ++tries) {
      place();
      const auto evaluate = [this](NewtonPoint<Eigen::Dynamic>& at) { value(at); };
      const auto stop = [this](const Vector& x) { return runs_away(x); };
      result_ = newton_maximise<Eigen::Dynamic>(start(), evaluate, stop);
      if (!std::isfinite(result_.point.value)) return false;
      for (Arm& arm : arms_) arm.point = point_of(arm, result_.point.x);
      if (result_.end == NewtonEnd::stopped) {
        for (Arm& arm : arms_)
          if (arm.place[0] != absent && arm.point.a > boundary) arm.whole = true;
        continue;
      }
      if (result_.end != NewtonEnd::converged) return false;
      if (!leave_boundary()) return true;
    }
    return false;
  }

  const std::vector<Arm>& arms() const { return arms_; }
  const NewtonResult<Eigen::Dynamic>& result() const { return result_; }
  Eigen::Index parameters() const { return parameters_; }

  // Sum over units of score times score, each treatment with its own k/(k - 1).
  Matrix score_products() const {
    Matrix sum = Matrix::Zero(parameters_, parameters_);
    for (const Arm& arm : arms_) {
      GroupedLikelihood likelihood = arm.likelihood;
      likelihood.value(options_.family, arm.point, arm.whole);
      const double k = static_cast<double>(arm.material.by_unit.size());
      for (const auto& spans : arm.material.by_unit) {
        const LikelihoodValue one = likelihood.value_of(spans, arm.point, arm.whole);
        Vector score = Vector::Zero(parameters_);
        for (std::size_t i = 0; i < 3; ++i)
          if (arm.place[i] != absent) score[arm.place[i]] = one.gradient[i];
        sum += k / (k - 1) * score * score.transpose();
      }
    }
    return sum;
  }

 private:
  void place() {
    parameters_ = 0;
    Eigen::Index fraction = absent, spread = absent;
    for (Arm& arm : arms_) {
      arm.place[0] = absent;
      if (!arm.whole) {
        if (fraction == absent || !options_.shared_fraction) fraction = parameters_++;
        arm.place[0] = fraction;
      }
      arm.place[1] = parameters_++;
      if (spread == absent || !options_.shared_spread) spread = parameters_++;
      arm.place[2] = spread;
    }
  }

  // Shared parameters start from the mean over the arms, each keeping its own middle time; flatter
  // until every count has some probability.
  Vector start() {
    double a = 0, v = 0;
    for (const Arm& arm : arms_) {
      const double share = 1 / static_cast<double>(arms_.size());
      a += share * std::min(arm.point.a, 5.0);
      v += share * arm.point.v;
    }
    Vector x(parameters_);
    for (int flatter = 0; flatter < 40; ++flatter) {
      for (const Arm& arm : arms_) {
        WorkingPoint p = arm.point;
        if (options_.shared_fraction) p.a = a;
        if (options_.shared_spread) {
          if (options_.family != TimeFamily::gamma) p.u *= v / p.v;
          p.v = v;
        }
        const double all[3] = {p.a, p.u, p.v};
        for (std::size_t i = 0; i < 3; ++i)
          if (arm.place[i] != absent) x[arm.place[i]] = all[i];
      }
      NewtonPoint<Eigen::Dynamic> at;
      at.x = x;
      value(at);
      if (std::isfinite(at.value)) break;
      v = options_.family == TimeFamily::gamma ? v - 0.7 : v / 2;
    }
    return x;
  }

  WorkingPoint point_of(const Arm& arm, const Vector& x) const {
    return {arm.place[0] == absent ? boundary : x[arm.place[0]], x[arm.place[1]], x[arm.place[2]]};
  }

  void value(NewtonPoint<Eigen::Dynamic>& at) {
    static constexpr std::size_t upper[3][3] = {{0, 1, 2}, {1, 3, 4}, {2, 4, 5}};
    at.value = 0;
    at.gradient = Vector::Zero(parameters_);
    at.hessian = Matrix::Zero(parameters_, parameters_);
    for (Arm& arm : arms_) {
      const WorkingPoint p = point_of(arm, at.x);
      const bool possible = options_.family == TimeFamily::gamma ? std::fabs(p.v) < 13 : p.v > 1e-3;
      if (!possible || !(std::fabs(p.u) < 1e6)) {
        at.value = -HUGE_VAL;
        return;
      }
      const LikelihoodValue l = arm.likelihood.value(options_.family, p, arm.whole);
      at.value += l.loglik;
      for (std::size_t i = 0; i < 3; ++i) {
        if (arm.place[i] == absent) continue;
        at.gradient[arm.place[i]] += l.gradient[i];
        for (std::size_t j = 0; j < 3; ++j)
          if (arm.place[j] != absent)
            at.hessian(arm.place[i], arm.place[j]) += l.hessian[upper[i][j]];
      }
    }
  }

  bool runs_away(const Vector& x) const {
    return std::ranges::any_of(arms_, [&](const Arm& arm) {
      return arm.place[0] != absent && std::fabs(x[arm.place[0]]) > boundary;
    });
  }

  bool leave_boundary() {
    bool left = false;
    for (Arm& arm : arms_) {
      if (!arm.whole || arm.fixed) continue;
      const double slope =
          arm.likelihood.value(options_.family, {boundary, arm.point.u, arm.point.v}, false)
              .gradient[0];
      if (slope >= -1e-9 || options_.shared_fraction) continue;
      arm.whole = false;
      arm.point.a = 3;
      left = true;
    }
    return left;
  }

  std::vector<Arm> arms_;
  TreatmentOptions options_;
  Eigen::Index parameters_ = 0;
  NewtonResult<Eigen::Dynamic> result_;
};

// Covariance over an arm's a, u, v (and a lag it hasn't).
Eigen::Matrix4d block(const Arm& arm, const Matrix& covariance) {
  Eigen::Matrix4d out = Eigen::Matrix4d::Zero();
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      if (arm.place[i] != absent && arm.place[j] != absent)
        out(i, j) = covariance(arm.place[i], arm.place[j]);
  return out;
}

EmergenceMaximum maximum_of(const Arm& arm) {
  EmergenceMaximum m;
  m.point = arm.point;
  m.whole = arm.whole;
  m.converged = true;
  return m;
}

std::vector<double> flattened(const Matrix& m) {
  std::vector<double> all;
  for (Eigen::Index i = 0; i < m.rows(); ++i)
    for (Eigen::Index j = 0; j < m.cols(); ++j) all.push_back(m(i, j));
  return all;
}

std::optional<double> quasi(const TreatmentsModel& model, std::optional<double> dispersion) {
  if (!dispersion) return std::nullopt;
  return -2 * model.loglik / *dispersion + 2 * (model.parameters + 1);
}

// The working point for another unit of time.
WorkingPoint in_unit(WorkingPoint p, TimeFamily family, double from, double to) {
  const double shift = std::log(from / to);
  p.u -= family == TimeFamily::gamma ? shift : p.v * shift;
  return p;
}

}  // namespace

TreatmentsModel fit_treatments(std::span<const std::vector<TimeCourse>> treatments,
                               const TreatmentOptions& options) {
  if (!(options.level > 0 && options.level < 1))
    throw std::domain_error("the level of an interval must lie between 0 and 1");
  if (options.dispersion && !(*options.dispersion >= 1))
    throw std::domain_error("a dispersion is 1 at least");
  if (treatments.empty()) throw std::domain_error("no treatments to fit");
  TreatmentsModel model;
  model.family = options.family;
  std::vector<EmergenceMaterial> materials;
  std::vector<Span> every;
  bool clusters = true;
  bool several = false;
  model.status = ModelStatus::fitted;
  for (const auto& sowings : treatments) {
    if (sowings.empty()) throw std::domain_error("a treatment without sowings cannot be fitted");
    materials.push_back(gather(sowings));
    const EmergenceMaterial& m = materials.back();
    if (options.fraction_fixed_at_one && m.some_never)
      throw std::domain_error("units known never to come up: the fraction can't be held at 1");
    if (const auto status = too_little(m); status && model.status == ModelStatus::fitted)
      model.status = *status;
    every.insert(every.end(), m.pool.spans.begin(), m.pool.spans.end());
    clusters = clusters && m.by_unit.size() > 1;
    several = several || m.used.size() > 1;
    model.df += static_cast<int>(m.by_unit.size()) - 1;
  }
  if (model.status != ModelStatus::fitted) return model;

  const double unit = time_unit(every);
  std::vector<Arm> arms;
  std::vector<EmergenceMaximum> alone;
  for (EmergenceMaterial& m : materials) {
    const bool fixed = options.fraction_fixed_at_one || !m.pool.all_known;
    alone.push_back(maximise_emergence(m.pool.spans, options.family, fixed, false));
    GroupedLikelihood likelihood(m.pool.spans, unit);
    Arm arm{std::move(m), std::move(likelihood), {}, fixed, fixed};
    arm.point =
        in_unit(alone.back().point, options.family, time_unit(arm.material.pool.spans), unit);
    arm.whole = fixed || (alone.back().whole && !options.shared_fraction);
    arms.push_back(std::move(arm));
  }
  Joint joint(std::move(arms), options);
  if (!joint.maximise()) {
    model.status = ModelStatus::not_converged;
    return model;
  }

  model.loglik = joint.result().point.value;
  model.parameters = static_cast<int>(joint.parameters());
  model.aic = 2 * model.parameters - 2 * model.loglik;
  const Matrix covariance = joint.result().inverse;
  Matrix clustered;
  if (clusters) clustered = covariance * joint.score_products() * covariance;

  Misfit apart;  // of the sowings from their curves
  const auto n = static_cast<Eigen::Index>(joint.arms().size());
  Matrix gradients = Matrix::Zero(n, joint.parameters());  // of log t50
  for (Eigen::Index g = 0; g < n; ++g) {
    const auto i = static_cast<std::size_t>(g);
    const Arm& arm = joint.arms()[i];
    const EmergenceMaximum maximum = maximum_of(arm);
    ModelErrors errors;
    errors.level = options.level;
    errors.df = model.df;
    errors.hessian = block(arm, covariance);
    if (clusters) errors.clustered = block(arm, clustered);
    EmergenceModel one;
    one.status = ModelStatus::fitted;
    one.parameters = 2 + !arm.whole;
    GroupedLikelihood own(arm.material.pool.spans, unit);
    one.loglik = own.value(options.family, arm.point, arm.whole).loglik;
    one.aic = 2 * one.parameters - 2 * one.loglik;
    one.sowings = static_cast<int>(arm.material.used.size());
    one.steps = joint.result().steps;
    one.of_emerged = !arm.material.pool.all_known;
    describe(one, options.family, maximum, unit, arm.material.pool.last_look, errors);
    one.fraction_at_one = arm.whole && !arm.fixed;
    one.fraction_unsettled = one.share_seen < 0.95 || arm.material.last_still;
    if (one.fraction_at_one && !options.shared_spread && !options.shared_fraction)
      one.fraction_least = least_fraction(arm.material.pool.spans, options.family, alone[i]);
    const Misfit of_one =
        misfit(arm.material.used, one.distribution, one.fraction.estimate, one.of_emerged);
    apart.chi_squared += of_one.chi_squared;
    apart.df += of_one.df;
    model.treatments.push_back(one);
    const LogTime t50 = log_time_of_share(options.family, maximum, unit, 0.5);
    for (int k = 0; k < 3; ++k)
      if (arm.place[k] != absent) gradients(g, arm.place[k]) += t50.gradient[k];
  }
  model.log_t50_covariance = flattened(gradients * covariance * gradients.transpose());
  if (clusters) model.log_t50_clustered = flattened(gradients * clustered * gradients.transpose());
  if (several)
    model.dispersion =
        options.dispersion ? options.dispersion : dispersion(apart, model.parameters);
  model.qaic = quasi(model, model.dispersion);
  return model;
}

TreatmentsModel fit_likeliest_treatments(std::span<const std::vector<TimeCourse>> treatments,
                                         TreatmentOptions options) {
  options.dispersion.reset();
  std::vector<TreatmentsModel> models;
  for (const TimeFamily family : every_time_family) {
    options.family = family;
    models.push_back(fit_treatments(treatments, options));
  }
  const auto fitted = [](const TreatmentsModel& m) { return m.status == ModelStatus::fitted; };
  const TreatmentsModel* closest = nullptr;
  for (const auto& model : models)
    if (fitted(model) && (!closest || model.loglik > closest->loglik)) closest = &model;
  if (!closest) return models.front();
  const auto one_for_all = closest->dispersion;
  TreatmentsModel* best = nullptr;
  for (auto& model : models) {
    if (!fitted(model)) continue;
    model.dispersion = one_for_all;
    model.qaic = quasi(model, one_for_all);
    const bool less = best && (one_for_all ? *model.qaic < *best->qaic : model.aic < best->aic);
    if (!best || less) best = &model;
  }
  return std::move(*best);
}

std::optional<TimeFamily> likeliest_family(std::span<const std::vector<TimeCourse>> treatments) {
  std::vector<std::vector<TimeCourse>> enough;
  for (const auto& sowings : treatments)
    if (!sowings.empty() && !too_little(gather(sowings))) enough.push_back(sowings);
  if (enough.empty()) return std::nullopt;
  return fit_likeliest_treatments(enough).family;
}

std::optional<TimeRatio> time_ratio(const TreatmentsModel& model, std::size_t treatment,
                                    std::size_t against, double level) {
  if (!(level > 0 && level < 1))
    throw std::domain_error("the level of an interval must lie between 0 and 1");
  if (model.status != ModelStatus::fitted) return std::nullopt;
  const std::size_t n = model.treatments.size();
  if (treatment >= n || against >= n) throw std::domain_error("no such treatment in the model");
  TimeRatio r;
  r.ratio = model.treatments[treatment].t50.estimate / model.treatments[against].t50.estimate;
  r.df = model.df;
  r.level = level;
  const auto spread = [&](const std::vector<double>& c) -> std::optional<double> {
    if (c.empty()) return std::nullopt;
    const double variance = c[treatment * n + treatment] + c[against * n + against] -
                            c[treatment * n + against] - c[against * n + treatment];
    return std::sqrt(std::max(0.0, variance));
  };
  r.log_se = spread(model.log_t50_covariance);
  r.log_se_clustered = spread(model.log_t50_clustered);
  if (!r.log_se_clustered || (r.log_se && agree_too_well(*r.log_se_clustered, *r.log_se))) return r;
  const double reach = student_t_quantile_upper((1 - level) / 2, r.df) * *r.log_se_clustered;
  r.lower = r.ratio * std::exp(-reach);
  r.upper = r.ratio * std::exp(reach);
  return r;
}

}  // namespace plumule::stats
