#include "stats/times/mass_solver.hpp"

#include <algorithm>
#include <cmath>

#include "stats/numeric/log_sum.hpp"

namespace plumule::stats {
namespace {

constexpr double accepted_gap = 1e-8;
constexpr double aimed_gap = 1e-12;

class Solver {
 public:
  Solver(std::span<const SetRun> runs, std::size_t sets)
      : runs_(runs),
        sets_(sets),
        mass_(sets, 0.0),
        gradient_(sets + 1),
        cumulative_(sets + 1),
        run_mass_(runs.size()) {
    for (const SetRun& run : runs) total_ += run.weight;
    logs_.reserve(runs.size());
  }

  Masses solve() {
    begin();
    for (int i = 0; i < 4; ++i) em_step();
    int stalled = 0;
    int step = 0;
    double gap = 0;
    loglik_ = evaluate(mass_);
    for (;; ++step) {
      gap = look();
      if (step == 300) break;
      if (gap <= aimed_gap || (gap <= accepted_gap && stalled > 1)) break;
      add_promising();
      if (newton_step()) {
        stalled = 0;
      } else {
        // The quadratic model promised nothing in double precision: EM, and give up in the end.
        if (++stalled > 20) break;
        for (int i = 0; i < 10; ++i) em_step();
        loglik_ = evaluate(mass_);
      }
    }
    Masses result;
    result.gap = gap;
    result.loglik = loglik_;
    result.steps = step;
    result.converged = result.gap <= accepted_gap;
    result.mass = std::move(mass_);
    return result;
  }

 private:
  // All sets where they are few; else the fewest that give every run some mass (greedy stabbing
  // of runs by their last sets), from which the rest are found by the gradient.
  void begin() {
    if (sets_ <= 48) {
      std::ranges::fill(mass_, 1.0);
    } else {
      std::vector<SetRun> by_last(runs_.begin(), runs_.end());
      std::ranges::sort(by_last, {}, &SetRun::last);
      std::size_t next_free = 0;  // sets before this one hold the last stab or come before it
      for (const SetRun& run : by_last) {
        if (run.first < next_free) continue;
        mass_[run.last] = 1;
        next_free = run.last + 1;
      }
    }
    for (std::size_t j = 0; j < sets_; ++j)
      if (mass_[j] > 0) support_.push_back(j);
    normalise();
  }

  void normalise() {
    double sum = 0;
    for (const double m : mass_) sum += m;
    for (double& m : mass_) m /= sum;
  }

  // Masses of the runs under `mass`; false where a run has none.
  bool weigh(const std::vector<double>& mass) {
    cumulative_[0] = 0;
    for (std::size_t j = 0; j < sets_; ++j) cumulative_[j + 1] = cumulative_[j] + mass[j];
    double least = HUGE_VAL;
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      run_mass_[i] = cumulative_[runs_[i].last + 1] - cumulative_[runs_[i].first];
      least = std::min(least, run_mass_[i]);
    }
    return least > 1e-300;
  }

  // The log likelihood too; -infinity where a run has no mass.
  double evaluate(const std::vector<double>& mass) {
    if (!weigh(mass)) return -HUGE_VAL;
    logs_.clear();
    for (std::size_t i = 0; i < runs_.size(); ++i) logs_.add(runs_[i].weight, run_mass_[i]);
    return logs_.sum();
  }

  // Gradient d_j = (1/W) sum over runs that hold set j of weight / mass of run, by the masses last
  // weighed; returns the gap.
  double look() {
    std::ranges::fill(gradient_, 0.0);
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      const double each = runs_[i].weight / (total_ * run_mass_[i]);
      gradient_[runs_[i].first] += each;
      gradient_[runs_[i].last + 1] -= each;
    }
    double sum = 0;
    double highest = 0;
    for (std::size_t j = 0; j < sets_; ++j) {
      sum += gradient_[j];
      gradient_[j] = sum;
      highest = std::max(highest, sum);
    }
    return highest - 1;
  }

  void em_step() {
    weigh(mass_);
    look();
    for (std::size_t j = 0; j < sets_; ++j) mass_[j] *= gradient_[j];
    normalise();
  }

  // The highest point of the gradient between any two sets of the support joins it with mass 0.
  void add_promising() {
    std::vector<std::size_t>& grown = grown_;
    grown.clear();
    std::size_t from = 0;
    for (std::size_t s = 0; s <= support_.size(); ++s) {
      const std::size_t to = s < support_.size() ? support_[s] : sets_;
      std::size_t best = to;
      double highest = 1 + aimed_gap;
      for (std::size_t j = from; j < to; ++j)
        if (gradient_[j] > highest) {
          highest = gradient_[j];
          best = j;
        }
      if (best != to) grown.push_back(best);
      if (to < sets_) grown.push_back(to);
      from = to + 1;
    }
    support_.swap(grown);
  }

