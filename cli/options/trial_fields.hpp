// The trial that a sowing belongs to, from options: the one named, or a new one; none joins by
// itself.
#pragma once

#include <string>
#include <vector>

#include "cli/options/arguments.hpp"
#include "logbook/journal/entry.hpp"
#include "records/trial.hpp"

namespace plumule::cli {

// --question, --until, --every, --worth, --blind, --open-eyed: the plan of a trial.
void declare_trial_plan(Options& options);
bool gives_trial_plan(const Arguments& arguments);
// Lays the plan over the trial; planned looks run from the day after `sown` to its last day.
void lay_plan(const Arguments& arguments, records::Date sown, records::Trial& trial);

// Each part of the plan that differs, in words.
std::vector<std::string> differences(const records::Trial& before, const records::Trial& after);

struct ChosenTrial {
  std::string code;  // empty: none
  bool made = false;
  std::string hint;  // where none was named: an open trial with the lot, that may have been meant
};

// The trial of a sowing of these lots on that day. Not named, or "none", is no trial; a block
// without a trial is Refused. A name that is not there is made where its plan or --new is given,
// else Refused with the nearest.
ChosenTrial trial_typed(logbook::Entry& entry, const Arguments& arguments,
                        const std::vector<std::string>& lots, records::Date sown, bool whole_trial);

}  // namespace plumule::cli
