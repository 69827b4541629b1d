// The log likelihood of the emergence model for counts between looks, with its gradient and
// Hessian in working parameters.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "stats/numeric/log_sum.hpp"
#include "stats/times/time_course.hpp"
#include "stats/times/time_distribution.hpp"
#include "stats/times/time_terms.hpp"

namespace plumule::stats {

// logit of the germinable fraction, and the two parameters of TimeKernel.
struct WorkingPoint {
  double a = 0;
  double u = 0;
  double v = 1;
};

// In the order a, u, v; the Hessian's upper half as aa, au, av, uu, uv, vv. loglik is -infinity
// (and the rest 0) where a count has no probability.
struct LikelihoodValue {
  double loglik = 0;
  std::array<double, 3> gradient{};
  std::array<double, 6> hessian{};
};

class GroupedLikelihood {
 public:
  // Spans as merged() gives them. `unit` > 0: time is counted in it (near the middle of the data,
  // for a well-conditioned problem). lag >= 0 is taken from all times.
  GroupedLikelihood(std::span<const Span> spans, double unit, double lag = 0);

  // whole: every unit germinable (a is then nothing, and its derivatives 0).
  LikelihoodValue value(TimeFamily family, const WorkingPoint& point, bool whole);

  // The same of some of the units alone, such as one sowing's, at the family and point of the last
  // value(). Their finite ends must be among those of the spans given at first.
  LikelihoodValue value_of(std::span<const Span> part, const WorkingPoint& point, bool whole) const;

  // F at time t (days) and its derivatives.
  TimeTerms terms_at(TimeFamily family, const WorkingPoint& point, double t) const;

  double unit() const { return unit_; }
  double lag() const { return lag_; }

 private:
  struct Cell {
    std::size_t left;   // index into terms_; 0 is before any emergence
    std::size_t right;  // the last is after every one
    double count;
    bool up;     // else censored at left, or never
    bool never;  // known never to come up
  };

  Cell cell_of(const Span& span) const;
  template <class Items, class ToCell>
  LikelihoodValue sum(const Items& items, ToCell&& to_cell, const WorkingPoint& point,
                      bool whole) const;

  double unit_;
  double lag_;
  std::vector<double> times_;      // distinct looks, days, rising
  std::vector<double> log_times_;  // log((t - lag) / unit) of each
  std::vector<TimeTerms> terms_;   // before any, one a look, after every
  std::vector<Cell> cells_;
  mutable LogSum logs_;
};

}  // namespace plumule::stats
