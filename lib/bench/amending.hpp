// Putting right what was entered: a count, what was kept aside, a sowing. What stood before is
// handed back, so that it can be told.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/count.hpp"
#include "records/sowing.hpp"
#include "records/treatment.hpp"

namespace plumule::bench {

struct CountAmended {
  records::Count was;
  struct Moved {
    records::Moment at;
    std::int64_t total = 0;  // ever up, now
    std::int64_t was = 0;
  };
  std::vector<Moved> moved;  // later looks whose total follows from it
};

// The count of that moment (of a day without a time, the one look of that day; none: the last one)
// becomes `entered`, or is taken out where there is no figure. Refused where no look or several are
// meant.
CountAmended amend_count(logbook::Entry& entry, const records::Sowing& sowing,
                         const std::optional<records::Moment>& on,
                         const std::optional<records::Typed>& entered);

// What was kept aside of the sowing under that name, "d3" (doubtful) or "r3" (a second reading),
// becomes the count of its moment, or is left out for good. Refused where there is none.
records::SetAside settle(logbook::Entry& entry, const records::Sowing& sowing,
                         const std::string& aside, bool keep);

// What is to change of a sowing beside its own fields; what is not set stays.
struct SowingChange {
  records::Sowing fields;                 // as it is to be, but for what follows
  std::optional<std::string> lot = {};    // brings its crop and variety
  std::optional<std::string> trial = {};  // empty: none; another trial has other blocks
  std::optional<std::string> block = {};
  std::optional<records::Treatment> treatment = {};  // another treatment was in another jar
  std::optional<std::string> jar = {};               // empty: none
  bool soak_changes = false;  // its treatment, wetting or day: the hours must agree with them
};

// The sowing as it now is. Its lot's stock follows. Throws records::Refused.
records::Sowing amend_sowing(logbook::Entry& entry, const records::Sowing& sowing,
                             const SowingChange& change);

}  // namespace plumule::bench
