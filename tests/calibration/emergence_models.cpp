// The emergence model of one treatment: its germinable fraction, t50, and the one-sided bound where
// the fraction lies on its boundary.
#include <optional>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/emergence_model.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Held {
  int given = 0, held = 0;
  double width = 0;
  void add(const Estimate& e, double truth) {
    if (!e.lower || !e.upper) return;
    ++given;
    held += *e.lower <= truth && truth <= *e.upper ? 1 : 0;
    width += *e.upper - *e.lower;
  }
  double share() const { return given > 0 ? static_cast<double>(held) / given : 1; }
  std::string shown() const {
    return given > 0 ? Report::percent(share()) + ", " + Report::number(2, width / given) : "none";
  }
};

}  // namespace

void emergence_models(Report& report, const Effort& effort) {
  report.heading("Emergence model: 95 % intervals, coverage and mean width");
  report.say("Lognormal times, median 8 days, log spread 0.25, four sowings of 25; intervals by");
  report.say("clustered errors. t50 is of all sowings, whose medians spread by tau. The bound: of");
  report.say("those with the fraction on its boundary, how often the one-sided 95 % profile bound");
  report.say("lies above the truth; it takes seeds as independent, and is barred at rho 0.");
  report.head({"p", "rho", "tau", "looks", "fraction", "t50", "on the boundary", "bound too high"});
  const int trials = effort.of(40, 300);
  struct Spread {
    double rho, tau;
  };
  const auto spreads = effort.full ? std::vector<Spread>{{0, 0}, {0.05, 0.05}, {0.1, 0.1}}
                                   : std::vector<Spread>{{0, 0}};
  Random random(3500);
  Held fractions, medians;
  int bounded = 0, too_high = 0;
  for (const double p : effort.full ? std::vector{0.6, 0.85, 0.98} : std::vector{0.85})
    for (const auto& [rho, tau] : spreads)
      for (const Looks schedule : {Looks::daily, Looks::irregular}) {
        Held fraction, t50;
        int boundary = 0, wrong = 0;
        for (int t = 0; t < trials; ++t) {
          const auto looks = draw_looks(random, schedule);
          std::vector<TimeCourse> sowings;
          for (const auto& s : draw_followed(random, 4, 25, {p, rho, 8, tau}, false, looks))
            sowings.push_back(course_of(s));
          ModelOptions options;
          options.family = TimeFamily::lognormal;
          const auto model = fit_emergence(sowings, options);
          if (model.status != ModelStatus::fitted) continue;
          fraction.add(model.fraction, p);
          t50.add(model.t50, 8);
          if (!model.fraction_at_one || !model.fraction_least) continue;
          ++boundary;
          wrong += *model.fraction_least > p ? 1 : 0;
        }
        report.row(
            {Report::number(2, p), Report::number(2, rho), Report::number(2, tau),
             name_of(schedule), fraction.shown(), t50.shown(), std::to_string(boundary),
             boundary > 0 ? Report::percent(static_cast<double>(wrong) / boundary) : "none"});
        if (p < 0.95) {
          fractions.given += fraction.given;
          fractions.held += fraction.held;
        }
        medians.given += t50.given;
        medians.held += t50.held;
        if (rho == 0) {
          bounded += trials;
          too_high += wrong;
        }
      }
  report.bar("fraction by the model, p under 0.95, all cells", fractions.share(),
             0.925 - effort.room(0.95, fractions.given), 0.99);
  report.bar("t50 by the model, all cells", medians.share(),
             0.925 - effort.room(0.95, medians.given), 0.975 + effort.room(0.95, medians.given));
  report.bar("bound of the fraction too high, rho 0, of all trials",
             static_cast<double>(too_high) / bounded, 0, 0.05 + effort.room(0.05, bounded));
}

}  // namespace plumule::calibration
