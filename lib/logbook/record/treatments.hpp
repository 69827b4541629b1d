// Treatments, and the batches of seed that were treated together.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/treatment.hpp"

namespace plumule::logbook {

records::Id add_treatment(Entry& entry, const records::Treatment& treatment);
void change_treatment(Entry& entry, const records::Treatment& treatment);
std::optional<records::Treatment> find_treatment(Logbook& logbook, const std::string& label);
records::Treatment treatment_named(Logbook& logbook, const std::string& label);
std::vector<records::Treatment> treatments(Logbook& logbook);

records::Id add_batch(Entry& entry, const records::Batch& batch);
std::optional<records::Batch> find_batch(Logbook& logbook, const std::string& code);

}  // namespace plumule::logbook
