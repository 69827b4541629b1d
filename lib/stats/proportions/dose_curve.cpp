// See the header.
#include "stats/proportions/dose_curve.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <stdexcept>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

constexpr int most_degrees = 6;

// Doses on [-1, 1]: (dose - centre) / half.
struct Scale {
  double centre, half;
};

// What is fitted: the height of each stratum in order, then the powers of the scaled dose.
struct Design {
  Scale scale;
  std::map<int, Eigen::Index> strata;
  Eigen::Index degree;

  Eigen::Index heights() const { return static_cast<Eigen::Index>(strata.size()); }
  Eigen::VectorXd row(const DoseGroup& group) const {
    Eigen::VectorXd made = Eigen::VectorXd::Zero(heights() + degree);
    made(strata.at(group.stratum)) = 1;
    const double d = (group.dose - scale.centre) / scale.half;
    for (Eigen::Index i = 1; i <= degree; ++i)
      made(heights() + i - 1) = std::pow(d, static_cast<double>(i));
    return made;
  }
};

double log_logistic(double eta) {
  return eta < 0 ? eta - std::log1p(std::exp(eta)) : -std::log1p(std::exp(-eta));
}

struct State {
  double log_likelihood = 0, pearson = 0, largest = 0;
  Eigen::VectorXd score;
  Eigen::MatrixXd information;
};

State evaluate(std::span<const DoseGroup> sowings, const Design& design,
               const Eigen::VectorXd& beta) {
  State s;
  s.score = Eigen::VectorXd::Zero(beta.size());
  s.information = Eigen::MatrixXd::Zero(beta.size(), beta.size());
  for (const DoseGroup& g : sowings) {
    const double n = g.tally.n(), x = g.tally.x();
    if (n == 0) continue;
    const Eigen::VectorXd row = design.row(g);
    const double eta = row.dot(beta);
    const double p = 1 / (1 + std::exp(-eta)), q = 1 / (1 + std::exp(eta));
    s.log_likelihood += x * log_logistic(eta) + (n - x) * log_logistic(-eta);
    s.score += (x * q - (n - x) * p) * row;
    s.information += n * p * q * row * row.transpose();
    s.pearson += (x * q - (n - x) * p) * (x * q - (n - x) * p) / (n * p * q);
    s.largest = std::max(s.largest, std::fabs(eta));
  }
  return s;
}

// Row i: the coefficients of dose^0, dose^1, ... in ((dose - centre) / half)^i.
Eigen::MatrixXd unscale(const Scale& scale, Eigen::Index size) {
  Eigen::MatrixXd power = Eigen::MatrixXd::Zero(size, size);
  power(0, 0) = 1;
  for (Eigen::Index i = 1; i < size; ++i)
    for (Eigen::Index j = 0; j < i; ++j) {
      power(i, j) -= power(i - 1, j) * scale.centre / scale.half;
      power(i, j + 1) += power(i - 1, j) / scale.half;
    }
  return power.transpose();
}

}  // namespace

double DoseCurve::se(std::size_t i) const {
  const std::size_t size = coefficients.size();
  if (status != CurveStatus::ok || i >= size) return nan;
  return std::sqrt(covariance[i * size + i]);
}

double DoseCurve::at(double dose) const {
  if (status != CurveStatus::ok) return nan;
  double eta = 0;
  for (std::size_t i = coefficients.size(); i-- > 0;) eta = eta * dose + coefficients[i];
  return 1 / (1 + std::exp(-eta));
}

