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

// What was typed of that moment by that person (empty: nobody). A number alone is read as
// records::settle_plain says; `typed` becomes what it was taken as. Refused where the course cannot
// hold it (records::explain), where the moment is after the entry's today, and where another figure
// of the same counter stands (towards `amend`).
Kept record_typed(Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                  const std::string& by, records::Typed& typed);
// The same of a figure that is meant as it stands.
Kept record_count(Entry& entry, const records::Sowing& sowing, const records::Count& count);

// The count at that moment becomes what is typed; what it was stays in the journal. With nothing
// typed the count is taken out of the course (it was of another sowing, or never made). A number
// alone is read as above. Of a blind trial amend_count names earlier figures in its refusals, as to
// whoever asks for them; amend_typed does not, and `typed` becomes what it was taken as.
void amend_count(Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 std::optional<records::Typed> typed);
void amend_typed(Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 std::optional<records::Typed>& typed);

std::vector<records::Count> counts_of(Logbook& logbook, records::Id sowing);

}  // namespace plumule::logbook
