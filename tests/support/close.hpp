// Comparing numbers to a stated tolerance. doctest's own Approx is too wide for statistics (1.2e-5,
// and absolute near zero), so every check here says how close is close.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <string>

namespace plumule::tests {

// Relative to the expected value; near an expected zero, absolute at the same figure.
inline bool close(double got, double expected, double tolerance) {
  if (std::isnan(got) || std::isnan(expected)) return false;
  if (got == expected) return true;
  const double scale = expected == 0 ? 1 : std::fabs(expected);
  return std::fabs(got - expected) <= tolerance * scale;
}

// Absolute: for published figures printed to so many decimals (half a unit of the last digit).
inline bool within(double got, double expected, double distance) {
  return std::fabs(got - expected) <= distance;
}

}  // namespace plumule::tests

#define CHECK_CLOSE(got, expected, tolerance)                                                  \
  do {                                                                                         \
    const double got_ = (got), expected_ = (expected);                                         \
    CHECK_MESSAGE(plumule::tests::close(got_, expected_, tolerance), #got " is ",              \
                  std::to_string(got_), ", expected ", std::to_string(expected_), ", off by ", \
                  std::to_string(std::fabs(got_ - expected_) * 1e12), "e-12");                 \
  } while (false)

#define CHECK_WITHIN(got, expected, distance)                                      \
  do {                                                                             \
    const double got_ = (got), expected_ = (expected);                             \
    CHECK_MESSAGE(plumule::tests::within(got_, expected_, distance), #got " is ",  \
                  std::to_string(got_), ", expected ", std::to_string(expected_)); \
  } while (false)
