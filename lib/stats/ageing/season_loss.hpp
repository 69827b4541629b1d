// What a season costs when seed is used that may be old: sown, sown thicker, sown with a fresh
// packet at hand, or replaced.
#pragma once

namespace plumule::stats {

// All costs in packets of this seed; the defaults are judgement, the grower's to set. Each 0 or
// more.
struct SeasonCosts {
  double packet = 1;
  double fetching = 2.0 / 3;   // the way to get one
  double crop = 6;             // what the season's crop is worth
  double late = 0.3;           // share of the crop lost where it is sown again, too late
  double late_at_hand = 0.15;  // the same where fresh seed was at hand, and fills the gaps at once
  double surplus = 0.02;       // of a plant, for each seedling to be thinned out
  double test = 1.0 / 6;       // the work of a test
  double seed = 1.0 / 100;     // a seed that is tested: a packet holds a hundred
  double kept_packet = 1.0 / 2;  // share of its price that a packet not opened loses to next season
};

// Throws std::domain_error for a cost below 0, or one that is no number.
void check_costs(const SeasonCosts& costs);

enum class Way { sow, sow_and_buy, replace };

// What was planned is the stand of seed at its standard, sown as usual. Of seed of which p is
// alive, sown `times` as thick, `times * p / standard` of it comes up; let m be what is missing of
// it.
// - sow: m of the crop, but at most the late share, a packet and fetching it, as one can sow again;
//   what is over is thinned.
// - sow_and_buy: fetching, and a packet of which m is used, the rest of it being kept; what fills
//   the gaps is less late; what is over is thinned.
// - replace: a packet and fetching it (times and p are nothing).
// 0 <= p <= 1, 0 < standard <= 1, times above 0, as the caller has seen to.
double season_loss(Way way, double times, double p, double standard, const SeasonCosts& costs);

}  // namespace plumule::stats
