// What --rho asks for: a number, or `own`, which is learned from the logbook.
#pragma once

#include "analysis/rho/rho_choice.hpp"
#include "cli/options/arguments.hpp"
#include "logbook/logbook.hpp"

namespace plumule::cli {

void declare_rho(Options& options, std::string_view help);

// Reads all lots where it is `own`, one at a time; as of --today, where that is given.
analysis::RhoChoice rho_of(logbook::Logbook& logbook, const Arguments& arguments);

}  // namespace plumule::cli
