// Trials with their blocks and planned inspections.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/trial.hpp"

namespace plumule::logbook {

records::Id add_trial(Entry& entry, const records::Trial& trial);
void change_trial(Entry& entry, const records::Trial& trial);  // may add blocks and days
// Whether earlier figures of its sowings are hidden; of a sowing of no trial (empty) they are not.
bool is_blind(Logbook& logbook, const std::string& code);
std::optional<records::Trial> find_trial(Logbook& logbook, const std::string& code);
records::Trial trial_named(Logbook& logbook, const std::string& code);
std::vector<records::Trial> trials(Logbook& logbook);

}  // namespace plumule::logbook
