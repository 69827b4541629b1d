// Tests of the whole course: by permuting sowings, whose promise holds with any spread between
// sowings, and seed-level ones, whose does not.
#include <algorithm>
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/grouped_score_test.hpp"
#include "stats/trials/grouped_rank_test.hpp"

namespace plumule::calibration {

namespace {

using namespace plumule::stats;

struct Spread {
  double rho, tau;
};

struct Errors {
  double log_rank = 0, wilcoxon = 0;                         // sowings permuted
  double log_rank_seeds = 0, wilcoxon_seeds = 0, score = 0;  // seed level
};

Errors cell(Looks schedule, const Spread& spread, int trials, std::uint64_t seed) {
  Random random(seed);
  Errors made;
  for (int t = 0; t < trials; ++t) {
    const auto looks = draw_looks(random, schedule);
    std::array<std::vector<TimeCourse>, 2> arms;
    for (auto& arm : arms)
      for (const auto& s :
           draw_followed(random, 4, 25, {0.8, spread.rho, 8, spread.tau}, false, looks))
        arm.push_back(course_of(s));
    const double one = 1.0 / trials;
    const auto sun = grouped_rank_test(arms[0], arms[1], RankScores::sun);
    const auto ranks = grouped_rank_test(arms[0], arms[1], RankScores::wilcoxon);
    made.log_rank += sun.p_sowings <= 0.05 + 1e-12 ? one : 0;
    made.wilcoxon += ranks.p_sowings <= 0.05 + 1e-12 ? one : 0;
    made.log_rank_seeds += sun.p_seeds <= 0.05 ? one : 0;
    made.wilcoxon_seeds += ranks.p_seeds <= 0.05 ? one : 0;
    const auto finkelstein = grouped_score_test(arms[0], arms[1]);
    made.score += finkelstein.given && finkelstein.p <= 0.05 ? one : 0;
  }
  return made;
}

}  // namespace

void rank_tests(Report& report, const Effort& effort) {
  report.heading("Tests of the whole course: error at 5 % when there is no difference");
  report.say(
      "p 0.8, four sowings of 25, daily or irregular looks. Sowings permuted: barred always;");
  report.say("seed-level ones at rho 0 and tau 0, their failure printed elsewhere.");
  report.head({"looks", "rho", "tau", "log-rank by sowings", "Wilcoxon by sowings",
               "log-rank (seed level)", "Wilcoxon (seed level)", "score chi-squared (seed level)"});
  const int trials = effort.of(100, 1000);
  const auto spreads = effort.full ? std::vector<Spread>{{0, 0}, {0.02, 0.05}, {0.1, 0.1}}
                                   : std::vector<Spread>{{0, 0}};
  std::uint64_t seed = 3000;
  for (const Looks schedule : {Looks::daily, Looks::irregular})
    for (const auto& spread : spreads) {
      const bool independent = spread.rho == 0 && spread.tau == 0;
      const auto [c, drawn] = settled(
          trials, ++seed,
          [&](int some, std::uint64_t from) { return cell(schedule, spread, some, from); },
          [independent](const Errors& e) {
            return std::max(e.log_rank, e.wilcoxon) > 0.05 ||
                   (independent && std::max({e.log_rank_seeds, e.wilcoxon_seeds, e.score}) > 0.05);
          });
      report.row({name_of(schedule), Report::number(2, spread.rho), Report::number(2, spread.tau),
                  Report::percent(c.log_rank), Report::percent(c.wilcoxon),
                  Report::percent(c.log_rank_seeds), Report::percent(c.wilcoxon_seeds),
                  Report::percent(c.score)});
      const std::string where = std::string(", looks ") + name_of(schedule) + ", rho " +
                                Report::number(2, spread.rho) + ", tau " +
                                Report::number(2, spread.tau);
      const double error = 1.2 * three_errors(0.05, drawn);
      report.bar("log-rank by sowings" + where, c.log_rank, 0, 0.05 + error);
      report.bar("Wilcoxon by sowings" + where, c.wilcoxon, 0, 0.05 + error);
      if (!independent) continue;
      report.bar("log-rank, seed level" + where, c.log_rank_seeds, 0, 0.05 + error);
      report.bar("Wilcoxon, seed level" + where, c.wilcoxon_seeds, 0, 0.05 + error);
      report.bar("score chi-squared, seed level" + where, c.score, 0, 0.05 + error);
    }
}

}  // namespace plumule::calibration
