// Opening the logbook for a command, and writing to it.
#pragma once

#include "cli/command.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/logbook.hpp"

namespace plumule::cli {

// The logbook of the context; says so on stderr where an older one was brought up to date,
// or something was found beside it.
logbook::Logbook open_logbook(Context& context, logbook::Access access);

// What that says, of a logbook that was opened otherwise.
void tell_opening(const Context& context, const logbook::Logbook& opened);

// Says on stderr what was found beside a file, left by a stopped command, and where it is kept.
void tell(const Context& context, const logbook::Leftovers& leftovers);

// A file was made, and stays whether or not the answer can be given: `words` say which.
void made(Context& context, const std::string& words);

// An entry by the context's person, command and day.
logbook::Entry begin(logbook::Logbook& logbook, const Context& context);

}  // namespace plumule::cli
