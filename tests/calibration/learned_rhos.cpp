// Intervals whose prior of rho was learned from a grower's own replicated sowings: do they cover,
// and are they narrower or wider than by the published one?
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/trays/learned_rho.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr double published = 24;  // trays

double drawn_p(Random& random) { return 0.1 + 0.87 * random.unit(); }

// `groups` of four trays of 25, each group with a p and a rho of its own.
double learned(Random& random, int groups, double b) {
  LearnedRho own;
  for (int i = 0; i < groups; ++i)
    own.add(draw_stand(random, 4, 25, drawn_p(random), random.beta(1, b)));
  return own.b(published).value_or(published);
}

struct Seen {
  Rate own, published;
  double own_width = 0, published_width = 0;
};

// A grower who learns anew, and sows four trays of 50 ten times after that.
void see(Random& random, int groups, double b, Seen& made) {
  constexpr int sown = 10;
  const auto prior = rho_from_beta(learned(random, groups, b));
  for (int i = 0; i < sown; ++i) {
    const double p = drawn_p(random);
    const auto trays = draw_stand(random, 4, 50, p, random.beta(1, b));
    const auto own = tray_aware_interval(trays, prior),
               other = tray_aware_interval(trays, rho_from_beta(published));
    made.own.see(own.lower <= p && p <= own.upper);
    made.published.see(other.lower <= p && p <= other.upper);
    made.own_width += own.upper - own.lower;
    made.published_width += other.upper - other.lower;
  }
}

std::string shown(const Rate& covered, double width) {
  return Report::percent(covered.share()) + ", " + Report::number(3, width / covered.of);
}

}  // namespace

void learned_rhos(Report& report, const Effort& effort) {
  report.heading("The prior of rho learned from own sowings: coverage and mean width");
  report.say(
      "A grower's rhos are of Beta(1, B); learned from groups of four trays of 25, beside a guess "
      "of 24,");
  report.say(
      "then used for four trays of 50, p even on 0.1 to 0.97. Barred where the guess is right and");
  report.say("where a hundred groups have been learned from.");
  report.head({"B", "groups", "95 % interval, learned", "by the published 24"});
  std::uint64_t seed = 7800;
  for (const double b : effort.full ? std::vector{6.0, 12.0, 24.0, 49.0, 200.0} : std::vector{24.0})
    for (const int groups : effort.full ? std::vector{10, 30, 100} : std::vector{10}) {
      // 528 growers, which leave a standard error of 0.3 points
      Seen seen;
      Random random(++seed);
      for (int grower = effort.of(40, 528); grower > 0; --grower) see(random, groups, b, seen);
      report.row({Report::number(0, b), std::to_string(groups), shown(seen.own, seen.own_width),
                  shown(seen.published, seen.published_width)});
      if (b == published || groups == 100)
        report.bar("interval by a learned prior, B " + Report::number(0, b) + ", " +
                       std::to_string(groups) + " groups",
                   seen.own.share(), 0.94 - effort.room(0.94, seen.own.of),
                   0.965 + effort.room(0.965, seen.own.of));
    }
}

}  // namespace plumule::calibration
