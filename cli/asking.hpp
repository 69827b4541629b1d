// What the answering commands share: the names they are about, their options, how to show.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "analysis/summary/group_builder.hpp"
#include "cli/command.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/histories.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::cli {

report::Style style_of(const Context& context);

// What the words name; none means the whole logbook. Refused where a word is nothing or two things.
std::vector<logbook::Named> named_words(logbook::Logbook& logbook, const Arguments& arguments);

// Every sowing that any of the names is about, once; with `whole_trials` instead every sowing of
// the trials that those are in.
void each_named(logbook::Logbook& logbook, const std::vector<logbook::Named>& names,
                const std::function<void(const records::History&)>& take,
                bool whole_trials = false);

// Remembers which labels two sowings share, so that each is looked up once.
std::function<bool(const std::string&)> shared_labels(logbook::Logbook& logbook);

// --level, --rho, --model, --seed: declared and, but for --rho (own_rho.hpp), read in one place.
void declare_statistics(Options& options);
// Throws WrongUsage for a level or rho out of range.
analysis::GroupOptions statistics_options(const Arguments& arguments);

// "0.9", "90" or "90%": 0.9. Throws WrongUsage unless it lies strictly between 0 and 1.
double level_of(const Arguments& arguments, double otherwise = 0.95);

}  // namespace plumule::cli
