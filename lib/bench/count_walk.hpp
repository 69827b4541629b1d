// The walk along the bench: which sowings are counted, in which order, and what an answer does.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "bench/counting.hpp"

namespace plumule::bench {

struct Stop {
  records::Sowing sowing;
  std::optional<records::Count> before;   // the last look before this one
  std::int64_t lost = 0;                  // by then
  std::string other;                      // who has counted it at this moment already
  bool due = false;                       // it is due that day
  bool blind = false;                     // the look before is not to be shown
  std::string aside;                      // what this walk has saved is this second reading
  std::optional<records::Entered> given;  // what this walk has saved
};

struct CountWalk {
  std::vector<Stop> stops;  // those that are due first, each part in walking order
  std::int64_t counted_already = 0;
};

// The open sowings that were sown before that day, without those that this person has counted at
// that moment already. `due`: labels of those that the day asks for.
CountWalk count_walk(logbook::Logbook& logbook, const records::Moment& at, const std::string& by,
                     const std::set<std::string>& due);

// Saves the answer at a stop, or changes what this walk saved there before (no figure takes it
// back). What was noted, of a first answer; none where an earlier one was changed. Refused where a
// second reading was given: which of the two holds is settled otherwise.
std::optional<Noted> answer(logbook::Entry& entry, const records::Moment& at, Stop& stop,
                            const std::optional<records::Typed>& typed);

}  // namespace plumule::bench
