#include "peers_simulation.hpp"

#include <array>
#include <cmath>

#include "peers_steps.hpp"
#include "stats/proportions/fisher.hpp"
#include "stats/proportions/two_proportions.hpp"

namespace plumule::peers {
namespace {

constexpr int last_day = 16;
constexpr std::size_t looks = 14;
constexpr double rho = 0.03;
constexpr double shape = 6;

using Days = std::array<double, looks>;

// All of 1 to 16 but two of the first 15.
Days draw_days(stats::Random& random) {
  const auto one = static_cast<int>(1 + random.below(15));
  auto other = static_cast<int>(1 + random.below(14));
  if (other >= one) ++other;
  Days days{};
  std::size_t i = 0;
  for (int day = 1; day <= last_day; ++day)
    if (day != one && day != other) days[i++] = day;
  return days;
}

struct Drawn {
  int up = 0;
  int sown = 0;
  std::vector<stats::Span> spans;
};

// Four trays pooled; up_by: the share of the germinable up by each look.
void draw_arm(stats::Random& random, const Days& days, const Days& up_by, double p, Drawn& drawn) {
  std::array<int, looks> fresh{};
  drawn.up = drawn.sown = 0;
  for (int tray = 0; tray < 4; ++tray) {
    const auto seeds = static_cast<int>(10 + random.below(91));
    const double share = random.beta(p * (1 - rho) / rho, (1 - p) * (1 - rho) / rho);
    drawn.sown += seeds;
    for (int seed = 0; seed < seeds; ++seed) {
      const double u = random.unit();
      if (u >= share) continue;
      std::size_t look = 0;
      while (look < looks && u >= share * up_by[look]) ++look;
      if (look < looks) ++fresh[look];
    }
  }
  drawn.spans.clear();
  double before = 0;
  for (std::size_t i = 0; i < looks; ++i) {
    if (fresh[i] > 0) drawn.spans.push_back({before, days[i], static_cast<double>(fresh[i])});
    drawn.up += fresh[i];
    before = days[i];
  }
  if (drawn.up < drawn.sown)
    drawn.spans.push_back({before, stats::no_end, static_cast<double>(drawn.sown - drawn.up)});
}

}  // namespace

Simulated simulate(int trials, stats::Random random) {
  constexpr double z = 1.959963984540054;
  Simulated sum;
  std::array<Drawn, 2> drawn;
  for (int i = 0; i < trials; ++i) {
    const Days days = draw_days(random);
    std::array<double, 2> truth{};
    for (std::size_t arm = 0; arm < 2; ++arm) {
      const double more = arm == 0 ? 0 : 0.4;
      const double log_median = std::log(6.0) - (arm == 0 ? 0 : 0.15);
      const double p = 1 / (1 + std::exp(-more) / 3);
      Days up_by{};
      for (std::size_t k = 0; k < looks; ++k)
        up_by[k] = 1 / (1 + std::exp(-shape * (std::log(days[k]) - log_median)));
      truth[arm] = p * up_by.back();
      draw_arm(random, days, up_by, p, drawn[arm]);
      const Fit found = fit(drawn[arm].spans);
      if (std::fabs(found.log_median - log_median) < z * found.se_log_median) sum.covered += 1;
    }
    const stats::TwoByTwo table(drawn[1].up, drawn[1].sown, drawn[0].up, drawn[0].sown);
    if (stats::fisher(table) < 0.05) sum.rejected += 1;
    const auto interval = stats::newcombe_difference(table);
    const double difference = truth[1] - truth[0];
    if (interval.lower <= difference && difference <= interval.upper) sum.newcombe_covered += 1;
  }
  return {sum.rejected / trials, sum.covered / (2 * trials), sum.newcombe_covered / trials};
}

}  // namespace plumule::peers
