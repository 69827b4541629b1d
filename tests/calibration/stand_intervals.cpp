// Coverage of the intervals of one percentage: by adding up every possible outcome where there are
// few enough, else by drawing.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <vector>

#include "parts.hpp"
#include "stats/numeric/random.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/trays/design_effect.hpp"
#include "stats/trays/rho_nodes.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr int first_p = 1, last_p = 99;  // hundredths

struct Ends {
  double lower = 0, upper = 1;
  bool holds(double p) const { return lower <= p && p <= upper; }
};

// One way the trays can come out (up in each, rising), how many orders it has, and its intervals.
struct Outcome {
  std::vector<int> up;
  double orders = 1;
  std::array<Ends, 4> ends;  // tray-aware, design effect, Wilson, Jeffreys
};

std::array<Ends, 4> intervals(const std::vector<int>& up, int n, const RhoPrior& prior,
                              bool others) {
  std::vector<TrayCount> trays;
  std::vector<Tally> tallies;
  int total = 0;
  for (const int x : up) {
    trays.push_back({x, n});
    tallies.emplace_back(x, n);
    total += x;
  }
  const auto ends = [](const Interval& i) { return Ends{i.lower, i.upper}; };
  std::array<Ends, 4> made{ends(tray_aware_interval(trays, prior))};
  if (!others) return made;
  if (const auto effect = design_effect(tallies)) made[1] = ends(effect->interval);
  const Tally pooled(total, static_cast<int>(up.size()) * n);
  made[2] = ends(wilson(pooled));
  made[3] = ends(jeffreys(pooled));
  return made;
}

std::vector<Outcome> every_outcome(int k, int n, const RhoPrior& prior) {
  std::vector<Outcome> made;
  std::vector<int> up;
  const std::function<void(int)> fill = [&](int least) {
    if (static_cast<int>(up.size()) == k) {
      Outcome o{up, std::tgamma(k + 1.0), intervals(up, n, prior, true)};
      for (std::size_t i = 0; i < up.size();) {
        const auto same = static_cast<std::size_t>(std::count(up.begin(), up.end(), up[i]));
        o.orders /= std::tgamma(static_cast<double>(same) + 1);
        i += same;
      }
      made.push_back(std::move(o));
      return;
    }
    for (int x = least; x <= n; ++x) {
      up.push_back(x);
      fill(x);
      up.pop_back();
    }
  };
  fill(0);
  return made;
}

// Chances of 0 .. n up in one tray at p and rho.
std::vector<double> tray_chances(int n, double p, double theta) {
  std::vector<double> log_choose(static_cast<std::size_t>(n) + 1), chance;
  for (int x = 0; x <= n; ++x) {
    double log_l = std::lgamma(n + 1.0) - std::lgamma(x + 1.0) - std::lgamma(n - x + 1.0);
    for (int j = 0; j < x; ++j) log_l += std::log(p + j * theta);
    for (int j = 0; j < n - x; ++j) log_l += std::log(1 - p + j * theta);
    for (int j = 0; j < n; ++j) log_l -= std::log1p(j * theta);
    chance.push_back(std::exp(log_l));
  }
  return chance;
}

// Coverage by p in hundredths, of each method; and mean widths over p in [0.1, 0.97].
struct Coverage {
  std::array<std::array<double, 100>, 4> at{};
  std::array<double, 4> width{};
};

// Calls add(outcome, its chance at p with rho from the nodes).
template <class Add>
void each_chance(const std::vector<Outcome>& outcomes, int n, const std::vector<RhoNode>& nodes,
                 double p, Add add) {
  double mass = 0;
  for (const auto& node : nodes) mass += std::exp(node.log_weight);
  std::vector<double> chance(outcomes.size(), 0.0);
  for (const auto& node : nodes) {
    const double weight = std::exp(node.log_weight) / mass;
    if (weight < 1e-7) continue;
    const auto one = tray_chances(n, p, node.theta);
    for (std::size_t o = 0; o < outcomes.size(); ++o) {
      double product = weight * outcomes[o].orders;
      for (const int x : outcomes[o].up) product *= one[static_cast<std::size_t>(x)];
      chance[o] += product;
    }
  }
  for (std::size_t o = 0; o < outcomes.size(); ++o) add(outcomes[o], chance[o]);
}

Coverage exact_coverage(const std::vector<Outcome>& outcomes, int n,
                        const std::vector<RhoNode>& nodes) {
  Coverage made;
  for (int c = first_p; c <= last_p; ++c) {
    const double p = c / 100.0;
    each_chance(outcomes, n, nodes, p, [&](const Outcome& outcome, double chance) {
      for (std::size_t m = 0; m < 4; ++m) {
        const auto& ends = outcome.ends[m];
        if (ends.holds(p)) made.at[m][static_cast<std::size_t>(c)] += chance;
        if (c >= 10 && c <= 97) made.width[m] += chance * (ends.upper - ends.lower) / 88;
      }
    });
  }
  return made;
}

struct Summary {
  double average = 0, lowest = 1;
  int at = 0;  // of the lowest, in hundredths
};

Summary summary(const std::array<double, 100>& at, int from, int to, int step) {
  Summary made;
  int cells = 0;
  for (int c = from; c <= to; c += step, ++cells) {
    made.average += at[static_cast<std::size_t>(c)];
    if (at[static_cast<std::size_t>(c)] < made.lowest) made.at = c;
    made.lowest = std::min(made.lowest, at[static_cast<std::size_t>(c)]);
  }
  made.average /= cells;
  return made;
}

