// See the header for the rule and its reason.
#include "stats/times/look_gaps.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <vector>

namespace plumule::stats {
namespace {

constexpr double share_that_counts = 0.1, least_gap = 1.5, irregular = 1.5, coarse = 2;

// What came up in each gap of a treatment's sowings together.
using Gaps = std::map<std::pair<double, double>, double>;

Gaps gaps_of(std::span<const TimeCourse> courses) {
  Gaps gaps;
  for (const TimeCourse& course : courses) {
    check(course);
    Look before;
    for (const Look& look : course.looks) {
      if (look.total > before.total) gaps[{before.time, look.time}] += look.total - before.total;
      before = look;
    }
  }
  return gaps;
}

struct Ends {
  double up = 0, left = 0, right = 0;  // mean left and right ends
};

Ends ends_of(const Gaps& gaps) {
  Ends ends;
  for (const auto& [gap, count] : gaps) {
    ends.up += count;
    ends.left += count * gap.first;
    ends.right += count * gap.second;
  }
  if (ends.up > 0) {
    ends.left /= ends.up;
    ends.right /= ends.up;
  }
  return ends;
}

}  // namespace

LookGaps look_gaps(std::span<const TimeCourse> treatment, std::span<const TimeCourse> against) {
  LookGaps result;
  double squares = 0, all = 0;
  for (const auto& courses : {treatment, against}) {
    const Gaps gaps = gaps_of(courses);
    const Ends ends = ends_of(gaps);
    all += ends.up;
    for (const auto& [gap, count] : gaps) {
      const double off = (gap.first + gap.second - ends.left - ends.right) / 2;
      squares += count * off * off;
      if (count < share_that_counts * ends.up) continue;
      const double length = gap.second - gap.first;
      result.shortest = result.longest > 0 ? std::min(result.shortest, length) : length;
      result.longest = std::max(result.longest, length);
      double& kind = gap.first > 0 ? result.longest_after : result.first_found;
      kind = std::max(kind, length);
    }
  }
  if (!(all > 0)) return result;
  result.spread = std::sqrt(squares / all);
  const bool differ =
      result.longest >= irregular * result.shortest && result.longest >= result.spread;
  result.uneven =
      result.longest >= least_gap && (differ || result.longest >= coarse * result.spread);
  return result;
}

bool GapAllowance::sooner() const {
  return (ratio_upper95 && *ratio_upper95 < 1) || (latest && *latest < 0);
}

bool GapAllowance::later() const {
  return (ratio_lower95 && *ratio_lower95 > 1) || (earliest && *earliest > 0);
}

bool GapAllowance::within(double days) const {
  return lower90 && upper90 && *lower90 >= -days && *upper90 <= days;
}

GapAllowance allow_for_gaps(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against, const TreatmentsModel& model,
                            double level) {
  GapAllowance result;
  const Ends first = ends_of(gaps_of(treatment)), second = ends_of(gaps_of(against));
  if (!(first.up > 0 && second.up > 0)) return result;
  result.earliest = first.left - second.right;
  result.latest = first.right - second.left;
  if (model.status != ModelStatus::fitted) return result;
  result.ratio = time_ratio(model, 0, 1, level);
  const auto claim = time_ratio(model, 0, 1, 0.95), narrow = time_ratio(model, 0, 1, 0.90);
  result.ratio_lower95 = claim->lower;
  result.ratio_upper95 = claim->upper;
  if (!narrow->lower || !narrow->upper) return result;
  const double t50 = model.treatments[1].t50.estimate;
  result.lower90 = (*narrow->lower - 1) * t50;
  result.upper90 = (*narrow->upper - 1) * t50;
  return result;
}

GapAllowance allow_for_gaps(std::span<const TimeCourse> treatment,
                            std::span<const TimeCourse> against) {
  if (treatment.empty() || against.empty()) return {};
  const std::array<std::vector<TimeCourse>, 2> both = {
      std::vector<TimeCourse>(treatment.begin(), treatment.end()),
      std::vector<TimeCourse>(against.begin(), against.end())};
  return allow_for_gaps(treatment, against, fit_likeliest_treatments(both));
}

}  // namespace plumule::stats
