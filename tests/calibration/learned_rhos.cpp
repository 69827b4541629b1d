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

struct Cover {
  double held = 0, width = 0;
  void add(const Interval& found, double p, double weight) {
    held += found.lower <= p && p <= found.upper ? weight : 0;
    width += (found.upper - found.lower) * weight;
  }
};

struct Both {
  Cover own, published;
};

// Growers who each learn anew, and sow four trays of 50 ten times after that.
Both cell(int groups, double b, int growers, std::uint64_t seed) {
  Random random(seed);
  constexpr int sown = 10;
  Both made;
  for (int grower = 0; grower < growers; ++grower) {
    const auto prior = rho_from_beta(learned(random, groups, b));
    for (int i = 0; i < sown; ++i) {
      const double p = drawn_p(random);
      const auto trays = draw_stand(random, 4, 50, p, random.beta(1, b));
      const double weight = 1.0 / growers / sown;
      made.own.add(tray_aware_interval(trays, prior), p, weight);
      made.published.add(tray_aware_interval(trays, rho_from_beta(published)), p, weight);
    }
  }
  return made;
}

std::string shown(const Cover& cover) {
  return Report::percent(cover.held) + ", " + Report::number(3, cover.width);
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
  const int growers = effort.of(40, 600);
  std::uint64_t seed = 7800;
  for (const double b : effort.full ? std::vector{6.0, 12.0, 24.0, 49.0, 200.0} : std::vector{24.0})
    for (const int groups : effort.full ? std::vector{10, 30, 100} : std::vector{10}) {
      const auto [c, drawn] = settled(
          growers, ++seed,
          [&](int some, std::uint64_t from) { return cell(groups, b, some, from); },
          [&](const Both& both) {
            return (b == published || groups == 100) &&
                   (both.own.held < 0.94 || both.own.held > 0.965);
          });
      report.row({Report::number(0, b), std::to_string(groups), shown(c.own), shown(c.published)});
      if (b == published || groups == 100)
        report.bar("interval by a learned prior, B " + Report::number(0, b) + ", " +
                       std::to_string(groups) + " groups",
                   c.own.held, 0.94 - three_errors(0.95, 10 * drawn),
                   0.965 + three_errors(0.95, 10 * drawn));
    }
}

}  // namespace plumule::calibration
