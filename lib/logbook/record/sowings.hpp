// Sowings: laid out, found by label (sowing_names.cpp), changed, ended.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// Lot, treatment, batch, trial and block must exist (the block is added to its trial if new).
// Refuses a label that is still open (says since when, and how to end it or sow it over), the same
// label and day twice, a batch of another treatment, a crop that is not the lot's, and a date in
// the future. A sowing may be added with its ending, also before a later one of the same label.
records::Id add_sowing(Entry& entry, const records::Sowing& sowing);
// The first sowing of that label after the moment, which closes one sown then that was never ended.
std::optional<records::Sowing> sown_next(Logbook& logbook, const std::string& label,
                                         const records::Moment& after);
// Every field as given, as far as its counts and assessments allow. `place` is where it stands now.
void change_sowing(Entry& entry, const records::Sowing& sowing);
// Refused where it has ended already (one that was only sown over may still be given the ending it
// had), before its last count, and in the future.
void end_sowing(Entry& entry, records::Id sowing, const records::Ending& ending);
// Takes an ending back. Refused while another sowing of the label is open.
void reopen_sowing(Entry& entry, records::Id sowing);

// "A1": the open sowing of that label, else the latest; "A1@2025", "A1@2025-04-03": the one sown
// then. Refused with the nearest labels where there is none, and with the dates where two fit.
records::Sowing sowing_named(Logbook& logbook, const std::string& name);
std::optional<records::Sowing> find_sowing(Logbook& logbook, const std::string& name);
records::Sowing sowing_by_id(Logbook& logbook, records::Id id);

// In walking order: the place where each stands now, bench order, then label with its numbers in
// order (A2 before A10).
std::vector<records::Sowing> open_sowings(Logbook& logbook);
// Whether more than one sowing bears the label, so that it needs its date to be told apart.
bool label_shared(Logbook& logbook, const std::string& label);

}  // namespace plumule::logbook
