// Coverage of the difference in mean days and t50, and of the model's ratio of times.
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/emergence_treatments.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/grouped_rank_test.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Cover {
  Rate rate;
  double width = 0;
  void add(std::optional<double> lower, std::optional<double> upper, double truth) {
    if (!lower || !upper) return;
    rate.see(*lower <= truth && truth <= *upper);
    width += *upper - *lower;
  }
  void add(const Cover& other) {
    rate.held += other.rate.held;
    rate.of += other.rate.of;
  }
  std::string shown() const {
    return rate.of > 0 ? Report::percent(rate.share()) + ", " + Report::number(2, width / rate.of)
                       : "none";
  }
};

struct Cell {
  Cover mean_days, even, t50, ratio, ratio_gappy;
  Rate covered;           // by the mean days' interval, of all trials that have one
  Rate rank;              // rank test p <= 0.05
  Rate claims;            // the t alone, p <= 0.05
  Rate uneven;            // looks called uneven
  Rate verdict, neither;  // sooner or later; neither
};

struct Setting {
  int k, n;
  double tau, faster;
  Looks schedule;

  bool regular() const { return schedule == Looks::daily || schedule == Looks::every_third; }
  // Where the drawing of sowings is asked to keep its level.
  bool ranked() const { return faster == 1 && schedule != Looks::differing; }
};

// The model is fitted in the first so many trials only.
void see(Random& random, const Setting& at, int modelled, Cell& made) {
  const Timing slow{0.8, 0.02, 8, at.tau}, quick{0.8, 0.02, 8 * at.faster, at.tau};
  const double mean = 8 * std::exp(0.5 * (log_spread * log_spread + at.tau * at.tau));
  const double truth = (at.faster - 1) * mean;
  const bool fitted = made.claims.of < modelled;
  const auto looks = draw_looks(random, at.schedule);
  std::array<std::vector<TimeCourse>, 2> arms;
  for (const auto& s : draw_followed(random, at.k, at.n, quick, true, looks))
    arms[0].push_back(course_of(s));
  const auto others = at.schedule == Looks::differing ? draw_looks(random, at.schedule) : looks;
  for (const auto& s : draw_followed(random, at.k, at.n, slow, false, others))
    arms[1].push_back(course_of(s));
  SpeedEvidence evidence{compare_mean_days(arms[0], arms[1]), std::nullopt};
  const auto& days = evidence.days;
  const auto half = compare_t50(arms[0], arms[1]);
  made.mean_days.add(days.lower, days.upper, truth);
  made.covered = made.mean_days.rate;
  made.t50.add(half.lower, half.upper, 8 * (at.faster - 1));
  made.claims.see(days.p && *days.p <= 0.05);
  const bool uneven = look_gaps(arms[0], arms[1]).uneven;
  made.uneven.see(uneven);
  if (!uneven) made.even.add(days.lower, days.upper, truth);
  // What the gaps allow is asked only where it can change the verdict.
  auto claim = claim_days(evidence).claim;
  if (uneven && (claim != SpeedClaim::none || fitted)) {
    evidence.gaps = allow_for_gaps(arms[0], arms[1]);
    claim = claim_days(evidence).claim;
    if (fitted && evidence.gaps->ratio)
      made.ratio_gappy.add(evidence.gaps->ratio->lower, evidence.gaps->ratio->upper, at.faster);
  }
  made.verdict.see(claim == SpeedClaim::sooner || claim == SpeedClaim::later);
  made.neither.see(claim == SpeedClaim::neither);
  if (at.ranked()) {
    const auto rank = grouped_rank_test(arms[0], arms[1], RankScores::sun);
    made.rank.see(rank.status == RankStatus::compared && rank.p_sowings <= 0.05 + 1e-12);
  }
  if (!fitted) return;
  TreatmentOptions options;
  options.family = TimeFamily::lognormal;
  if (const auto ratio = time_ratio(fit_treatments(arms, options), 0, 1))
    made.ratio.add(ratio->lower, ratio->upper, at.faster);
}