  // Hessian of the mean negative log likelihood between the sets of the support:
  // h_jl = (1/W) sum of weight / mass^2 over the runs that hold both, by sums over a corner.
  void fill_hessian() {
    const std::size_t k = support_.size();
    hessian_.assign(k * k, 0.0);
    places_.resize(sets_ + 1);  // of each set: how many of the support lie before it
    for (std::size_t j = 0, s = 0; j <= sets_; ++j) {
      places_[j] = s;
      if (s < k && support_[s] == j) ++s;
    }
    for (std::size_t i = 0; i < runs_.size(); ++i) {
      const std::size_t a = places_[runs_[i].first], b = places_[runs_[i].last + 1];
      if (a >= b) continue;  // its mass lies in sets that rounding left outside the support
      const double each = runs_[i].weight / (total_ * run_mass_[i] * run_mass_[i]);
      hessian_[a * k + b - 1] += each;
    }
    // Row j, column l >= j: runs with first <= j and last >= l.
    for (std::size_t j = 0; j < k; ++j) {
      double* row = &hessian_[j * k];
      double sum = 0;
      for (std::size_t l = k; l-- > j;) row[l] = sum += row[l];
      if (j == 0) continue;
      const double* above = &hessian_[(j - 1) * k];
      for (std::size_t l = j; l < k; ++l) row[l] += above[l];
    }
  }

  // Solves h q = 2 d - 1 on the free sets by Cholesky; false where h is not positive definite.
  bool solve_free(double ridge) {
    const std::size_t k = support_.size();
    const std::size_t f = free_.size();
    factor_.resize(f * f);  // with the inverse of each diagonal entry in its place
    target_.resize(f);
    for (std::size_t a = 0; a < f; ++a) {
      target_[a] = 2 * gradient_[support_[free_[a]]] - 1;
      for (std::size_t b = 0; b <= a; ++b) {
        double sum = hessian_[free_[b] * k + free_[a]];
        if (a == b) sum *= 1 + ridge;
        for (std::size_t c = 0; c < b; ++c) sum -= factor_[a * f + c] * factor_[b * f + c];
        if (a == b) {
          if (!(sum > 0)) return false;
          factor_[a * f + a] = 1 / std::sqrt(sum);
        } else {
          factor_[a * f + b] = sum * factor_[b * f + b];
        }
      }
    }
    for (std::size_t a = 0; a < f; ++a) {
      for (std::size_t c = 0; c < a; ++c) target_[a] -= factor_[a * f + c] * target_[c];
      target_[a] *= factor_[a * f + a];
    }
    for (std::size_t a = f; a-- > 0;) {
      for (std::size_t c = a + 1; c < f; ++c) target_[a] -= factor_[c * f + a] * target_[c];
      target_[a] *= factor_[a * f + a];
    }
    return true;
  }

  // Minimises the quadratic model over masses >= 0 on the support: go towards the free minimum as
  // far as the first mass that reaches 0, drop it, and again. Leaves the end point in point_.
  bool constrained_minimum() {
    const std::size_t k = support_.size();
    point_.resize(k);
    free_.clear();
    for (std::size_t j = 0; j < k; ++j) {
      point_[j] = mass_[support_[j]];
      free_.push_back(j);
    }
    while (!free_.empty()) {
      double ridge = 1e-13;
      while (!solve_free(ridge)) {
        ridge *= 100;
        if (ridge > 1) return false;
      }
      double reach = 1;
      for (std::size_t a = 0; a < free_.size(); ++a)
        if (target_[a] < 0) {
          const double here = point_[free_[a]];
          reach = std::min(reach, here / (here - target_[a]));
        }
      std::size_t kept = 0;
      for (std::size_t a = 0; a < free_.size(); ++a) {
        double& here = point_[free_[a]];
        const bool falls = target_[a] < 0 && here / (here - target_[a]) <= reach;
        here = falls ? 0 : here + reach * (target_[a] - here);
        if (!falls) free_[kept++] = free_[a];
      }
      if (kept == free_.size()) return true;
      free_.resize(kept);
    }
    return false;
  }

  // One step; false where no better masses were found.
  bool newton_step() {
    fill_hessian();
    if (!constrained_minimum()) return false;
    const std::size_t k = support_.size();
    const double before = loglik_ / total_;
    double slope = 0;  // of the mean log likelihood less the sum of masses, which is 1 at a maximum
    for (std::size_t j = 0; j < k; ++j)
      slope += (gradient_[support_[j]] - 1) * (point_[j] - mass_[support_[j]]);
    if (!(slope > 0)) return false;
    for (double length = 1; length > 1e-10; length /= 2) {
      trial_ = mass_;
      double sum = 0;
      for (std::size_t j = 0; j < k; ++j) {
        double& m = trial_[support_[j]];
        m += length * (point_[j] - m);
        if (length == 1 && point_[j] == 0) m = 0;
        sum += m;
      }
      const double loglik = evaluate(trial_), after = loglik / total_ - sum + 1;
      if (!(after >= before + 1e-4 * length * slope - 1e-15)) continue;
      mass_.swap(trial_);
      // To a sum of 1, with all that follows from the masses.
      for (double& m : mass_) m /= sum;
      for (double& m : run_mass_) m /= sum;
      loglik_ = loglik - total_ * std::log(sum);
      std::erase_if(support_, [&](std::size_t j) { return mass_[j] == 0; });
      return true;
    }
    return false;
  }

  std::span<const SetRun> runs_;
  std::size_t sets_;
  double total_ = 0;
  double loglik_ = 0;
  std::vector<double> mass_, gradient_, cumulative_, run_mass_;
  std::vector<std::size_t> support_;  // sets that may have mass, in order
  std::vector<std::size_t> grown_, places_;
  LogSum logs_;
  std::vector<double> hessian_, factor_, target_, point_, trial_;
  std::vector<std::size_t> free_;
};

}  // namespace

Masses solve_masses(std::span<const SetRun> runs, std::size_t sets) {
  return Solver(runs, sets).solve();
}

}  // namespace plumule::stats
