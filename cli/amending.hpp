// Correcting what was entered: a count, what was kept aside, a sowing's fields, a trial's plan, a
// treatment's facts. Each returns what changed, in words.
#pragma once

#include <string>
#include <vector>

#include "cli/command.hpp"
#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

// --label, --lot, --sown, --trial, --block, --jar: what only `amend` changes of a sowing.
void declare_identity(Options& options);
bool gives_identity(const Arguments& arguments);

// `value` as typed ("=12", "+3", "12-2"); empty takes the count out. Without --on, the last look.
std::vector<std::string> amend_count(logbook::Entry& entry, const Arguments& arguments,
                                     const records::Sowing& sowing, const std::string& value);
// "d3" or "r3".
std::string settle(logbook::Entry& entry, const records::Sowing& sowing, const std::string& id,
                   bool keep);
std::vector<std::string> amend_sowing(logbook::Entry& entry, const Arguments& arguments,
                                      const records::Sowing& sowing);
// Where a jar is recorded for a part of a trial's sowings of a treatment only: how many have one.
std::vector<std::string> jars_so_far(logbook::Logbook& logbook,
                                     const std::vector<records::Sowing>& amended);
// A sentence for each trial that these sowings belonged to, or do now, where it has been counted
// and what was changed of them will be held against it.
std::vector<std::string> changed_after_counts(logbook::Logbook& logbook,
                                              const std::vector<records::Sowing>& amended);

std::vector<std::string> amend_trial(logbook::Entry& entry, const Arguments& arguments,
                                     const std::string& code);
std::vector<std::string> amend_treatment(logbook::Entry& entry, const Arguments& arguments,
                                         const std::string& label);

}  // namespace plumule::cli
