// See the header.
#include "stats/trays/beta_binomial.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/numeric/count_probability.hpp"
#include "stats/numeric/root.hpp"
#include "stats/trays/beta_binomial_likelihood.hpp"

namespace plumule::stats {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

// log C(n, x) from the binomial probability at p = x/n, where nothing cancels.
double log_coefficient(const Tally& tray) {
  const double x = tray.x(), f = tray.failures(), n = tray.n();
  if (x == 0 || f == 0) return 0;
  return std::log(binomial_probability(x, n, x / n)) - x * std::log(x / n) - f * std::log(f / n);
}

double probability_scale(double theta) { return theta / (1 + theta); }  // theta to rho

// The groups together: the likelihood maximised over each p, as a function of theta alone.
class Profile {
 public:
  std::vector<BetaBinomialGroup> groups;
  int evaluations = 0;

  // By the envelope theorem the partial derivative by theta at the best p.
  double slope(double theta) {
    ++evaluations;
    double sum = 0;
    move_to(theta);
    for (std::size_t g = 0; g < groups.size(); ++g)
      if (!groups[g].edge()) sum += groups[g].at(p[g], theta).theta;
    return sum;
  }

  // An edge group has p = 0 or 1, and likelihood 1 whatever theta.
  double value(double theta) {
    double sum = 0;
    move_to(theta);
    for (std::size_t g = 0; g < groups.size(); ++g)
      if (!groups[g].edge()) sum += groups[g].at(p[g], theta).value;
    return sum;
  }

  // The best p of each group for this theta; each search starts from the last.
  std::vector<double> p;
  void move_to(double theta) {
    p.resize(groups.size(), -1);
    for (std::size_t g = 0; g < groups.size(); ++g) {
      if (p[g] < 0) p[g] = groups[g].pooled();
      if (!groups[g].edge()) p[g] = groups[g].best_p(theta, p[g]);
    }
  }

  // Every local maximum is bracketed between two points of a coarse scan and refined; the best.
  double best_theta() {
    double best = 0, best_value = value(0);
    double from = 0, from_slope = slope(0);
    for (double to = 1e-6; to < 1e7; to *= 3) {
      const double to_slope = slope(to);
      if (from_slope > 0 && to_slope <= 0) {
        const double top = find_root([&](double theta) { return slope(theta); }, from, to);
        if (const double v = value(top); v > best_value) {
          best = top;
          best_value = v;
        }
      }
      from = to;
      from_slope = to_slope;
    }
    return best;
  }
};

// Covariance of (p..., rho) at an inner maximum; an edge p has variance 0. False where the observed
// information is not positive definite.
bool invert(const Profile& profile, const std::vector<double>& p, double theta,
            std::vector<double>& covariance) {
  const auto size = static_cast<Eigen::Index>(p.size()) + 1;
  Eigen::MatrixXd information = Eigen::MatrixXd::Identity(size, size);
  information(size - 1, size - 1) = 0;
  for (std::size_t g = 0; g < p.size(); ++g) {
    if (profile.groups[g].edge()) continue;
    const auto i = static_cast<Eigen::Index>(g);
    const BetaBinomialDerivatives d = profile.groups[g].at(p[g], theta);
    information(i, i) = -d.pp;
    information(i, size - 1) = information(size - 1, i) = -d.p_theta;
    information(size - 1, size - 1) -= d.theta_theta;
  }
  const Eigen::LLT<Eigen::MatrixXd> factor(information);
  if (factor.info() != Eigen::Success) return false;
  Eigen::MatrixXd inverse = factor.solve(Eigen::MatrixXd::Identity(size, size));
  const double scale = 1 / ((1 + theta) * (1 + theta));  // d rho / d theta
  inverse.row(size - 1) *= scale;
  inverse.col(size - 1) *= scale;
  for (std::size_t g = 0; g < p.size(); ++g) {
    const auto i = static_cast<Eigen::Index>(g);
    if (profile.groups[g].edge()) inverse(i, i) = 0;
  }
  covariance.assign(inverse.data(), inverse.data() + inverse.size());
  return true;
}

}  // namespace

