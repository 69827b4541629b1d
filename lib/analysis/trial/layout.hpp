// A trial as it was laid out: which sowings can be compared, what the experimental units are, and
// within what lots were drawn.
#pragma once

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
};

// What a treatment was applied to: one sowing, or all that shared a jar or a heat mat.
struct Unit {
  std::string code;  // the sowing's name, or the batch's code
  bool batch = false;
  std::size_t treatment = 0;         // index
  int stratum = 0;                   // index
  int source = 0;                    // its seed lot and trial: index
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
  std::vector<std::string> strata;      // names; a single empty one where no block is recorded
  bool blocks_recorded = false;
  int blocks = 0;  // as recorded; strata are kept apart by seed lot and trial as well
  bool batches_recorded = false;
  std::vector<std::string> sources;  // names of lots and trials; one alone is empty
  bool jar_across_blocks = false;    // a batch lies in several blocks: blocks can't be used
  bool jar_across_lots = false;      // likewise several seed lots or trials
  bool several_lots = false;         // lots are kept apart as blocks are
  bool several_trials = false;       // likewise; nothing is claimed of several taken together
  std::vector<std::string> trials;   // their codes, by name; without those of no trial
  std::vector<LeftOut> left_out;
};

// Takes all histories, and keeps none; those that count otherwise, or whose units are of another
// kind than most, are left out and named. Those stopped before others had done (StoppedSowings)
// have no final stand.
TrialLayout trial_layout(std::span<const records::History> histories,
                         std::span<const records::Treatment> treatments);

// Whether each source has both treatments, with something to compare. A source that lacks one of
// them tells of the seed lot, not of the treatment.
std::vector<bool> sources_of_both(const TrialLayout& layout, std::size_t treatment,
                                  std::size_t against);

// Which blocks hold both of two treatments, and whether a claim goes by the differences within
// them: by the layout, never by what came up.
struct BlockChoice {
  std::vector<bool> both;  // each stratum of the layout (block, seed lot and trial)
  bool judged = false;     // claims go by differences within them
};

// What of a unit can be compared: a final stand; or days, which a stopped sowing has none of.
enum class Compared { stand, days };

// stats::judged_within_blocks of the units that have it.
BlockChoice block_choice(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                         Compared what);

}  // namespace plumule::analysis
