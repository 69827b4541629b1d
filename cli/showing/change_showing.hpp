// Changes of what had been entered: of the fields of a sowing, trial, treatment or lot, and of
// counts.
#pragma once

#include <string>
#include <vector>

#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"
#include "records/note.hpp"
#include "records/temperature.hpp"

namespace plumule::cli {

struct Change {
  std::string at;  // UTC
  std::string by;
  std::string field;   // empty: a count, which `before` and `after` then name
  std::string before;  // empty: nothing
  std::string after;
  records::Id entry = 0;  // its line of the journal: what came first, also within a second
};

std::vector<Change> field_changes_of(logbook::Logbook& logbook, records::About about,
                                     records::Id id,
                                     records::Degrees shown_in = records::Degrees::celsius);

// "Changed since it was entered:" and a line each; nothing where there is none.
void show_changes(const Context& context, const std::vector<Change>& changes);
Json to_json(const std::vector<Change>& changes);

}  // namespace plumule::cli
