// What the model of the stand is used for besides: claims after trays were added with the counts in
// sight, and planning.
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "drawn_layout.hpp"
#include "parts.hpp"
#include "stats/stand/plan.hpp"

namespace plumule::calibration {
namespace {

using namespace plumule::stats;

struct Looked {
  Rate claimed;
};

// Trays added a few at a time, judged each time, stopped at the first claim.
void look(Random& random, const SupposedTrial& whole, const std::vector<int>& looks, Looked& made) {
  const auto units = sow(random, whole);
  bool claimed = false;
  for (std::size_t i = 0; i < looks.size() && !claimed; ++i) {
    int seen[2] = {0, 0};  // the first so many of either treatment
    std::vector<PlacedUnit> some;
    for (const auto& unit : units)
      if (seen[unit.treatment]++ < looks[i]) some.push_back(unit);
    const auto one = contrast(StandModel(some, 2, rho_from_beta(24)), 1, 0);
    claimed = is_claim(claim_together({&one, 1}, Looking::after_looking).front().claim);
  }
  made.claimed.see(claimed);
}

void after_looking(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("Verdict on the stand: trays added after looking");
  report.say("No difference; looked at with 2, 3, 4, 6 and 8 trays (or pairs) each and stopped at");
  report.say(
      "the first claim: the model's, at a Bayes factor of 20. Claimed at once: 6 and 6, 0.60");
  report.say("and 0.80. (Closed by hand on the day that pleases: see One trial.)");
  report.head({"layout", "stands", "rho", "wrong at any look", "claims where they differ"});
  constexpr double most = 0.065;
  constexpr int shortly = 300;
  const std::vector<int> looks{2, 3, 4, 6, 8};
  for (const bool pairs : effort.full ? std::vector<bool>{false, true} : std::vector<bool>{false})
    for (const int n : effort.full ? std::vector{25, 100} : std::vector{50})
      for (const double p : effort.full ? std::vector{0.6, 0.9} : std::vector{0.6})
        for (const double rho : effort.full ? std::vector{0.0, 0.1} : std::vector{0.1}) {
          auto trial = alike(pairs ? pairs_of(8, n) : spots_of({{8, 8}}, n), {p}, rho);
          if (pairs) {
            trial.truth.stands.clear();
            for (int b = 0; b < 8; ++b)
              trial.truth.stands.push_back(share_of(logit_of(p) + (b % 2 == 0 ? 0.7 : -0.7)));
          }
          const auto claims = [&](const SupposedTrial& whole, const std::vector<int>& at,
                                  double error) {
            return drawn<Looked>(
                       effort, shortly, ++seed,
                       [&](Random& random, Looked& made) { look(random, whole, at, made); },
                       {&Looked::claimed}, error)
                .claimed.share();
          };
          const double wrong = claims(trial, looks, rate_error);
          const double found =
              claims(two(spots_of({{6, 6}}, n), 0.6, 0.8, rho), {6}, 2 * power_error);
          const std::string name =
              pairs ? "pairs of " + std::to_string(n) : "trays of " + std::to_string(n);
          const std::string stands = pairs ? "about " + Report::number(2, p) : Report::number(2, p);
          report.row({name, stands, Report::number(2, rho), Report::percent(wrong),
                      pairs ? "" : Report::percent(found)});
          report.bar("wrong claims after looking, " + name + ", " + stands + ", rho " +
                         Report::number(2, rho),
                     wrong, 0, most + effort.rate_room(most, shortly));
        }
}

// The quick way of planning against whole trials judged by the model.
void plans(Report& report, const Effort& effort, std::uint64_t& seed) {
  report.heading("The stand: planning, by the quick way and by whole trials");
  report.say(
      "Share of supposed trials told more, fewer or neither. Mean and largest distance over");
  report.say("stands 0.80-0.60, 0.90-0.80, 0.90-0.90, 0.95-0.95, 0.98-0.88, and 3, 6, 12 trays or");
  report.say("pairs; 1,000 whole trials a cell (a chance distance of some 1.5 points in each).");
  report.head({"layout", "seeds", "rho", "mean distance", "largest"});
  const auto prior = rho_from_beta(24);
  const int trials = effort.of(200, 1000);
  for (const bool pairs : {false, true})
    for (const std::int64_t n :
         effort.full ? std::vector<std::int64_t>{25, 100} : std::vector<std::int64_t>{25})
      for (const double rho : effort.full ? std::vector{0.01, 0.05} : std::vector{0.05}) {
        double sum = 0, largest = 0;
        int cells = 0;
        for (const auto& [first, second] :
             effort.full ? std::vector<std::pair<double, double>>{{0.8, 0.6},
                                                                  {0.9, 0.8},
                                                                  {0.9, 0.9},
                                                                  {0.95, 0.95},
                                                                  {0.98, 0.88}}
                         : std::vector<std::pair<double, double>>{{0.8, 0.6}})
          for (const int k : effort.full ? std::vector{3, 6, 12} : std::vector{6}) {
            const SupposedStand supposed{first, second, rho, k, n, pairs, 1};
            const double whole = outlook(supposed, prior, 0.1, trials, ++seed).told();
            const double apart = std::fabs(whole - quick_outlook(supposed, prior, 0.1).told());
            sum += apart;
            largest = std::max(largest, apart);
            ++cells;
          }
        const std::string name = pairs ? "pairs" : "trays";
        report.row({name, std::to_string(n), Report::number(2, rho), Report::percent(sum / cells),
                    Report::percent(largest)});
        report.bar("planning, " + name + " of " + std::to_string(n) + ", rho " +
                       Report::number(2, rho) + ", mean distance",
                   sum / cells, 0, effort.full ? 0.05 : 0.15);
      }
}

}  // namespace

void stand_uses(Report& report, const Effort& effort) {
  std::uint64_t seed = 16'000;
  after_looking(report, effort, seed);
  plans(report, effort, seed);
}

}  // namespace plumule::calibration
