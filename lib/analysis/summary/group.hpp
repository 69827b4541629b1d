// A group of sowings as one answer: how many came up, how many stand, in how many days, and what is
// not known. The sowings of a lot, a treatment, a trial, a crop, a season, or a single one.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "analysis/summary/stand.hpp"
#include "records/assessment.hpp"
#include "records/sowing.hpp"
#include "stats/inference/t_test.hpp"
#include "stats/times/emergence_indices.hpp"
#include "stats/times/emergence_model.hpp"
#include "stats/times/npmle.hpp"

namespace plumule::analysis {

// The handbook indices of the group counted as one sowing, on both clocks, and the mean days with
// the interval that the spread between sowings gives.
struct Days {
  stats::EmergenceIndices indices;  // since sowing
  // Since wetting; only where some seed of the group was wetted before it was sown.
  std::optional<stats::EmergenceIndices> since_wetting;
  // Of the units' mean days (middle of the count interval); a unit is a sowing, or all that were
  // treated in one jar.
  stats::TTest between_sowings;
  std::optional<double> midway;  // their mean, also where one unit or no spread gives no interval
  stats::TTest between_t50;      // likewise of the days by which half of those up were up
  int nothing_up = 0;            // sowings with nothing up: not among those means
  bool same_looks = true;        // all were looked at on the same days
};

// Allowing for the gaps between looks.
struct GapDays {
  stats::Npmle estimate;
  std::optional<stats::Between> mean;                       // of those that emerged
  std::optional<stats::MassPoint> t10, t25, t50, t75, t90;  // of those that emerged
  std::optional<stats::MassPoint> t50_sown;                 // of all sown
};

// Whether the time model was fitted.
enum class Modelled { yes, not_asked, no_looks, too_many_sowings };

// How many were up by a day that was asked for; of sowings of a known number sown that were
// followed so far, also of those stopped later.
struct ByDay {
  double day = 0;
  int sowings = 0;
  int not_followed = 0;       // last looked at before that day: left out
  std::int64_t seeds = 0;     // sown in those counted
  std::int64_t at_least = 0;  // up at the last look until that day
  std::int64_t at_most = 0;   // up at the first look from that day on
  // Tray-aware: the lower end of the fewest, the upper end of the most; none without sowings. It
  // holds both shares.
  std::optional<stats::Interval> interval;
  bool interval_moved = false;  // by itself it would not (hold_share)
};

struct Seedlings {
  std::int64_t seedlings = 0;      // in all that were counted
  std::int64_t units_up = 0;       // of the looks that counted both
  std::int64_t of_units = 0;       // seedlings of those looks
  std::optional<double> per_unit;  // seedlings to a unit that came up
  double metres = 0;               // of the rows whose number sown is not known
  std::int64_t in_rows = 0;        // seedlings in them
  std::optional<double> per_metre;
};

// Of the sowings that were looked at, but of which nobody knows how many were sown: they tell days
// and no percentage.
struct NumberUnknown {
  std::int64_t sowings = 0;
  std::int64_t emerged = 0;
  std::int64_t lost = 0;
};

struct Group {
  std::string key;   // no other group of the answer has it
  std::string name;  // as it is shown: groups that differ in counting or unit may share it
  records::Counting counting = records::Counting::shoot_up;
  records::UnitKind unit = records::UnitKind::seed;
  std::optional<records::Date> first_sown;
  std::optional<records::Date> last_sown;
  std::int64_t sowings = 0;
  std::int64_t open = 0;           // not ended
  std::int64_t not_looked_at = 0;  // no look yet: in no figure but `sowings` and the next
  std::int64_t seeds_not_looked_at = 0;
  std::int64_t units_unknown = 0;  // sowings of an unknown number sown, looked at or not
  // These belong together: units sown, ever up in them and lost of those, of the sowings that were
  // looked at and whose number sown is known.
  std::int64_t seeds = 0;
  std::int64_t emerged = 0;
  std::int64_t lost = 0;
  NumberUnknown unknown;
  bool guessed = false;
  bool units_estimated = false;
  std::vector<std::string> stopped_early;      // by accident: in neither percentage nor indices
  std::vector<std::string> not_followed;       // looked at no more while others came up: likewise
  std::vector<std::string> accidents_counted;  // stopped once nothing more came up elsewhere
  bool not_final = false;    // the figures are of stopped sowings alone: more might have come
  bool by_accident = false;  // those were stopped by an accident
  bool shared_jars = false;  // of sowings treated in one jar: in the ranges they count as one
  Stand stand;               // ever up
  // Of the same sowings those that stand: up less what was lost. Only where any of them lost some.
  std::optional<Stand> standing;
  std::optional<Agreement> agreement;
  std::optional<ByDay> by_day;
  Days days;
  std::optional<GapDays> gaps;
  Modelled modelled = Modelled::not_asked;
  std::optional<stats::EmergenceModel> model;  // of one sowing without ranges
  Seedlings seedlings;
  std::map<records::Outcome, std::int64_t> rest;  // what became of those that did not come up

  // Ever up, and lost of those, whether or not it is known how many were sown.
  std::int64_t up_in_all() const { return emerged + unknown.emerged; }
  std::int64_t lost_in_all() const { return lost + unknown.lost; }
};

}  // namespace plumule::analysis