DoseCurve fit_dose_curve(std::span<const DoseGroup> sowings, int degree, double level) {
  const double tail = tail_probability(level, Side::both);
  if (degree < 1 || degree > most_degrees)
    throw std::domain_error("a dose curve has degree 1 to 6");
  std::set<double> doses;
  std::map<int, double> seeds;  // of each stratum
  double count = 0, n = 0, x = 0;
  for (const DoseGroup& g : sowings) {
    if (!std::isfinite(g.dose)) throw std::domain_error("a dose must be a finite number");
    if (g.tally.n() == 0) continue;
    doses.insert(g.dose);
    seeds[g.stratum] += g.tally.n();
    count += 1;
    n += g.tally.n();
    x += g.tally.x();
  }
  DoseCurve curve;
  if (doses.size() < static_cast<std::size_t>(degree) + 1) return curve;
  curve.status = CurveStatus::separated;
  if (x == 0 || x == n) return curve;

  Design design{
      {(*doses.begin() + *doses.rbegin()) / 2, (*doses.rbegin() - *doses.begin()) / 2}, {}, degree};
  for (const auto& [stratum, sown] : seeds) design.strata.emplace(stratum, design.heights());
  const Eigen::Index size = design.heights() + degree;
  Eigen::VectorXd beta = Eigen::VectorXd::Zero(size);
  beta.head(design.heights()).setConstant(std::log(x / (n - x)));
  State state = evaluate(sowings, design, beta);
  // The likelihood is concave: full Newton steps, halved where they overshoot. Without a finite
  // maximum (doses part the sowings) the linear predictor runs away.
  constexpr int most = 100;
  bool settled = false;
  for (; curve.iterations < most && !settled; ++curve.iterations) {
    const Eigen::LDLT<Eigen::MatrixXd> factor(state.information);
    if (state.largest > 30 || factor.rcond() < 1e-14) return curve;
    Eigen::VectorXd step = factor.solve(state.score);
    State next = evaluate(sowings, design, beta + step);
    for (int h = 0; h < 40 && !(next.log_likelihood >= state.log_likelihood - 1e-12 * n); ++h) {
      step /= 2;
      next = evaluate(sowings, design, beta + step);
    }
    settled = step.cwiseAbs().maxCoeff() <= 1e-10 * (1 + beta.cwiseAbs().maxCoeff());
    beta += step;
    state = std::move(next);
  }
  if (!settled) {
    curve.status = CurveStatus::not_converged;
    return curve;
  }
  curve.status = CurveStatus::ok;
  curve.log_likelihood = state.log_likelihood;
  curve.pearson = state.pearson;
  curve.df = count - static_cast<double>(size);
  curve.dispersion = curve.df > 0 ? std::max(1.0, curve.pearson / curve.df) : 1;
  curve.deviate = curve.df > 0 ? student_t_quantile_upper(tail, curve.df) : -normal_quantile(tail);
  // Heights to their mean, then back to the doses as they were typed.
  Eigen::MatrixXd mean = Eigen::MatrixXd::Zero(degree + 1, size);
  for (const auto& [stratum, sown] : seeds) mean(0, design.strata.at(stratum)) = sown / n;
  for (Eigen::Index i = 1; i <= degree; ++i) mean(i, design.heights() + i - 1) = 1;
  const Eigen::MatrixXd back = unscale(design.scale, degree + 1) * mean;
  const Eigen::VectorXd raw = back * beta;
  const Eigen::MatrixXd inverse = state.information.inverse();
  const Eigen::MatrixXd covariance = curve.dispersion * (back * inverse * back.transpose());
  curve.coefficients.assign(raw.data(), raw.data() + raw.size());
  curve.covariance.assign(covariance.data(), covariance.data() + covariance.size());
  return curve;
}

double lack_of_fit_p(std::span<const DoseGroup> sowings) {
  std::set<double> doses;
  for (const DoseGroup& g : sowings)
    if (g.tally.n() > 0) doses.insert(g.dose);
  const int degree = std::min(most_degrees, static_cast<int>(doses.size()) - 1);
  if (degree < 3) return 1;
  const DoseCurve parabola = fit_dose_curve(sowings, 2), all = fit_dose_curve(sowings, degree);
  if (parabola.status != CurveStatus::ok || all.status != CurveStatus::ok) return 1;
  const double better = std::max(0.0, all.log_likelihood - parabola.log_likelihood);
  return chi_squared_upper(2 * better / all.dispersion, degree - 2);
}

BestDose best_dose(std::span<const DoseGroup> sowings, double level) {
  const DoseCurve curve = fit_dose_curve(sowings, 2, level);
  BestDose best;
  if (curve.status != CurveStatus::ok) return best;
  const double b1 = curve.coefficients[1], b2 = curve.coefficients[2];
  // The peak is -b1 / (2 b2): numerator -b1/2 over b2.
  best.dose = -b1 / (2 * b2);
  best.interval = fieller(-b1 / 2, b2, curve.covariance[4] / 4, curve.covariance[8],
                          -curve.covariance[5] / 2, curve.deviate);
  best.fraction = curve.at(best.dose);
  best.status = BestDoseStatus::no_peak;
  if (!(b2 + curve.deviate * curve.se(2) < 0)) return best;
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const DoseGroup& g : sowings) {
    if (g.tally.n() == 0) continue;
    least = std::min(least, g.dose);
    most = std::max(most, g.dose);
  }
  best.status =
      best.dose > least && best.dose < most ? BestDoseStatus::peak : BestDoseStatus::outside_tried;
  return best;
}

}  // namespace plumule::stats
