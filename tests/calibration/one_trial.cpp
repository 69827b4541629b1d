// One trial from the first count to the verdicts: read every day, closed by its own rules and
// judged on stand and days, or closed by hand on the day that pleases. How often is anything said
// wrongly?
#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "drawn_layout.hpp"
#include "drawn_trial.hpp"
#include "parts.hpp"
#include "stats/times/quiet.hpp"
#include "stats/trials/claims.hpp"
#include "stats/trials/sequential_randomisation.hpp"
#include "stats/trials/trial_closing.hpp"
#include "stats/trials/within_blocks.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

constexpr int seeds_a_tray = 50;
constexpr double most_daily = 0.05, most_wrong = 0.065;

struct Layout {
  const char* name;
  int treatments, trays;
  bool blocks;  // one tray of each treatment in each block
};

struct Trial {
  std::vector<FollowedSowing> sowings;  // treated: treatment 1
  std::vector<int> treatment;
};

Trial draw(Random& random, const Layout& at, double rho, double tau) {
  static const auto daily = [] {
    std::vector<int> days;
    for (int day = 1; day <= last_day; ++day) days.push_back(day);
    return days;
  }();
  Trial made;
  for (int i = 0; i < at.trays; ++i) {
    const double p = share_of(logit_of(0.8) + (at.blocks ? 0.7 * random.normal() : 0));
    for (int t = 0; t < at.treatments; ++t) {
      auto sowing = draw_followed(random, 1, seeds_a_tray, {p, rho, 8, tau}, t == 1, daily).front();
      sowing.block = at.blocks ? i : 0;
      made.sowings.push_back(std::move(sowing));
      made.treatment.push_back(t);
    }
  }
  return made;
}

// As it stands on the evening of that day.
Trial until(const Trial& trial, int day) {
  Trial made = trial;
  for (auto& sowing : made.sowings)
    std::erase_if(sowing.counts, [day](const DayCount& count) { return count.day > day; });
  return made;
}

bool claims_on_stand(const Trial& trial, int treatments, Looking looking) {
  std::vector<PlacedUnit> units;
  for (std::size_t i = 0; i < trial.sowings.size(); ++i) {
    const auto& sowing = trial.sowings[i];
    units.push_back({trial.treatment[i], sowing.block, up_by(sowing, last_day), sowing.sown});
  }
  const StandModel model(units, treatments, rho_from_beta(24));
  std::vector<StandContrast> all;
  for (int t = 1; t < treatments; ++t) all.push_back(contrast(model, t, 0));
  const auto judged = claim_together(all, looking);
  return std::any_of(judged.begin(), judged.end(),
                     [](const JudgedContrast& one) { return is_claim(one.claim); });
}

bool claims_on_days(const Trial& trial, const Layout& at) {
  struct Side {
    std::vector<std::optional<double>> means;
    std::vector<int> blocks;
  };
  std::vector<Side> sides(static_cast<std::size_t>(at.treatments));
  for (std::size_t i = 0; i < trial.sowings.size(); ++i) {
    auto& side = sides[static_cast<std::size_t>(trial.treatment[i])];
    side.means.push_back(mean_days_midway(course_of(trial.sowings[i])));
    side.blocks.push_back(trial.sowings[i].block);
  }
  const std::vector<BlockLayout> blocks(static_cast<std::size_t>(at.trays), {1, 1});
  const bool within = at.blocks && judged_within_blocks(blocks);
  std::vector<SpeedEvidence> all;
  for (std::size_t t = 1; t < sides.size(); ++t)
    all.push_back({within ? compare_within_blocks(sides[t].means, sides[0].means, sides[t].blocks,
                                                  sides[0].blocks)
                          : compare_values(sides[t].means, sides[0].means),
                   std::nullopt});
  const auto judged = claim_days_together(all);
  return std::any_of(judged.begin(), judged.end(), [](const JudgedSpeed& one) {
    return one.claim == SpeedClaim::sooner || one.claim == SpeedClaim::later;
  });
}

// Whether a verdict may be given: most sowings of every treatment have nearly done.
bool most_settled(const Trial& trial, int treatments) {
  for (int t = 0; t < treatments; ++t) {
    int done = 0, all = 0;
    for (std::size_t i = 0; i < trial.sowings.size(); ++i) {
      if (trial.treatment[i] != t) continue;
      ++all;
      done += nearly_over(course_of(trial.sowings[i])) ? 1 : 0;
    }
    if (2 * done < all) return false;
  }
  return true;
}

