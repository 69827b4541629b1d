// Products of start, start + step, start + 2 step ... at twelve starts side by side: what the
// tray-aware likelihoods are made of.
#pragma once

#include <array>
#include <cstdint>
#include <span>

namespace plumule::stats {

inline constexpr std::size_t rising_lanes = 12;
using RisingLanes = std::array<double, rising_lanes>;

// Sowings that share a length of rising product, and their number.
struct RisingRun {
  std::int64_t length = 0;
  int times = 0;
};

// out[r][l] = product over j < runs[r].length of (start[l] + j step), all starts and the step >= 0,
// runs ascending by length; `out` has room for every run. Nothing is scaled: the caller keeps the
// products within range.
void rising_products(const RisingLanes& start, double step, std::span<const RisingRun> runs,
                     RisingLanes* out);

// total[l] *= (product of each run * its inverse)^times, where `inverse` has a value for every run.
void multiply_rising(const RisingLanes& start, double step, std::span<const RisingRun> runs,
                     const double* inverse, RisingLanes& total);

// Products at one start.
void rising_products(double start, double step, std::span<const RisingRun> runs, double* out);

}  // namespace plumule::stats
