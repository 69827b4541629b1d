// Tests of the whole course: by permuting sowings, whose promise holds with any spread between
// sowings, and seed-level ones, whose does not.
#include <array>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/grouped_rank_test.hpp"
#include "stats/grouped_score_test.hpp"

namespace plumule::calibration {

void rank_tests(Report& report, const Effort& effort) {
  using namespace plumule::stats;
  report.heading("Tests of the whole course: error at 5 % when there is no difference");
  report.say(
      "p 0.8, four sowings of 25, daily or irregular looks. Sowings permuted: barred always;");
  report.say("seed-level ones at rho 0 and tau 0, their failure printed elsewhere.");
  report.head({"looks", "rho", "tau", "log-rank by sowings", "Wilcoxon by sowings",
               "log-rank (seed level)", "Wilcoxon (seed level)", "score chi-squared (seed level)"});
  const int trials = effort.of(100, 1000);
  struct Spread {
    double rho, tau;
  };
  const auto spreads = effort.full ? std::vector<Spread>{{0, 0}, {0.02, 0.05}, {0.1, 0.1}}
                                   : std::vector<Spread>{{0, 0}};
  Random random(3000);
  for (const Looks schedule : {Looks::daily, Looks::irregular})
    for (const auto& [rho, tau] : spreads) {
      double log_rank = 0, wilcoxon = 0, log_rank_seeds = 0, wilcoxon_seeds = 0, score = 0;
      for (int t = 0; t < trials; ++t) {
        const auto looks = draw_looks(random, schedule);
        std::array<std::vector<TimeCourse>, 2> arms;
        for (auto& arm : arms)
          for (const auto& s : draw_followed(random, 4, 25, {0.8, rho, 8, tau}, false, looks))
            arm.push_back(course_of(s));
        const double one = 1.0 / trials;
        const auto sun = grouped_rank_test(arms[0], arms[1], RankScores::sun);
        const auto ranks = grouped_rank_test(arms[0], arms[1], RankScores::wilcoxon);
        log_rank += sun.p_sowings <= 0.05 + 1e-12 ? one : 0;
        wilcoxon += ranks.p_sowings <= 0.05 + 1e-12 ? one : 0;
        log_rank_seeds += sun.p_seeds <= 0.05 ? one : 0;
        wilcoxon_seeds += ranks.p_seeds <= 0.05 ? one : 0;
        const auto finkelstein = grouped_score_test(arms[0], arms[1]);
        score += finkelstein.given && finkelstein.p <= 0.05 ? one : 0;
      }
      report.row({name_of(schedule), Report::number(2, rho), Report::number(2, tau),
                  Report::percent(log_rank), Report::percent(wilcoxon),
                  Report::percent(log_rank_seeds), Report::percent(wilcoxon_seeds),
                  Report::percent(score)});
      const std::string where = std::string(", looks ") + name_of(schedule) + ", rho " +
                                Report::number(2, rho) + ", tau " + Report::number(2, tau);
      const double error = 1.2 * three_errors(0.05, trials);
      report.bar("log-rank by sowings" + where, log_rank, 0, 0.05 + error);
      report.bar("Wilcoxon by sowings" + where, wilcoxon, 0, 0.05 + error);
      if (rho > 0 || tau > 0) continue;
      report.bar("log-rank, seed level" + where, log_rank_seeds, 0, 0.05 + error);
      report.bar("Wilcoxon, seed level" + where, wilcoxon_seeds, 0, 0.05 + error);
      report.bar("score chi-squared, seed level" + where, score, 0, 0.055 + error);
    }
}

}  // namespace plumule::calibration
