#include "stats/times/npmle.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "stats/times/mass_solver.hpp"

namespace plumule::stats {
namespace {

// A never-emerger (both ends infinite) begins after every look and ends where censored units do.
constexpr double after_all = std::numeric_limits<double>::max();
double begin_of(const Span& s) { return std::min(s.left, after_all); }

// Where mass can lie: from a left end to the next right end with no other end between; at a tie
// a right end comes first, for (1, 2] and (2, 3] share nothing. Spans sorted by their left ends.
std::vector<MassPoint> turnbull_sets(std::span<const Span> spans) {
  std::vector<double> rights;
  rights.reserve(spans.size());
  for (const Span& s : spans) rights.push_back(s.right);
  if (!std::ranges::is_sorted(rights)) std::ranges::sort(rights);
  std::vector<MassPoint> sets;
  sets.reserve(spans.size());
  std::size_t next = 0;  // the first left end not passed
  for (const double right : rights) {
    double left = -1;
    for (; next < spans.size() && begin_of(spans[next]) < right; ++next)
      left = begin_of(spans[next]);
    if (left >= 0) sets.push_back({left, right, 0});
  }
  return sets;
}

std::vector<SetRun> runs_over(const std::vector<MassPoint>& sets, std::span<const Span> spans) {
  std::vector<SetRun> runs;
  runs.reserve(spans.size());
  for (const Span& s : spans) {
    const auto first = std::ranges::lower_bound(sets, begin_of(s), {}, &MassPoint::left);
    const auto end = std::ranges::upper_bound(sets, s.right, {}, &MassPoint::right);
    runs.push_back({static_cast<std::size_t>(first - sets.begin()),
                    static_cast<std::size_t>(end - sets.begin()) - 1, s.count});
  }
  return runs;
}

// Units censored at a look share the last set with those known never to come up, and may yet come.
void settle_last_left(std::vector<MassPoint>& sets, std::span<const Span> spans) {
  if (sets.empty() || sets.back().left != after_all) return;
  double left = -1;
  for (const Span& s : spans)
    if (s.right == no_end && s.left < no_end) left = std::max(left, s.left);
  sets.back().left = left < 0 ? no_end : left;
}

std::optional<MassPoint> reached(const Npmle& estimate, double mass) {
  double sum = 0;
  for (const MassPoint& point : estimate.points) {
    sum += point.mass;
    if (sum >= mass - 1e-9) {
      if (point.right == no_end) return std::nullopt;
      return point;
    }
  }
  return std::nullopt;
}

void check_share(double p) {
  if (!(p > 0 && p < 1)) throw std::domain_error("a share of the units must lie between 0 and 1");
}

}  // namespace

Npmle npmle(std::span<const Span> given) {
  const std::vector<Span> spans = merged({given.begin(), given.end()});
  Npmle estimate;
  if (spans.empty()) return estimate;
  std::vector<MassPoint> sets = turnbull_sets(spans);
  const std::vector<SetRun> runs = runs_over(sets, spans);
  for (const SetRun& run : runs) estimate.units += run.weight;

  estimate.closed_form =
      std::ranges::all_of(runs, [](const SetRun& run) { return run.first == run.last; });
  if (estimate.closed_form) {
    for (const SetRun& run : runs) sets[run.first].mass += run.weight / estimate.units;
    for (const SetRun& run : runs) estimate.loglik += run.weight * std::log(sets[run.first].mass);
    estimate.status = NpmleStatus::fitted;
  } else {
    const Masses solved = solve_masses(runs, sets.size());
    for (std::size_t j = 0; j < sets.size(); ++j) sets[j].mass = solved.mass[j];
    estimate.loglik = solved.loglik;
    estimate.kkt_gap = std::max(0.0, solved.gap);
    estimate.status = solved.converged ? NpmleStatus::fitted : NpmleStatus::not_converged;
  }
  settle_last_left(sets, spans);
  std::erase_if(sets, [](const MassPoint& set) { return set.mass < 1e-12; });
  for (const MassPoint& set : sets)
    if (set.right < no_end) estimate.emerged_mass += set.mass;
  estimate.points = std::move(sets);
  return estimate;
}

Between fraction_up_by(const Npmle& estimate, double day) {
  if (!(day >= 0)) throw std::domain_error("a day after sowing must be 0 or later");
  if (estimate.status == NpmleStatus::no_data)
    throw std::domain_error("no units, so no fraction of them");
  Between up;
  for (const MassPoint& point : estimate.points) {
    if (point.right <= day && point.right < no_end) up.lower += point.mass;
    if (point.left < day) up.upper += point.mass;
  }
  return {std::min(up.lower, 1.0), std::min(up.upper, 1.0)};
}

std::optional<MassPoint> time_of_sown(const Npmle& estimate, double p) {
  check_share(p);
  return reached(estimate, p);
}

std::optional<MassPoint> time_of_emerged(const Npmle& estimate, double p) {
  check_share(p);
  if (!(estimate.emerged_mass > 0)) return std::nullopt;
  return reached(estimate, p * estimate.emerged_mass);
}

std::optional<Between> mean_days(const Npmle& estimate) {
  if (!(estimate.emerged_mass > 0)) return std::nullopt;
  Between mean;
  for (const MassPoint& point : estimate.points) {
    if (point.right == no_end) continue;
    mean.lower += point.mass / estimate.emerged_mass * point.left;
    mean.upper += point.mass / estimate.emerged_mass * point.right;
  }
  return mean;
}

}  // namespace plumule::stats
