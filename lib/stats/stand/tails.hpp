// The tails of a quantity whose distribution is a mixture over rho, weighed in two ways, and the
// end of the interval that is the wider one's.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "stats/numeric/distributions.hpp"
#include "stats/numeric/wide_normal.hpp"

namespace plumule::stats {

// The chance below a value and the density there, by either weighing.
struct TwoTails {
  double by_trial = 0, at_large = 0;
  double density_by_trial = 0, density_at_large = 0;

  double larger_below() const { return std::max(by_trial, at_large); }
  double larger_above() const { return 1 - std::min(by_trial, at_large); }
  // Of the tail, below or above, that is the larger one's.
  double density(bool above) const {
    return (by_trial >= at_large) != above ? density_by_trial : density_at_large;
  }
};

// Normal parts added up, four at a time: for loops marked PLUMULE_WIDE.
class TailSum {
 public:
  // Parts of that weight in either: (value - mean) / sd, and its change with the value.
  [[gnu::always_inline]] void add(const Four& by_trial, const Four& at_large, const Four& z,
                                  const Four& slope) {
    Four below, density;
    normal_at(z, below, density);
    density *= slope;
    by_trial_ += by_trial * below;
    at_large_ += at_large * below;
    density_by_trial_ += by_trial * density;
    density_at_large_ += at_large * density;
  }
  [[gnu::always_inline]] TwoTails whole() const {
    return {total(by_trial_), total(at_large_), total(density_by_trial_), total(density_at_large_)};
  }

 private:
  Four by_trial_ = {0, 0, 0, 0}, at_large_ = {0, 0, 0, 0}, density_by_trial_ = {0, 0, 0, 0},
       density_at_large_ = {0, 0, 0, 0};
};

// The value between `low` and `high` where the larger of both weighings' tails below it (`upper`:
// above it) is `wanted`; low or high itself where it lies beyond. tails(value) gives TwoTails.
// Newton's steps on the normal scale, on which such a tail is nearly straight, inside a shrinking
// bracket; to some 1e-9, which a last step of 1e-6 leaves.
template <class Tails>
double wider_end(Tails&& tails, bool upper, double wanted, double start, double low, double high) {
  const double aim = normal_quantile(wanted), turn = upper ? -1 : 1;
  const double lowest = low, highest = high;
  double value = std::clamp(start, low, high);
  for (int i = 0; i < 100; ++i) {
    const TwoTails here = tails(value);
    const double tail = upper ? here.larger_above() : here.larger_below();
    const double density = here.density(upper);
    const bool too_low = (tail < wanted) != upper;
    if (value == (too_low ? highest : lowest)) return value;
    (too_low ? low : high) = value;
    double next = too_low ? highest : lowest;  // where Newton's step has nothing to go by
    if (tail > 1e-300 && tail < 1 && density > 0) {
      const double z = normal_quantile(tail);
      next = value -
             turn * (z - aim) * std::exp(-z * z / 2) / (density * std::sqrt(2 * std::numbers::pi));
    }
    // At -1 or 1 itself the density may be beyond measure: a step of nothing then means nothing.
    const bool near = std::fabs(tail - wanted) < 1e-3 * wanted,
               short_step = std::fabs(next - value) < 1e-6;
    if ((near && short_step) || high - low < 1e-12) return std::clamp(next, low, high);
    if (short_step) next = (low + high) / 2;
    // An end of the bracket that was tried already is not tried again.
    if (next <= low) next = low == lowest ? low : (low + high) / 2;
    if (next >= high) next = high == highest ? high : (low + high) / 2;
    value = next;
  }
  return value;
}

}  // namespace plumule::stats
