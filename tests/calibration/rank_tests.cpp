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
  Rate log_rank, wilcoxon;                     // sowings permuted
  Rate log_rank_seeds, wilcoxon_seeds, score;  // seed level
};

void see(Random& random, Looks schedule, const Spread& spread, Errors& made) {
  const auto looks = draw_looks(random, schedule);
  std::array<std::vector<TimeCourse>, 2> arms;
  for (auto& arm : arms)
    for (const auto& s :
         draw_followed(random, 4, 25, {0.8, spread.rho, 8, spread.tau}, false, looks))
      arm.push_back(course_of(s));
  const auto sun = grouped_rank_test(arms[0], arms[1], RankScores::sun);
  const auto ranks = grouped_rank_test(arms[0], arms[1], RankScores::wilcoxon);
  made.log_rank.see(sun.p_sowings <= 0.05 + 1e-12);
  made.wilcoxon.see(ranks.p_sowings <= 0.05 + 1e-12);
  made.log_rank_seeds.see(sun.p_seeds <= 0.05);
  made.wilcoxon_seeds.see(ranks.p_seeds <= 0.05);
  const auto finkelstein = grouped_score_test(arms[0], arms[1]);
  made.score.see(finkelstein.given && finkelstein.p <= 0.05);
}

}  // namespace

void rank_tests(Report& report, const Effort& effort) {
  report.heading("Tests of the whole course: error at 5 % when there is no difference");
  report.say(
      "p 0.8, four sowings of 25, daily or irregular looks. Sowings permuted: barred always;");
  report.say("seed-level ones at rho 0 and tau 0, their failure printed elsewhere.");
  report.head({"looks", "rho", "tau", "log-rank by sowings", "Wilcoxon by sowings",
               "log-rank (seed level)", "Wilcoxon (seed level)", "score chi-squared (seed level)"});
  constexpr int shortly = 100;
  const auto spreads = effort.full ? std::vector<Spread>{{0, 0}, {0.02, 0.05}, {0.1, 0.1}}
                                   : std::vector<Spread>{{0, 0}};
  std::uint64_t seed = 3000;
  for (const Looks schedule : {Looks::daily, Looks::irregular})
    for (const auto& spread : spreads) {
      const bool independent = spread.rho == 0 && spread.tau == 0;
      const auto seen =
          drawn<Errors>(effort, shortly, ++seed,
                        [&](Random& random, Errors& made) { see(random, schedule, spread, made); },
                        {&Errors::log_rank, &Errors::wilcoxon});
      const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
      report.row({name_of(schedule), Report::number(2, spread.rho), Report::number(2, spread.tau),
                  percent(seen.log_rank), percent(seen.wilcoxon), percent(seen.log_rank_seeds),
                  percent(seen.wilcoxon_seeds), percent(seen.score)});
      const std::string where = std::string(", looks ") + name_of(schedule) + ", rho " +
                                Report::number(2, spread.rho) + ", tau " +
                                Report::number(2, spread.tau);
      const double by_sowings = effort.rate_room(0.05, shortly),
                   by_seeds = effort.room(0.05, seen.score.of, 2);
      report.bar("log-rank by sowings" + where, seen.log_rank.share(), 0, 0.05 + by_sowings);
      report.bar("Wilcoxon by sowings" + where, seen.wilcoxon.share(), 0, 0.05 + by_sowings);
      if (!independent) continue;
      report.bar("log-rank, seed level" + where, seen.log_rank_seeds.share(), 0, 0.05 + by_seeds);
      report.bar("Wilcoxon, seed level" + where, seen.wilcoxon_seeds.share(), 0, 0.05 + by_seeds);
      report.bar("score chi-squared, seed level" + where, seen.score.share(), 0, 0.05 + by_seeds);
    }
}

}  // namespace plumule::calibration