struct Course {
  Rate daily, stand, days, either, any;
  Rate hand_stand, hand_days;
};

void follow(Random& random, const Layout& at, double rho, double tau, Course& made) {
  const Trial whole = draw(random, at, rho, tau);
  const auto closing = trial_closing(whole.sowings, last_day + 1, last_day, std::nullopt);
  const int end = std::min(closing.closed_on.value_or(last_day), last_day);
  const Trial closed = until(whole, end);
  const bool daily = at.treatments == 2 &&
                     sequential_randomisation(closed.sowings, last_day, end, default_seed).claimed;
  const bool stand = claims_on_stand(closed, at.treatments, Looking::as_planned),
             days = claims_on_days(closed, at);
  made.daily.see(daily);
  made.stand.see(stand);
  made.days.see(days);
  made.either.see(stand || days);
  made.any.see(daily || stand || days);
  // By hand: looked at each day from the first on which a verdict may be given, and closed at the
  // first claim.
  bool hand_stand = false, hand_days = false;
  for (int day = 5; day <= end && !(hand_stand && hand_days); ++day) {
    const Trial so_far = until(whole, day);
    if (!most_settled(so_far, at.treatments)) continue;
    hand_stand = hand_stand || claims_on_stand(so_far, at.treatments, Looking::after_looking);
    hand_days = hand_days || claims_on_days(so_far, at);
  }
  made.hand_stand.see(hand_stand);
  made.hand_days.see(hand_days);
}

}  // namespace

void one_trial(Report& report, const Effort& effort) {
  report.heading("One trial, read every day to its verdicts: anything said wrongly");
  report.say(
      "Nothing differs; p 0.8, median 8 days, trays of 50, looked at daily, planned day 21,");
  report.say(
      "closed as it closes by itself. Read every day: the sequential randomisation test at 5");
  report.say("% (two treatments). Then more or fewer, and sooner or later, each judged by its own");
  report.say("rule over all treatments against the control; either of these; and anything at all.");
  report.say("By hand: looked at each day from the first on which most sowings have nearly done,");
  report.say(
      "and closed at the first claim; on the stand at a Bayes factor of 20, which keeps its");
  report.say("rate; the days have no such rule (printed). Blocks spread by 0.7 (logit).");
  report.head({"layout", "rho", "tau", "read every day", "stand", "days", "either", "anything",
               "by hand, stand", "by hand, days"});
  struct Spread {
    double rho, tau;
  };
  constexpr int shortly = 200;
  std::uint64_t seed = 6000;
  const std::vector<Layout> layouts = {{"4 and 4 trays", 2, 4, false},
                                       {"6 pairs in blocks", 2, 6, true},
                                       {"4 treatments of 4 trays", 4, 4, false},
                                       {"3 treatments in 6 blocks", 3, 6, true}};
  for (std::size_t i = 0; i < (effort.full ? layouts.size() : 2); ++i)
    for (const auto& [rho, tau] : effort.full ? std::vector<Spread>{{0, 0}, {0.1, 0.1}}
                                              : std::vector<Spread>{{0.05, 0.05}}) {
      const Layout& at = layouts[i];
      const auto seen =
          drawn<Course>(effort, shortly, ++seed,
                        [&, rho = rho, tau = tau](Random& random, Course& made) {
                          follow(random, at, rho, tau, made);
                        },
                        {&Course::daily, &Course::stand, &Course::days, &Course::hand_stand});
      const auto percent = [](const Rate& rate) { return Report::percent(rate.share()); };
      report.row({at.name, Report::number(2, rho), Report::number(2, tau),
                  at.treatments == 2 ? percent(seen.daily) : "", percent(seen.stand),
                  percent(seen.days), percent(seen.either), percent(seen.any),
                  percent(seen.hand_stand), percent(seen.hand_days)});
      const std::string where = std::string(", ") + at.name + ", rho " + Report::number(2, rho);
      const double error = effort.rate_room(most_wrong, shortly);
      if (at.treatments == 2)
        report.bar("one trial's sequential test" + where, seen.daily.share(), 0,
                   most_daily + effort.rate_room(most_daily, shortly));
      report.bar("one trial's claim on the stand" + where, seen.stand.share(), 0,
                 most_wrong + error);
      report.bar("one trial's claim on the days" + where, seen.days.share(), 0, most_wrong + error);
      report.bar("claim on the stand, closed by hand" + where, seen.hand_stand.share(), 0,
                 most_wrong + error);
    }
}

}  // namespace plumule::calibration
