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
  Tally2 mean_days, even, t50, ratio, ratio_gappy;
  double rank = 0;    // rank test p <= 0.05
  double claims = 0;  // the t alone, p <= 0.05
  double uneven = 0;  // looks called uneven
  // The verdict: sooner or later; neither.
  double verdict = 0, neither = 0;
};

struct Setting {
  int k, n;
  double tau, faster;
  Looks schedule;
};

struct Trials {
  int all, rank, model;
};

Cell cell(const Setting& at, const Trials& trials, std::uint64_t seed) {
  Random random(seed);
  Cell made;
  const Timing slow{0.8, 0.02, 8, at.tau}, quick{0.8, 0.02, 8 * at.faster, at.tau};
  const double mean = 8 * std::exp(0.5 * (log_spread * log_spread + at.tau * at.tau));
  const double truth = (at.faster - 1) * mean;
  for (int t = 0; t < trials.all; ++t) {
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
    made.t50.add(half.lower, half.upper, 8 * (at.faster - 1));
    made.claims += days.p && *days.p <= 0.05 ? 1.0 / trials.all : 0;
    const bool uneven = look_gaps(arms[0], arms[1]).uneven;
    made.uneven += uneven ? 1.0 / trials.all : 0;
    if (!uneven) made.even.add(days.lower, days.upper, truth);
    // What the gaps allow is asked only where it can change the verdict.
    auto claim = speed_claim(evidence);
    if (uneven && (claim != SpeedClaim::none || t < trials.model)) {
      evidence.gaps = allow_for_gaps(arms[0], arms[1]);
      claim = speed_claim(evidence);
      if (t < trials.model && evidence.gaps->ratio)
        made.ratio_gappy.add(evidence.gaps->ratio->lower, evidence.gaps->ratio->upper, at.faster);
    }
    made.verdict +=
        claim == SpeedClaim::sooner || claim == SpeedClaim::later ? 1.0 / trials.all : 0;
    made.neither += claim == SpeedClaim::neither ? 1.0 / trials.all : 0;
    if (t < trials.rank) {
      const auto rank = grouped_rank_test(arms[0], arms[1], RankScores::sun);
      const bool claims = rank.status == RankStatus::compared && rank.p_sowings <= 0.05 + 1e-12;
      made.rank += claims ? 1.0 / trials.rank : 0;
    }
    if (t >= trials.model) continue;
    TreatmentOptions options;
    options.family = TimeFamily::lognormal;
    if (const auto ratio = time_ratio(fit_treatments(arms, options), 0, 1))
      made.ratio.add(ratio->lower, ratio->upper, at.faster);
  }
  return made;
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
  const Trials trials{effort.of(200, 1000), effort.of(60, 400), effort.of(15, 100)};
  std::uint64_t seed = 300;
  Tally2 overall, ratios, even, gappy;
  const auto add = [](Tally2& sum, const Tally2& part) {
    sum.held += part.held;
    sum.given += part.given;
  };
  for (const int k : effort.full ? std::vector{2, 3, 4, 6} : std::vector{3})
    for (const int n : effort.full ? std::vector{20, 50} : std::vector{20})
      for (const double tau : effort.full ? std::vector{0.0, 0.05, 0.1} : std::vector{0.05})
        for (const double faster : {1.0, 0.85})
          for (const Looks schedule :
               {Looks::daily, Looks::every_third, Looks::irregular, Looks::differing}) {
            const bool regular = schedule == Looks::daily || schedule == Looks::every_third;
            const auto [c, drawn] = settled(
                trials.all, ++seed,
                [&](int all, std::uint64_t from) {
                  const int times = all / trials.all;
                  return cell({k, n, tau, faster, schedule},
                              {all, times * trials.rank, times * trials.model}, from);
                },
                [&](const Cell& first) {
                  const double days = first.mean_days.share();
                  return (regular && (days < 0.935 || days > 0.965)) ||
                         (faster < 1 ? first.neither > 0.065
                                     : first.verdict > 0.065 ||
                                           (schedule != Looks::differing && first.rank > 0.05));
                });
            report.row({std::to_string(k), std::to_string(n), Report::number(2, tau),
                        Report::number(2, faster), name_of(schedule), c.mean_days.shown(),
                        c.t50.shown(), c.ratio.shown(), Report::percent(c.claims),
                        Report::percent(c.rank), Report::percent(c.uneven),
                        Report::percent(c.verdict), Report::percent(c.neither)});
            add(ratios, c.ratio);
            add(even, c.even);
            add(gappy, c.ratio_gappy);
            if (regular) add(overall, c.mean_days);
            const std::string where = ", " + std::to_string(k) + " x " + std::to_string(n) +
                                      ", tau " + Report::number(2, tau) + ", faster " +
                                      Report::number(2, faster) + ", looks " + name_of(schedule);
            const double error = 1.2 * three_errors(0.95, drawn);
            if (regular)
              report.bar("difference in mean days" + where, c.mean_days.share(), 0.935 - error,
                         0.965 + error);
            if (faster < 1) {
              report.bar("neither, 1.2 days apart" + where, c.neither, 0, 0.065 + error);
              continue;
            }
            report.bar("verdict on speed" + where, c.verdict, 0, 0.065 + error);
            if (schedule != Looks::differing)
              report.bar("rank test by sowings" + where, c.rank, 0,
                         0.05 + 1.2 * three_errors(0.05, drawn / trials.all * trials.rank));
          }
  report.say("\nOver all cells: mean days where looks were even, irregular ones among them, " +
             Report::percent(even.share()) +
             " %; the likeliest model's ratio where they were not, " +
             Report::percent(gappy.share()) + " %.");
  const auto around = [&report](const std::string& what, const Tally2& t, double low, double high) {
    const double error = three_errors(0.95, t.given);
    report.bar(what + ", all cells", t.share(), low - error, high + error);
  };
  around("difference in mean days", overall, 0.935, 0.965);
  around("difference in mean days where looks were called even", even, 0.935, 0.965);
  around("ratio of times by the model", ratios, 0.925, 0.975);
  around("ratio of times of the likeliest model where looks were uneven", gappy, 0.925, 0.975);
}

}  // namespace plumule::calibration