std::string pair(const Summary& s) {
  return Report::percent(s.average) + " / " + Report::percent(s.lowest);
}

void exact_cell(Report& report, int k, int n, double b, const Effort& effort) {
  const auto prior = rho_from_beta(b);
  const auto outcomes = every_outcome(k, n, prior);
  const auto nodes = make_rho_nodes(prior, whole_rho_range(prior, n), effort.full ? 0.6 : 1.0);
  const auto drawn = exact_coverage(outcomes, n, nodes);
  const auto inside = summary(drawn.at[0], 10, 97, 1);
  std::vector<std::string> cells{Report::number(0, b),
                                 std::to_string(k),
                                 std::to_string(n),
                                 pair(inside),
                                 Report::percent(summary(drawn.at[0], 98, 99, 1).lowest),
                                 Report::number(3, drawn.width[0])};
  for (const double rho : {0.0, 0.02, 0.05, 0.1}) {
    const RhoNode fixed{0, rho, rho / (1 - rho), 0};
    const auto at = exact_coverage(outcomes, n, {fixed});
    cells.push_back(pair(summary(at.at[0], 10, 97, 1)));
    if (rho == 0.05)
      for (const std::size_t m : {1u, 2u, 3u})
        cells.push_back(m == 1 && k < 2 ? "none" : pair(summary(at.at[m], 10, 97, 1)));
  }
  report.row(cells);
  const std::string name = "tray-aware, B " + cells[0] + ", " + cells[1] + " x " + cells[2];
  report.bar(name + ", averaged over p", inside.average, 0.94, 0.965);
  const double bar = k * n <= 40 ? 0.88 : 0.90;
  std::string reason;
  double lowest = inside.lowest;
  if (lowest < bar) {  // once more with twice the nodes of rho
    const auto finer = make_rho_nodes(prior, whole_rho_range(prior, n), 0.3);
    const auto covered = [&](double p) {
      double sum = 0;
      each_chance(outcomes, n, finer, p, [&](const Outcome& outcome, double chance) {
        sum += outcome.ends[0].holds(p) ? chance : 0;
      });
      return sum;
    };
    const double p = inside.at / 100.0;
    lowest = covered(p);
    reason = why_low({k, n, b, p, bar, lowest, covered(outcomes.back().ends[0].lower)});
  }
  report.exact_bar(name + ", lowest single p", lowest, bar, 1, reason);
}

void drawn_cell(Report& report, const Effort& effort, int k, int n, double b, int trials) {
  const auto prior = rho_from_beta(b);
  std::map<std::vector<int>, Ends> known;
  double average = 0, lowest = 1, width = 0;
  constexpr int cells = 88;
  for (int c = 10; c <= 97; ++c) {
    const double p = c / 100.0;
    stats::Random random(static_cast<std::uint64_t>(100'000 * k + 100 * n + c));
    Rate held;
    for (int t = 0; t < trials; ++t) {
      const double rho = random.beta(1, b);
      std::vector<int> up;
      for (int i = 0; i < k; ++i) up.push_back(static_cast<int>(random.beta_binomial(n, p, rho)));
      std::sort(up.begin(), up.end());
      auto [found, fresh] = known.try_emplace(up);
      if (fresh) found->second = intervals(up, n, prior, false)[0];
      held.see(found->second.holds(p));
      width += (found->second.upper - found->second.lower) / trials / cells;
    }
    average += held.share() / cells;
    lowest = std::min(lowest, held.share());
  }
  report.row({Report::number(0, b), std::to_string(k), std::to_string(n),
              pair({average, lowest, 0}), "", Report::number(3, width), "", "", "", "", "", "",
              "drawn, " + std::to_string(trials) + " a p"});
  const std::string name = "tray-aware, B " + Report::number(0, b) + ", " + std::to_string(k) +
                           " x " + std::to_string(n);
  const double room = effort.room(0.95, static_cast<double>(trials) * cells);
  report.bar(name + ", averaged over p", average, 0.94 - room, 0.965 + room);
  report.bar(name + ", lowest single p", lowest, 0.90 - effort.room(0.90, trials), 1);
}

}  // namespace

void stand_intervals(Report& report, const Effort& effort) {
  report.heading("One percentage: 95 % intervals");
  report.say("Average / lowest coverage over p from 0.10 to 0.97 (step 0.01), rho");
  report.say(
      "from its prior Beta(1, B), by adding up every outcome; then at fixed rho, and, at rho");
  report.say(
      "0.05, of the design-effect interval and of two that take seeds as independent. p outside");
  report.say("that range and fixed rho are printed, not barred.");
  report.head({"B", "k", "n", "tray-aware", "lowest at p 0.98, 0.99", "mean width", "rho 0",
               "rho 0.02", "rho 0.05", "design-effect, rho 0.05", "wilson, rho 0.05",
               "jeffreys, rho 0.05", "rho 0.1"});
  if (!effort.full) {
    for (const int n : {10, 20})
      for (const int k : {1, 2}) exact_cell(report, k, n, 24, effort);
    exact_cell(report, 3, 10, 49, effort);
    return;
  }
  for (const double b : {49.0, 24.0, 14.0})
    for (const int k : {1, 2, 3, 4, 6})
      for (const int n : {10, 25, 50, 100}) {
        const double outcomes =
            std::exp(std::lgamma(n + k + 1.0) - std::lgamma(n + 1.0) - std::lgamma(k + 1.0));
        if (outcomes <= 25000)
          exact_cell(report, k, n, b, effort);
        else
          drawn_cell(report, effort, k, n, b, b == 24 ? 1500 : 500);
      }
}

}  // namespace plumule::calibration
