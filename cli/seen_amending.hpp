// What was seen of a sowing besides its counts: listed with the ids by which `amend` takes it, and
// corrected.
#pragma once

#include <string>
#include <vector>

#include "cli/command.hpp"
#include "cli/showing/json.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/record/find.hpp"
#include "records/sowing.hpp"
#include "records/temperature.hpp"

namespace plumule::cli {

struct SeenLine {
  std::string id;  // a3 an assessment, t3 a temperature, n3 a note
  records::Moment at;
  std::string text;  // "3 rotted", "18 C", "bench: 8 to 24 C", a note's words
  std::string by;
};

// Assessments, temperatures (of the place where it stands, too), notes; each in order of time.
std::vector<SeenLine> seen_of(logbook::Logbook& logbook, const records::Sowing& sowing,
                              records::Degrees shown_in);
void show_seen(const Context& context, const std::vector<SeenLine>& seen);
Json to_json(const std::vector<SeenLine>& seen);

// `value` as typed after the name: "=18", "=8..24", "=2", "firm=2", a note's words; empty where
// only its day changes or it is taken out. What changed, in words.
std::vector<std::string> amend_seen(logbook::Entry& entry, const Arguments& arguments,
                                    const records::Sowing& sowing, const std::string& value);
// The same of a note on anything else.
std::vector<std::string> amend_note(logbook::Entry& entry, const Arguments& arguments,
                                    const logbook::Named& named, const std::string& value);

}  // namespace plumule::cli