double beta_binomial_log_likelihood(std::span<const Tally> trays, double p, double rho,
                                    bool coefficients) {
  if (!(p >= 0 && p <= 1 && rho >= 0 && rho < 1))
    throw std::domain_error("the beta-binomial needs p in [0, 1] and rho in [0, 1)");
  BetaBinomialGroup group;
  double constant = 0;
  bool none = true, all = true;
  for (const Tally& tray : trays) {
    group.add(tray);
    if (coefficients) constant += log_coefficient(tray);
    none = none && tray.x() == 0;
    all = all && tray.failures() == 0;
  }
  if ((p == 0 && !none) || (p == 1 && !all)) return -infinity;
  if (p == 0 || p == 1) return constant;
  return constant + group.at(p, rho / (1 - rho)).value;
}

double BetaBinomialFit::se_p(std::size_t group) const {
  const std::size_t size = p.size() + (status == BetaBinomialStatus::ok ? 1 : 0);
  if (covariance.size() != size * size || group >= p.size()) return nan;
  const double v = covariance[group * size + group];
  return v > 0 ? std::sqrt(v) : nan;
}

double BetaBinomialFit::se_rho() const {
  return status == BetaBinomialStatus::ok ? std::sqrt(covariance.back()) : nan;
}

BetaBinomialFit fit_beta_binomial(std::span<const GroupedTally> trays) {
  std::size_t count = 0;
  for (const GroupedTally& t : trays) count = std::max(count, t.group + 1);
  Profile profile;
  profile.groups.resize(count);
  std::vector<double> sown(count);
  double constant = 0;
  for (const GroupedTally& t : trays) {
    profile.groups[t.group].add(t.tally);
    sown[t.group] += t.tally.n();
    constant += log_coefficient(t.tally);
  }

  BetaBinomialFit fit;
  for (const BetaBinomialGroup& group : profile.groups) fit.p.push_back(group.pooled());
  const auto shows = [](const BetaBinomialGroup& g) { return g.shows_rho(); };
  if (std::none_of(profile.groups.begin(), profile.groups.end(), shows)) {
    fit.log_likelihood = constant + profile.value(0);
    return fit;
  }
  const bool all_or_nothing =
      std::all_of(profile.groups.begin(), profile.groups.end(),
                  [](const BetaBinomialGroup& g) { return g.all_or_nothing(); });
  if (all_or_nothing) {  // the limit: each tray one draw of all or nothing
    fit.status = BetaBinomialStatus::rho_one;
    fit.rho = 1;
    for (const GroupedTally& t : trays) {
      if (t.tally.n() == 0) continue;
      const auto same = [&](const GroupedTally& o) {
        return o.group == t.group && o.tally.n() > 0;
      };
      const double among = static_cast<double>(std::count_if(trays.begin(), trays.end(), same));
      const double full =
          static_cast<double>(std::count_if(trays.begin(), trays.end(), [&](const GroupedTally& o) {
            return same(o) && o.tally.x() > 0;
          }));
      fit.p[t.group] = full / among;
      fit.log_likelihood += std::log(t.tally.x() > 0 ? full / among : 1 - full / among);
    }
    return fit;
  }

  const double theta = profile.best_theta();
  fit.iterations = profile.evaluations;
  fit.rho = probability_scale(theta);
  fit.log_likelihood = constant + profile.value(theta);
  fit.p = profile.p;  // at the last theta, this one
  if (theta == 0) {
    fit.status = BetaBinomialStatus::rho_zero;
    fit.covariance.assign(count * count, 0.0);
    for (std::size_t g = 0; g < count; ++g)
      if (sown[g] > 0) fit.covariance[g * count + g] = fit.p[g] * (1 - fit.p[g]) / sown[g];
    return fit;
  }
  fit.status = invert(profile, fit.p, theta, fit.covariance) ? BetaBinomialStatus::ok
                                                             : BetaBinomialStatus::not_converged;
  return fit;
}

BetaBinomialFit fit_beta_binomial(std::span<const Tally> trays) {
  std::vector<GroupedTally> one;
  for (const Tally& tray : trays) one.push_back({0, tray});
  return fit_beta_binomial(one);
}

std::optional<double> moment_rho(std::span<const Tally> trays) {
  double k = 0, n = 0, x = 0, squares = 0, weighted = 0;
  for (const Tally& tray : trays) {
    if (tray.n() == 0) continue;
    k += 1;
    n += tray.n();
    x += tray.x();
    squares += tray.n() * tray.n();
    weighted += tray.x() * tray.fraction();
  }
  if (k < 2 || n <= k || x == 0 || x == n) return std::nullopt;
  const double among = (weighted - x * (x / n)) / (k - 1), within = (x - weighted) / (n - k);
  const double size = (n - squares / n) / (k - 1);
  return (among - within) / (among + (size - 1) * within);
}

}  // namespace plumule::stats