Cell drawn_cell(const Effort& effort, const Setting& at, int shortly, std::uint64_t seed) {
  const auto one = [&](Random& random, Cell& made) { see(random, at, effort.of(15, 100), made); };
  Rate Cell::*const verdict = at.faster == 1 ? &Cell::verdict : &Cell::neither;
  if (at.ranked() && at.regular())
    return drawn<Cell>(effort, shortly, seed, one, {verdict, &Cell::rank, &Cell::covered});
  if (at.ranked()) return drawn<Cell>(effort, shortly, seed, one, {verdict, &Cell::rank});
  if (at.regular()) return drawn<Cell>(effort, shortly, seed, one, {verdict, &Cell::covered});
  return drawn<Cell>(effort, shortly, seed, one, {verdict});
}

}  // namespace

void speed(Report& report, const Effort& effort) {
  report.heading("Speed: 95 % intervals of differences, coverage and mean width in days; verdicts");
  report.say(
      "p 0.8, rho 0.02, median 8 days, log spread 0.25; faster 1: no difference, 0.85: 1.2 days.");
  report.say(
      "The ratio is the lognormal model's, clustered. Irregular looks (each day with probability");
  report.say(
      "one half, alike for all sowings or differing between the treatments) leave gaps of several");
  report.say(
      "days whose middles are wrong for all sowings alike, which no spread between sowings shows:");
  report.say(
      "mean days are barred where looks are even, and only printed elsewhere. There the verdict");
  report.say(
      "asks the model too: t claims is the t alone, verdict is sooner or later as it is given.");
  report.head({"k", "n", "tau", "faster", "looks", "mean days", "t50", "ratio of times", "t claims",
               "rank test claims", "called uneven", "verdict", "neither"});
  constexpr int shortly = 200;
  constexpr double least = 0.935, most = 0.965, most_wrong = 0.065;
  std::uint64_t seed = 300;
  Cover overall, ratios, even, gappy;
  const int cells = effort.of(3, 54);  // of the drawing of sowings
  for (const int k : effort.full ? std::vector{2, 3, 6} : std::vector{3})
    for (const int n : effort.full ? std::vector{20, 50} : std::vector{20})
      for (const double tau : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05})
        for (const double faster : {1.0, 0.85})
          for (const Looks schedule :
               {Looks::daily, Looks::every_third, Looks::irregular, Looks::differing}) {
            const Setting at{k, n, tau, faster, schedule};
            const Cell c = drawn_cell(effort, at, shortly, ++seed);
            const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
            report.row({std::to_string(k), std::to_string(n), Report::number(2, tau),
                        Report::number(2, faster), name_of(schedule), c.mean_days.shown(),
                        c.t50.shown(), c.ratio.shown(), percent(c.claims),
                        at.ranked() ? percent(c.rank) : "", percent(c.uneven), percent(c.verdict),
                        percent(c.neither)});
            ratios.add(c.ratio);
            even.add(c.even);
            gappy.add(c.ratio_gappy);
            if (at.regular()) overall.add(c.mean_days);
            const std::string where = ", " + std::to_string(k) + " x " + std::to_string(n) +
                                      ", tau " + Report::number(2, tau) + ", faster " +
                                      Report::number(2, faster) + ", looks " + name_of(schedule);
            if (at.regular())
              report.bar("difference in mean days" + where, c.covered.share(),
                         least - effort.rate_room(least, shortly),
                         most + effort.rate_room(most, shortly));
            const double wrong = most_wrong + effort.rate_room(most_wrong, shortly);
            if (faster < 1) {
              report.bar("neither, 1.2 days apart" + where, c.neither.share(), 0, wrong);
              continue;
            }
            report.bar("verdict on speed" + where, c.verdict.share(), 0, wrong);
            if (at.ranked())
              report.bar("rank test by sowings" + where, c.rank.share(), 0,
                         0.05 + effort.room(0.05, c.rank.of, cells));
          }
  report.say("\nOver all cells: mean days where looks were even, irregular ones among them, " +
             Report::percent(even.rate.share()) +
             " %; the likeliest model's ratio where they were not, " +
             Report::percent(gappy.rate.share()) + " %.");
  const auto around = [&](const std::string& what, const Cover& t, double low, double high) {
    const double room = effort.room(0.95, t.rate.of);
    report.bar(what + ", all cells", t.rate.share(), low - room, high + room);
  };
  around("difference in mean days", overall, 0.935, 0.965);
  around("difference in mean days where looks were called even", even, 0.935, 0.965);
  around("ratio of times by the model", ratios, 0.925, 0.975);
  around("ratio of times of the likeliest model where looks were uneven", gappy, 0.925, 0.975);
}

}  // namespace plumule::calibration
