#include "stats/times/emergence_solver.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "stats/numeric/newton.hpp"

namespace plumule::stats {
namespace {

using Newton2 = NewtonResult<2>;
using Newton3 = NewtonResult<3>;

// Beyond this logit (3e-7 from 1) a fraction is on its boundary.
constexpr double boundary = 15;

bool allowed(TimeFamily family, double u, double v) {
  if (!(std::fabs(u) < 1e6)) return false;
  return family == TimeFamily::gamma ? v > -6 && v < 13 : v > 1e-3 && v < 1e5;
}

// Flattens a start until every emergence has some probability under it.
bool make_possible(GroupedLikelihood& likelihood, TimeFamily family, WorkingPoint& start,
                   bool whole) {
  for (int i = 0; i < 40; ++i) {
    if (allowed(family, start.u, start.v) &&
        std::isfinite(likelihood.value(family, start, whole).loglik))
      return true;
    if (family == TimeFamily::gamma) {
      start.v = std::min(start.v, 12.0) - 0.7;
    } else {
      start.v /= 2;
      start.u /= 2;
    }
  }
  return false;
}

Newton3 all_three(GroupedLikelihood& likelihood, TimeFamily family, const WorkingPoint& start) {
  const auto evaluate = [&](NewtonPoint<3>& at) {
    const WorkingPoint point{at.x[0], at.x[1], at.x[2]};
    if (!allowed(family, point.u, point.v)) {
      at.value = -HUGE_VAL;
      return;
    }
    const LikelihoodValue l = likelihood.value(family, point, false);
    const auto& h = l.hessian;
    at.value = l.loglik;
    at.gradient << l.gradient[0], l.gradient[1], l.gradient[2];
    at.hessian << h[0], h[1], h[2], h[1], h[3], h[4], h[2], h[4], h[5];
  };
  const auto stop = [](const Eigen::Vector3d& x) { return std::fabs(x[0]) > boundary; };
  Newton3 n = newton_maximise<3>(Eigen::Vector3d(start.a, start.u, start.v), evaluate, stop);
  WorkingPoint flatter = start;
  if (!std::isfinite(n.point.value) && make_possible(likelihood, family, flatter, false))
    n = newton_maximise<3>(Eigen::Vector3d(flatter.a, flatter.u, flatter.v), evaluate, stop);
  return n;
}

// u and v alone, the fraction held at 1 (whole) or at expit(a).
Newton2 times_only(GroupedLikelihood& likelihood, TimeFamily family, const WorkingPoint& start,
                   bool whole) {
  const auto evaluate = [&](NewtonPoint<2>& at) {
    if (!allowed(family, at.x[0], at.x[1])) {
      at.value = -HUGE_VAL;
      return;
    }
    const LikelihoodValue l = likelihood.value(family, {start.a, at.x[0], at.x[1]}, whole);
    at.value = l.loglik;
    at.gradient << l.gradient[1], l.gradient[2];
    at.hessian << l.hessian[3], l.hessian[4], l.hessian[4], l.hessian[5];
  };
  const auto go_on = [](const Eigen::Vector2d&) { return false; };
  Newton2 n = newton_maximise<2>(Eigen::Vector2d(start.u, start.v), evaluate, go_on);
  WorkingPoint flatter = start;
  if (!std::isfinite(n.point.value) && make_possible(likelihood, family, flatter, whole))
    n = newton_maximise<2>(Eigen::Vector2d(flatter.u, flatter.v), evaluate, go_on);
  return n;
}

EmergenceMaximum from(const Newton3& n) {
  EmergenceMaximum m;
  m.point = {n.point.x[0], n.point.x[1], n.point.x[2]};
  m.converged = n.end == NewtonEnd::converged;
  m.loglik = n.point.value;
  m.steps = n.steps;
  if (m.converged)
    for (std::size_t i = 0; i < 3; ++i)
      for (std::size_t j = 0; j < 3; ++j)
        m.covariance[4 * i + j] =
            n.inverse(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
  return m;
}

EmergenceMaximum from(const Newton2& n, double a) {
  EmergenceMaximum m;
  m.point = {a, n.point.x[0], n.point.x[1]};
  m.whole = true;
  m.converged = n.end == NewtonEnd::converged;
  m.loglik = n.point.value;
  m.steps = n.steps;
  if (m.converged) {
    m.covariance[5] = n.inverse(0, 0);
    m.covariance[6] = m.covariance[9] = n.inverse(0, 1);
    m.covariance[10] = n.inverse(1, 1);
  }
  return m;
}

struct Problem {
  std::span<const Span> spans;
  double unit;
  double last = 0;    // latest end point
  bool rest = false;  // some units not up
  bool some_never = false;
  bool fixed_whole = false;
};

EmergenceMaximum at_lag(const Problem& problem, TimeFamily family, double lag,
                        const WorkingPoint* warm) {
  GroupedLikelihood likelihood(problem.spans, problem.unit, lag);
  const bool two = problem.fixed_whole || !problem.rest;
  const WorkingPoint first =
      warm ? *warm : starting_point(problem.spans, family, problem.unit, lag);
  EmergenceMaximum best;
  best.lag = lag;
  const auto keep = [&best](const EmergenceMaximum& m) {
    if (!std::isfinite(m.loglik)) return;
    if ((m.converged && !best.converged) ||
        (m.converged == best.converged && m.loglik > best.loglik + 1e-9)) {
      const double at = best.lag;
      best = m;
      best.lag = at;
    }
  };
  // Steeper and flatter starts where the first one did not do.
  for (const double steeper : {1.0, 0.5, 2.0}) {
    WorkingPoint start = first;
    if (steeper != 1) {
      if (family == TimeFamily::gamma) {
        start.v += 2 * std::log(steeper);
      } else {
        start.v *= steeper;
        start.u *= steeper;
      }
    }
    if (two) {
      keep(from(times_only(likelihood, family, start, true), boundary));
    } else {
      const Newton3 three = all_three(likelihood, family, start);
      if (three.end == NewtonEnd::converged) keep(from(three));
      // Where the curve is not seen to level off, the boundary may be as likely or likelier.
      if (!problem.some_never &&
          (!best.converged || likelihood.terms_at(family, best.point, problem.last).lower < 0.98)) {
        const WorkingPoint reached{boundary, three.point.x[1], three.point.x[2]};
        const Newton2 whole = times_only(likelihood, family,
                                         std::isfinite(three.point.value) ? reached : start, true);
        // It is a maximum only where the likelihood does not rise on leaving it.
        const WorkingPoint end{boundary, whole.point.x[0], whole.point.x[1]};
        const double slope = likelihood.value(family, end, false).gradient[0];
        if (whole.end == NewtonEnd::converged && slope < -1e-9) {
          const Newton3 again = all_three(likelihood, family, {3, end.u, end.v});
          if (again.end == NewtonEnd::converged) keep(from(again));
        } else {
          keep(from(whole, boundary));
        }
      }
      if (!best.converged) {
        EmergenceMaximum unsettled = from(three);
        unsettled.converged = false;
        keep(unsettled);
      }
    }
    if (best.converged) break;
  }
  return best;
}

// Adds the lag's row and column to the Hessian, by differences of the likelihood and its gradient.
void add_lag_errors(const Problem& problem, TimeFamily family, double highest,
                    EmergenceMaximum& best) {
  const double h = 1e-3 * std::min(best.lag, highest - best.lag);
  const auto at = [&](double lag) {
    return GroupedLikelihood(problem.spans, problem.unit, lag)
        .value(family, best.point, best.whole);
  };
  const LikelihoodValue here = at(best.lag), more = at(best.lag + h), less = at(best.lag - h);
  const auto& b = here.hessian;
  Eigen::Matrix4d hessian;
  hessian << b[0], b[1], b[2], 0, b[1], b[3], b[4], 0, b[2], b[4], b[5], 0, 0, 0, 0, 0;
  for (int i = 0; i < 3; ++i) {
    const auto k = static_cast<std::size_t>(i);
    hessian(i, 3) = hessian(3, i) = (more.gradient[k] - less.gradient[k]) / (2 * h);
  }
  hessian(3, 3) = (more.loglik - 2 * here.loglik + less.loglik) / (h * h);
  if (best.whole) hessian(0, 0) = -1;  // not estimated: kept apart from the rest
  const Eigen::LLT<Eigen::Matrix4d> factor(-hessian);
  best.covariance.fill(0);
  if (factor.info() != Eigen::Success) {
    best.converged = false;
    return;
  }
  const Eigen::Matrix4d inverse = factor.solve(Eigen::Matrix4d::Identity());
  const std::size_t from = best.whole ? 1 : 0;
  for (std::size_t i = from; i < 4; ++i)
    for (std::size_t j = from; j < 4; ++j)
      best.covariance[4 * i + j] =
          inverse(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
}

EmergenceMaximum search_lag(const Problem& problem, TimeFamily family) {
  double highest = no_end;
  for (const Span& s : problem.spans) highest = std::min(highest, s.right);
  EmergenceMaximum best = at_lag(problem, family, 0, nullptr);
  constexpr int grid = 12;
  const double cell = highest / grid;
  for (int i = 1; i < grid; ++i) {
    const EmergenceMaximum m = at_lag(problem, family, cell * i, nullptr);
    if (m.converged && (!best.converged || m.loglik > best.loglik + 1e-9)) best = m;
  }
  if (!best.converged || best.lag == 0) return best;
  // Golden section between the neighbours of the best point of the grid.
  double low = best.lag - cell;
  double high = std::min(best.lag + cell, highest * (1 - 1e-6));
  constexpr double golden = 0.6180339887498949;
  const auto at = [&](double lag) { return at_lag(problem, family, lag, &best.point); };
  EmergenceMaximum inner = at(high - golden * (high - low));
  EmergenceMaximum outer = at(low + golden * (high - low));
  for (int i = 0; i < 40 && high - low > 1e-7 * highest; ++i) {
    if (inner.loglik >= outer.loglik) {
      high = outer.lag;
      outer = inner;
      inner = at(high - golden * (high - low));
    } else {
      low = inner.lag;
      inner = outer;
      outer = at(low + golden * (high - low));
    }
    for (const EmergenceMaximum& m : {inner, outer})
      if (m.converged && m.loglik > best.loglik) best = m;
  }
  if (best.lag < 1e-6 * highest) return at_lag(problem, family, 0, nullptr);
  add_lag_errors(problem, family, highest, best);
  return best;
}

}  // namespace

double time_unit(std::span<const Span> spans) {
  double low = no_end;
  double high = 0;
  for (const Span& s : spans) {
    if (s.right == no_end) continue;
    low = std::min(low, s.right);
    high = std::max(high, s.right);
  }
  return high > 0 ? std::sqrt(low) * std::sqrt(high) : 1;
}

WorkingPoint starting_point(std::span<const Span> spans, TimeFamily family, double unit,
                            double lag) {
  double units = 0;
  double up = 0;
  std::vector<Look> ends;  // total: units with that right end
  ends.reserve(spans.size());
  for (const Span& s : spans) {
    units += s.count;
    if (s.right == no_end) continue;
    up += s.count;
    ends.push_back({s.right, s.count});
  }
  std::ranges::sort(ends, {}, &Look::time);
  const auto quantile = [&](double p) {
    double before = lag;
    double sum = 0;
    for (const Look& end : ends) {
      if (sum + end.total >= p * up)
        return before + (end.time - before) * (p * up - sum) / end.total;
      if (end.time > before) before = end.time;
      sum += end.total;
    }
    return before;
  };
  const double low = std::max(quantile(0.25) - lag, 1e-9 * unit);
  const double middle = std::max(quantile(0.5) - lag, 1e-9 * unit);
  const double high = std::max(quantile(0.75) - lag, 1e-9 * unit);
  const double width = std::clamp(std::log(high / low), 0.05, 5.0);
  const double x = std::log(middle / unit);
  const double a = std::log((up + 0.5) / (units - up + 0.5));
  switch (family) {
    case TimeFamily::log_logistic:
      return {a, -2.1972 / width * x, 2.1972 / width};
    case TimeFamily::lognormal:
      return {a, -1.349 / width * x, 1.349 / width};
    case TimeFamily::weibull:
      return {a, -0.3665 - 1.5725 / width * x, 1.5725 / width};
    case TimeFamily::gamma:
      break;
  }
  const double log_shape = 2 * std::log(1.349 / width);
  return {a, -x - 1 / (3 * std::exp(log_shape)), log_shape};
}

EmergenceMaximum maximise_emergence(std::span<const Span> spans, TimeFamily family,
                                    bool fixed_whole, bool with_lag) {
  Problem problem{spans, time_unit(spans)};
  problem.fixed_whole = fixed_whole;
  for (const Span& s : spans) {
    problem.rest = problem.rest || s.right == no_end;
    problem.some_never = problem.some_never || s.left == no_end;
    for (const double end : {s.left, s.right})
      if (end < no_end) problem.last = std::max(problem.last, end);
  }
  if (with_lag && separate_times(spans) >= 4) return search_lag(problem, family);
  return at_lag(problem, family, 0, nullptr);
}

HeldFraction maximise_times(GroupedLikelihood& likelihood, TimeFamily family,
                            const WorkingPoint& start) {
  const Newton2 n = times_only(likelihood, family, start, false);
  HeldFraction held;
  held.point = {start.a, n.point.x[0], n.point.x[1]};
  held.loglik = n.point.value;
  held.converged = n.end == NewtonEnd::converged;
  held.slope = likelihood.value(family, held.point, false).gradient[0];
  return held;
}

}  // namespace plumule::stats
