// What else is seen at the bench: assessments, temperatures, notes; entered and corrected.
#pragma once

#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/assessment.hpp"
#include "records/note.hpp"

namespace plumule::logbook {

// Refused where more is assessed than did not come up.
records::Id add_assessment(Entry& entry, records::Id sowing, const records::Assessment& assessment);
// It takes the place of the one of its id, and is laid anew: the id becomes another.
void amend_assessment(Entry& entry, records::Id sowing, const records::Assessment& assessment);
std::vector<records::Assessment> assessments_of(Logbook& logbook, records::Id sowing);

records::Id add_temperature(Entry& entry, const records::Temperature& temperature);
// Degrees, day and time of the one of its id; where it was read stays.
void amend_temperature(Entry& entry, const records::Temperature& temperature);
std::vector<records::Temperature> temperatures_of(Logbook& logbook, records::Id sowing);
std::vector<records::Temperature> temperatures_at(Logbook& logbook, const std::string& place);

records::Id add_note(Entry& entry, const records::Note& note);
// Words and day of the one of its id.
void amend_note(Entry& entry, const records::Note& note);
std::vector<records::Note> notes_of(Logbook& logbook, records::About about, records::Id of);

// What was never seen, or of another sowing, goes; as with every correction, the journal keeps it.
enum class Seen { assessment, temperature, note };
void take_out_seen(Entry& entry, Seen what, records::Id id);

}  // namespace plumule::logbook
