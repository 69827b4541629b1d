// The trial that a sowing belongs to, and its plan, from options.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "bench/trials.hpp"
#include "cli/options/arguments.hpp"
#include "records/trial.hpp"

namespace plumule::cli {

// --question, --until, --every, --worth, --blind, --open-eyed: the plan of a trial.
void declare_trial_plan(Options& options);
bool gives_trial_plan(const Arguments& arguments);
// Throws WrongUsage where two things are said at once.
bench::TrialPlan plan_typed(const Arguments& arguments);
// Throws WrongUsage where looks are planned and the last day (else the one `planned` already) is
// missing or not after the sowing.
void check_looks(const bench::TrialPlan& plan, const std::optional<records::Date>& planned,
                 records::Date sown);

// Each part of the plan that differs, in words.
std::vector<std::string> differences(const records::Trial& before, const records::Trial& after);

// --trial, with the plan beside it; a whole trial may be a new one.
bench::TrialAsked trial_typed(const Arguments& arguments, bool whole_trial);

}  // namespace plumule::cli
