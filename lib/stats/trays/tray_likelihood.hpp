// The beta-binomial likelihood of a set of sowings, fast over many p at one rho.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "stats/numeric/rising_products.hpp"
#include "stats/trays/rho_nodes.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// Throws std::domain_error, naming the sowing by its place, for a count that cannot be.
void check_trays(std::span<const TrayCount> trays);

// L(p, theta) = product over sowings of prod_{j<x}(p + j theta) prod_{j<n-x}(q + j theta) /
// prod_{j<n}(1 + j theta), theta = rho / (1 - rho), q = 1 - p: the beta-binomial without its
// coefficients. No sowings: 1 everywhere.
class TrayLikelihood {
 public:
  explicit TrayLikelihood(std::span<const TrayCount> trays);

  std::int64_t largest() const { return largest_; }  // seeds of the largest sowing, 0 if none
  std::int64_t up() const { return up_; }
  std::int64_t sown() const { return sown_; }
  bool all_zero() const { return sown_ > 0 && up_ == 0; }
  bool all_full() const { return sown_ > 0 && up_ == sown_; }

  // sum of n / (1 + (n - 1) rho): the seeds this is worth; and the fraction up with those weights.
  double effective_seeds(double rho) const;
  double weighted_fraction(double rho) const;

  // p that makes L largest at this rho: near enough to scale by. The weighted fraction, but
  // searched for where sowings are so large that a wide rho makes the two part company.
  double likely_fraction(double rho) const;

  // log L at one point, by log Gamma differences written so that nothing cancels, n to 1e9.
  double log_at(double p, double q, double theta) const;

  // Values of theta made ready: log L at a reference p0, and the constants of the products.
  struct Prepared {
    double theta = 0;
    double p0 = 0.5;
    double log_reference = 0;
    bool by_products = false;
    double scale_up = 1, scale_down = 1;  // keep the running products near 1
    std::size_t first_inverse = 0;
  };
  struct Ready {
    std::vector<Prepared> at;
    std::vector<double> inverse;  // of the products at p0: a value for each run, ups first
  };
  void prepare(double theta, double p0, Ready& ready) const;  // adds one to those that are ready

  // out[i] = L(p[i]) / L(p0) for p.size() points, theta and p0 being those of ready.at[which];
  // q = 1 - p is passed for its digits near p = 1.
  void relative(const Ready& ready, std::size_t which, std::span<const double> p,
                std::span<const double> q, std::span<double> out) const;

 private:
  struct Group {
    double up = 0, sown = 0, times = 0;
  };
  std::vector<Group> groups_;
  std::vector<RisingRun> up_runs_, down_runs_, sown_runs_;
  std::int64_t largest_ = 0, up_ = 0, sown_ = 0;
};

}  // namespace plumule::stats
