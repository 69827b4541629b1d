// Counts: entered and corrected. Every write passes records::derive over the whole course
// of the sowing, and moves the derived totals that follow in the same transaction.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/course.hpp"

namespace plumule::logbook {

enum class Kept {
  saved,
  nothing_new,     // the same figure stood there already
  second_reading,  // another person's figure for a look that has one
};

// Refused where the course cannot hold it (records::explain), where the moment is after the
// entry's today, and where another figure of the same counter stands (towards `amend`).
Kept record_count(Entry& entry, const records::Sowing& sowing, const records::Count& count);

// The count at that moment becomes `entered`; what it was stays in the journal. With no entered
// figure the count is taken out of the course (it was of another sowing, or never made).
void amend_count(Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 const std::optional<records::Entered>& entered);

std::vector<records::Count> counts_of(Logbook& logbook, records::Id sowing);

}  // namespace plumule::logbook
