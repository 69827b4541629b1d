// One lot tested batch after batch: does the interval ever exclude the truth?
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/trays/batch_sequence.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Ever {
  double deflated = 0, seeds = 0, width = 0;
};

Ever cell(int n, double p, double rho, int trials, std::uint64_t seed) {
  Random random(seed);
  const auto prior = rho_from_beta(24);
  Ever made;
  for (int t = 0; t < trials; ++t) {
    const auto batches = draw_stand(random, 8, n, p, rho);
    bool out = false, seeds_out = false;
    std::int64_t up = 0, sown = 0;
    for (std::size_t k = 1; k <= batches.size(); ++k) {
      const auto ends = batch_sequence({batches.data(), k}, prior);
      out = out || p < ends.lower || p > ends.upper;
      up += batches[k - 1].up;
      sown += batches[k - 1].sown;
      const auto raw = mixture_sequence(up, sown, 0.5, 0.5, 0.05);
      seeds_out = seeds_out || p < raw.lower || p > raw.upper;
      if (k == batches.size()) made.width += (ends.upper - ends.lower) / trials;
    }
    made.deflated += out ? 1.0 / trials : 0;
    made.seeds += seeds_out ? 1.0 / trials : 0;
  }
  return made;
}

}  // namespace

void batches(Report& report, const Effort& effort) {
  report.heading("One lot in eight batches: the 95 % sequence ever excludes the truth");
  report.say(
      "Highest over p 0.5, 0.8, 0.95; prior Beta(1, 24), whose 90 % point is 0.091. The second");
  report.say("column is the sequence that takes seeds as independent, for comparison.");
  report.head({"n", "rho", "deflated", "seed-level", "width after eight"});
  const int trials = effort.of(300, 5300);
  std::uint64_t seed = 900;
  for (const int n : effort.full ? std::vector{10, 25, 50} : std::vector{25})
    for (const double rho : {0.0, 0.05, 0.1}) {
      Ever worst;
      for (const double p : {0.5, 0.8, 0.95}) {
        const auto here = cell(n, p, rho, trials, ++seed);
        worst.deflated = std::max(worst.deflated, here.deflated);
        worst.seeds = std::max(worst.seeds, here.seeds);
        worst.width = std::max(worst.width, here.width);
      }
      report.row({std::to_string(n), Report::number(2, rho), Report::percent(worst.deflated),
                  Report::percent(worst.seeds), Report::number(3, worst.width)});
      const std::string where = ", n " + std::to_string(n) + ", rho " + Report::number(2, rho);
      if (rho <= 0.05)
        report.bar("batches, deflated" + where, worst.deflated, 0,
                   0.05 + effort.room(0.05, trials));
      if (rho == 0)
        report.bar("batches, seed-level" + where, worst.seeds, 0, 0.05 + effort.room(0.05, trials));
    }
}

}  // namespace plumule::calibration
