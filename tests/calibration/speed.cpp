// Coverage of the difference in mean days and t50, and of the model's ratio of times.
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/emergence_treatments.hpp"
#include "stats/grouped_rank_test.hpp"
#include "stats/speed_comparison.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Tally2 {
  int held = 0, given = 0;
  double width = 0;
  void add(std::optional<double> lower, std::optional<double> upper, double truth) {
    if (!lower || !upper) return;
    ++given;
    held += *lower <= truth && truth <= *upper ? 1 : 0;
    width += *upper - *lower;
  }
  double share() const { return given > 0 ? static_cast<double>(held) / given : 1; }
  std::string shown() const {
    return given > 0 ? Report::percent(share()) + ", " + Report::number(2, width / given) : "none";
  }
};

struct Cell {
  Tally2 mean_days, t50, ratio;
  double rank = 0, wrong = 0;  // rank test p <= 0.05; sooner or later by the t
};

Cell cell(int k, int n, double tau, double faster, Looks schedule, int trials, int rank_trials,
          int model_trials, std::uint64_t seed) {
  Random random(seed);
  Cell made;
  const Timing slow{0.8, 0.02, 8, tau}, quick{0.8, 0.02, 8 * faster, tau};
  const double mean = 8 * std::exp(0.5 * (log_spread * log_spread + tau * tau));
  for (int t = 0; t < trials; ++t) {
    const auto looks = draw_looks(random, schedule);
    std::array<std::vector<TimeCourse>, 2> arms;
    for (const auto& s : draw_followed(random, k, n, quick, true, looks))
      arms[0].push_back(course_of(s));
    for (const auto& s : draw_followed(random, k, n, slow, false, looks))
      arms[1].push_back(course_of(s));
    const auto days = compare_mean_days(arms[0], arms[1]), half = compare_t50(arms[0], arms[1]);
    made.mean_days.add(days.lower95, days.upper95, (faster - 1) * mean);
    made.t50.add(half.lower95, half.upper95, 8 * (faster - 1));
    made.wrong += days.p && *days.p <= 0.05 ? 1.0 / trials : 0;
    if (t < rank_trials) {
      const auto rank = grouped_rank_test(arms[0], arms[1], RankScores::sun);
      const bool claims = rank.status == RankStatus::compared && rank.p_sowings <= 0.05 + 1e-12;
      made.rank += claims ? 1.0 / rank_trials : 0;
    }
    if (t >= model_trials) continue;
    TreatmentOptions options;
    options.family = TimeFamily::lognormal;
    if (const auto ratio = time_ratio(fit_treatments(arms, options), 0, 1))
      made.ratio.add(ratio->lower, ratio->upper, faster);
  }
  return made;
}

}  // namespace

void speed(Report& report, const Effort& effort) {
  report.heading("Speed: 95 % intervals of differences, coverage and mean width in days");
  report.say(
      "p 0.8, rho 0.02, median 8 days, log spread 0.25; faster 1: no difference. The ratio is");
  report.say(
      "the lognormal model's, clustered. Irregular looks (each day with probability one half)");
  report.say(
      "leave gaps of several days whose middles are wrong for all sowings alike, which no spread");
  report.say(
      "between sowings shows: mean days are printed there, not barred; the model allows for it.");
  report.head({"k", "n", "tau", "faster", "looks", "mean days", "t50", "ratio of times", "t claims",
               "rank test claims"});
  const int trials = effort.of(200, 1000);
  const int rank_trials = effort.of(60, 400), model_trials = effort.of(15, 100);
  std::uint64_t seed = 300;
  Tally2 overall, ratios;
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{3})
    for (const int n : effort.full ? std::vector{20, 50} : std::vector{20})
      for (const double tau : {0.0, 0.05, 0.1})
        for (const double faster : effort.full ? std::vector{1.0, 0.85} : std::vector{0.85})
          for (const Looks schedule : {Looks::daily, Looks::every_third, Looks::irregular}) {
            const auto c =
                cell(k, n, tau, faster, schedule, trials, rank_trials, model_trials, ++seed);
            report.row({std::to_string(k), std::to_string(n), Report::number(2, tau),
                        Report::number(2, faster), name_of(schedule), c.mean_days.shown(),
                        c.t50.shown(), c.ratio.shown(), Report::percent(c.wrong),
                        Report::percent(c.rank)});
            if (schedule != Looks::irregular) {
              overall.held += c.mean_days.held;
              overall.given += c.mean_days.given;
            }
            ratios.held += c.ratio.held;
            ratios.given += c.ratio.given;
            const std::string where = ", " + std::to_string(k) + " x " + std::to_string(n) +
                                      ", tau " + Report::number(2, tau) + ", faster " +
                                      Report::number(2, faster) + ", looks " + name_of(schedule);
            const double error = 1.2 * three_errors(0.95, trials);
            if (schedule != Looks::irregular)
              report.bar("difference in mean days" + where, c.mean_days.share(), 0.935 - error,
                         0.965 + error);
            if (faster == 1)
              report.bar("rank test by sowings" + where, c.rank, 0,
                         0.05 + 1.2 * three_errors(0.05, rank_trials));
          }
  report.bar("difference in mean days, all cells", overall.share(),
             0.935 - three_errors(0.95, overall.given), 0.965 + three_errors(0.95, overall.given));
  report.bar("ratio of times by the model, all cells", ratios.share(),
             0.925 - three_errors(0.95, ratios.given), 0.975 + three_errors(0.95, ratios.given));
}

}  // namespace plumule::calibration
