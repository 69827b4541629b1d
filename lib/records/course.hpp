// A sowing's course: its counts in order of time, the totals that follow from what was entered,
// and the rules that every course keeps. One count, an amended one and an import all pass here.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "records/assessment.hpp"
#include "records/count.hpp"
#include "records/refused.hpp"
#include "records/sowing.hpp"

namespace plumule::records {

// What is wrong at one count of a course; `explain` makes a refusal of it.
enum class Fault {
  before_sowing,          // counted before it was sown
  up_at_sowing,           // something up on the very day of sowing
  after_ending,           // counted after the sowing ended
  total_falls,            // fewer ever up than at the look before
  guess_below,            // the low end of a guess lies below the look before
  more_than_sown,         // more up than units sown
  standing_rises,         // lost more than stood, and it was not said that some came up meanwhile
  seedlings_fall,         // fewer seedlings in all than at the look before
  seedlings_below_units,  // fewer seedlings than units with at least one
  seedlings_over_seeds,   // more seedlings than seeds in the cells
  total_where_taken_out,  // a total where sprouts are taken out at each look
  two_readings,           // a number alone after a loss: up in all, or standing now
  absurd_number,          // negative, or beyond 1e9
};

struct Trouble {
  std::size_t index = 0;  // in the course
  Fault fault = Fault::total_falls;
};

// Sets each count's `total` from what was entered; `counts` must be in order of time. Returns the
// first trouble, or none. Totals up to the trouble are set.
//   total: the figure itself.   newly: the total before + the figure.
//   standing: standing now + all lost so far.   seedlings: the total before.
// Of a guess the middle counts, rounded down, but no more than a later look leaves room for: the
// next total or standing count less what was newly counted between (a guess there counts by its low
// end), as long as that is at least the guess's low end. So a firm figure inside an earlier guess
// settles it, and nobody need have died. Its low end is held against the look before (against
// that one's low end, where it was a guess too), its high end against the units sown.
// Days alone are compared where either time of day is unknown.
std::optional<Trouble> derive(const Sowing& sowing, std::vector<Count>& counts);

// The first look that is new or changed in `now` (both derived, in order of time) and lost more
// than stood at the look before. That can be (they came up and were lost between the two looks), so
// `derive` takes it; but as it is more often a slip it must have been said: `came_lost` of the look
// `typed`. A look that `was` so before is left alone.
std::optional<Trouble> more_lost_than_stood(const std::vector<Count>& was,
                                            const std::vector<Count>& now, std::size_t typed,
                                            std::int64_t came_lost);

// A number alone at `index`, entered there as up in all. Where some were lost at looks before it,
// it may as well be what stands now: the figure there becomes that reading which the course allows
// (from what stood before to below what was ever up that is what stands, with none lost since).
// Where both hold it is left, and `two_readings` returned; where neither does, `derive` tells why.
// The totals are not set.
std::optional<Trouble> settle_plain(const Sowing& sowing, std::vector<Count>& counts,
                                    std::size_t index);

// Whether a sentence may name earlier figures. In a blind trial they are hidden: it then says only
// on which side of them the entered one lies.
enum class Figures { shown, hidden };

// The refusal for a trouble: what was seen before, and what may have happened.
// `entered` is the count that is being entered, which may not be the one where the rule breaks;
// past the end where none is (the sowing itself was changed). With `today`, a count of another day
// is told by its day, not as "now".
Refusal explain(const Sowing& sowing, const std::vector<Count>& counts, const Trouble& trouble,
                std::size_t entered, std::optional<Date> today = std::nullopt,
                Figures figures = Figures::shown);

// How many stand at the count `index` (ever up less lost so far).
std::int64_t standing_at(const std::vector<Count>& counts, std::size_t index);

// All that was seen of one sowing: what analysis takes.
struct History {
  Sowing sowing;
  std::vector<Count> counts;  // current ones, in order of time; `by` is not filled in
  std::vector<Assessment> assessments;
  std::vector<Temperature> temperatures;
};

}  // namespace plumule::records
