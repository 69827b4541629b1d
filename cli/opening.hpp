// Opening the logbook for a command, and writing to it.
#pragma once

#include "cli/command.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/logbook.hpp"

namespace plumule::cli {

// The logbook of the context; says so on stderr where an older one was brought up to date.
logbook::Logbook open_logbook(Context& context, logbook::Access access);

// An entry by the context's person, command and day.
logbook::Entry begin(logbook::Logbook& logbook, const Context& context);

}  // namespace plumule::cli
