// The steps that both sides do: one trial's figures by the methods that R has too.
#pragma once

#include <array>
#include <span>

#include "peers_trials.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/times/emergence_indices.hpp"
#include "stats/times/emergence_solver.hpp"
#include "stats/times/npmle.hpp"

namespace plumule::peers {

// A log-logistic fit as R's optim gives it: no more than estimates and their standard errors.
struct Fit {
  bool converged = false;
  bool whole = false;  // fraction 1: logit and its error mean nothing
  double loglik = 0;
  double logit = 0, log_median = 0, log_spread = 0;
  double se_logit = 0, se_log_median = 0, se_log_spread = 0;
};
Fit fit(std::span<const stats::Span> pooled);

struct ArmFigures {
  stats::Interval wilson, exact;
  stats::EmergenceIndices indices;
  stats::Npmle npmle;
  Fit fit;
};

struct Figures {
  std::array<ArmFigures, 2> arms;
  stats::Interval newcombe;  // soaked less dry
  double fisher = 1;
};
Figures figures(std::span<const stats::TimeCourse> dry, std::span<const stats::TimeCourse> soaked);

}  // namespace plumule::peers
