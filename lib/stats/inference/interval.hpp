// An interval with the name of its method and its level, so that no number travels without them.
#pragma once

#include <string_view>

namespace plumule::stats {

// Which ends of an interval are limits. `lower` is a one-sided interval with a lower limit only:
// its upper end is the natural end of the scale (1 for a fraction or a difference, infinity for a
// ratio); `upper` is its mirror image.
enum class Side { both, lower, upper };

// The names of the interval methods, as they are printed and promised.
namespace method {
inline constexpr std::string_view wilson = "wilson";
inline constexpr std::string_view clopper_pearson = "clopper-pearson";
inline constexpr std::string_view jeffreys = "jeffreys";
inline constexpr std::string_view tray_aware = "tray-aware";
inline constexpr std::string_view design_effect = "design-effect";
inline constexpr std::string_view newcombe = "newcombe";
inline constexpr std::string_view miettinen_nurminen = "miettinen-nurminen";
inline constexpr std::string_view mantel_haenszel = "mantel-haenszel";
inline constexpr std::string_view student_t = "student-t";
inline constexpr std::string_view welch_t = "welch-t";
inline constexpr std::string_view standardised = "standardised";  // the model of the stand
}  // namespace method

struct Interval {
  std::string_view method;  // points at a constant of namespace method
  double level = 0.95;      // probability of coverage aimed at, in (0, 1)
  double lower = 0;         // may be -infinity: no lower bound can be given
  double upper = 1;         // may be +infinity: no upper bound can be given
  Side side = Side::both;   // which ends are limits
  bool correction = false;  // a continuity correction was used

  int sides() const { return side == Side::both ? 2 : 1; }
};

// The probability left out beyond each limit: (1 - level) / 2 of a two-sided interval, 1 - level
// of a one-sided one. Throws std::domain_error unless level lies in (0, 1).
double tail_probability(double level, Side side);

// The standard normal deviate with that upper tail (1.96 at 95 %, two-sided). Throws likewise.
double normal_deviate(double level, Side side);

}  // namespace plumule::stats
