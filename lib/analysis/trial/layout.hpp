// A trial as it was laid out: which sowings can be compared, what the experimental units are, and
// within what lots were drawn.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/course/sowing_course.hpp"
#include "records/course.hpp"

namespace plumule::analysis {

// A sowing of the trial with its numbers.
struct TrialSowing {
  std::size_t place = 0;  // index into the histories that the layout was made of
  records::Setting setting = records::Setting::tray;
  std::string name;  // its label, with the date where two of the answer share it
  SowingCourse course;
  std::optional<records::Date> last_counted;
  bool in_stand = false;  // a final count of a known number sown
  bool at_rest = false;   // done by itself: all up, failed, or nothing new for long enough
  // It met an accident, or was looked at no more, before the others had finished coming up: it has
  // no final stand and no mean days.
  bool stopped = false;
  std::vector<std::string> across;  // its level of each factor in TrialLayout::jar_across
};

// What does something to all that lie in it alike, and so could pass for a treatment's doing.
enum class Factor { block, lot, trial, place, day, setting };
inline constexpr std::array every_factor = {Factor::block, Factor::lot, Factor::trial,
                                            Factor::place, Factor::day, Factor::setting};

// What a treatment was applied to: one sowing, or all that shared a jar or a heat mat.
struct Unit {
  std::string code;  // the sowing's name, or the batch's code
  bool batch = false;
  std::size_t treatment = 0;         // index
  int stratum = 0;                   // index
  std::vector<int> levels;           // of each factor in TrialLayout::kept_apart
  std::vector<std::size_t> sowings;  // indices
};

enum class LeftOutWhy {
  counts_otherwise,  // counts roots where the others count shoots (never pooled)
  other_unit,        // cells where the others are seeds
  not_looked_at,     // no look yet
  stopped_early,     // an accident before others had done: no final stand, no mean days
  not_followed,      // looked at no more while others were still coming up: likewise
  units_unknown,     // no percentage; its days are used
};

struct LeftOut {
  std::string sowing;
  LeftOutWhy why = LeftOutWhy::not_looked_at;
};

// Whether it is known which sowings of a treatment had their seed treated together.
struct JarsKnown {
  int recorded = 0;                          // sowings with a jar or mat
  std::vector<std::string> not_recorded_of;  // the others

  // Recorded of some only: the others may share a jar with those, so the number of units is
  // unknown.
  bool partly() const { return recorded > 0 && !not_recorded_of.empty(); }
};

struct TrialLayout {
  std::vector<TrialSowing> sowings;     // those compared, by name
  std::vector<std::string> treatments;  // by name (numbers by their value)
  std::vector<JarsKnown> jars;          // of each treatment
  std::vector<Unit> units;              // by code
  // Factors that lie across the units with several levels; a stratum is a level of each. Places
  // and days are kept apart only where one of them holds two units or more: a place of its own is
  // part of a tray. Days of sowing count as one up to three days after the first of them (common
  // practice, no source): soaked seed is often sown a day or two after the rest.
  std::vector<Factor> kept_apart;
  std::vector<std::string> strata;      // names; a single empty one where nothing is kept apart
  std::vector<Factor> partly_recorded;  // of those kept apart: not recorded of some sowings
  std::vector<Factor> jar_across;       // a batch lies in several levels of these: not kept apart
  std::vector<std::string> blocks;      // as recorded, by name
  bool batches_recorded = false;
  bool several_lots = false;
  bool several_trials = false;      // nothing is claimed of several taken together
  std::vector<std::string> trials;  // their codes, by name; without those of no trial
  std::vector<LeftOut> left_out;
};

// Takes all histories, and keeps none; those that count otherwise, or whose units are of another
// kind than most, are left out and named. Those stopped before others had done (StoppedSowings)
// have no final stand.
TrialLayout trial_layout(std::span<const records::History> histories,
                         std::span<const records::Treatment> treatments);

// What of a unit can be compared: a final stand; or days, which a stopped sowing has none of.
enum class Compared { stand, days };

bool has(const TrialLayout& layout, const Unit& unit, Compared what);

// All of a unit with a final stand put together; none without one.
struct UnitStand {
  std::int64_t up = 0, lost = 0, sown = 0;
  double fraction = 0;  // up: the unweighted mean of its sowings'
};
std::optional<UnitStand> unit_stand(const TrialLayout& layout, const Unit& unit);

// How two treatments lie in the strata, by the units that can be compared.
struct StrataOfTwo {
  std::vector<bool> both;  // each stratum: holds both
  bool any = false;        // some stratum does
  // Days go by the differences within strata (stats::judged_within_blocks): by the layout, never by
  // what came up.
  bool judged_within = false;
};
StrataOfTwo strata_of_two(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                          Compared what);

// What the two cannot be told apart from: where no stratum holds both, the single factor whose
// every level holds one of them only, else all that are kept apart; or what a jar lies across (so
// that it is not kept apart) where its levels hold different shares of the two. Empty where they
// can.
std::vector<Factor> parted_by(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                              Compared what);

}  // namespace plumule::analysis
