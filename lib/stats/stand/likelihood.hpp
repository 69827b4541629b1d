// The beta-binomial likelihood of all the cells of a layout together, each at a fraction of its
// own.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "stats/numeric/rising_products.hpp"
#include "stats/stand/layout.hpp"
#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {

// Keeps a reference to the layout, which must outlive it.
class StandLikelihood {
 public:
  explicit StandLikelihood(const StandLayout& layout);

  // log of the product over cells of TrayLikelihood's L, with fraction[c] up and missing[c] = 1 -
  // fraction[c] not, both above 0; theta = rho / (1 - rho) >= 0.
  double log_at(std::span<const double> fraction, std::span<const double> missing, double theta);

 private:
  // Of a unit L = r(p, x) r(q, n - x) / r(1, n), r(a, k) = a (a + theta) .. (a + (k - 1) theta):
  // one rising product for each start a, which are 1 and of each cell its p and q. Twelve starts
  // are multiplied at once: of each twelve the lengths k that are asked for, and which start and
  // length each unit asks for.
  struct Factor {
    std::size_t lane = 0, run = 0;
  };
  struct Twelve {
    std::vector<RisingRun> runs;
    std::vector<Factor> factors;
  };
  bool by_products(std::span<const double> fraction, std::span<const double> missing, double theta,
                   double& sum);

  const StandLayout& layout_;
  std::int64_t largest_ = 0;
  std::vector<Twelve> twelves_;
  std::vector<RisingLanes> products_;
  std::vector<TrayLikelihood> one_by_one_;  // of each cell, made when first needed
};

}  // namespace plumule::stats
