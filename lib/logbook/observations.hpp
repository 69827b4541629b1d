// What else is seen at the bench: assessments, temperatures, notes.
#pragma once

#include <vector>

#include "logbook/entry.hpp"
#include "records/assessment.hpp"
#include "records/note.hpp"

namespace plumule::logbook {

// Refused where more is assessed than did not come up.
records::Id add_assessment(Entry& entry, records::Id sowing, const records::Assessment& assessment);
std::vector<records::Assessment> assessments_of(Logbook& logbook, records::Id sowing);

records::Id add_temperature(Entry& entry, const records::Temperature& temperature);
std::vector<records::Temperature> temperatures_of(Logbook& logbook, records::Id sowing);
std::vector<records::Temperature> temperatures_at(Logbook& logbook, const std::string& place);

records::Id add_note(Entry& entry, const records::Note& note);
std::vector<records::Note> notes_of(Logbook& logbook, records::About about, records::Id of);

}  // namespace plumule::logbook
