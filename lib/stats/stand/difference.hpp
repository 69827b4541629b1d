// How the difference of two treatments is distributed by the model of the stand: contrast.hpp has
// the formulae.
#pragma once

#include <cstddef>
#include <vector>

#include "stats/numeric/wide.hpp"
#include "stats/stand/model.hpp"
#include "stats/stand/tails.hpp"

namespace plumule::stats {

class Difference {
 public:
  // Treatments that strata tie together.
  Difference(const StandModel& model, std::size_t first, std::size_t second);

  // P(D < d) and its density there by both weighings; -1 <= d <= 1. Each call starts from what the
  // last one found.
  TwoTails operator()(double d);

  // About where D lies, and how wide.
  double centre() const { return centre_; }
  double sd() const { return sd_; }

  // One rho and one c each, side by side: t is normal, and D rises along a_first = c + up t,
  // a_second = c - down t.
  struct alignas(sizeof(Four)) FourLines {
    Four by_trial = {0, 0, 0, 0}, at_large = {0, 0, 0, 0};     // weights
    Four t = {0, 0, 0, 0}, per_sd = {1, 1, 1, 1};              // mean of t, 1 / its sd
    Four c = {0.8, 0.8, 0.8, 0.8}, up = {0.5, 0.5, 0.5, 0.5};  // down = 1 - up
    // Where it was solved last, with dD/dt and half the second derivative there. D is 0 at t = 0.
    Four at = {0, 0, 0, 0}, slope = {1, 1, 1, 1}, half_bend = {0, 0, 0, 0};
  };

 private:
  std::vector<FourLines> lines_;
  double centre_ = 0, sd_ = 0, last_ = 0;
};

}  // namespace plumule::stats
