// The trial that a sowing belongs to, from options: the one named, the only open one, or a new one.
#pragma once

#include <string>
#include <vector>

#include "cli/arguments.hpp"
#include "logbook/entry.hpp"
#include "records/trial.hpp"

namespace plumule::cli {

// --question, --until, --every, --worth, --blind, --open-eyed: the plan of a trial.
void declare_trial_plan(Options& options);
bool gives_trial_plan(const Arguments& arguments);
// Lays the plan over the trial; planned looks run from the day after `sown` to its last day.
void lay_plan(const Arguments& arguments, records::Date sown, records::Trial& trial);

// Each part of the plan that differs, in words.
std::vector<std::string> differences(const records::Trial& before, const records::Trial& after);

// Trials with a sowing that is still open.
std::vector<std::string> open_trials(logbook::Logbook& logbook);

struct ChosenTrial {
  std::string code;  // empty: none
  bool made = false;
  std::string why;  // a sentence where it was not named but known
};

// The trial of a sowing of `lot` on that day. Not named, it is the only open one where a block is
// named or that trial has the lot already. "none" is no trial. A name that is not there is made
// where its plan or --new is given, else Refused with the nearest.
ChosenTrial trial_typed(logbook::Entry& entry, const Arguments& arguments,
                        const std::vector<std::string>& lots, records::Date sown, bool whole_trial);

}  // namespace plumule::cli
