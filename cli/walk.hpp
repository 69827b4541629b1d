// The walk along the bench: each open sowing in its turn, one answer each.
#pragma once

#include "cli/command.hpp"
#include "logbook/logbook.hpp"
#include "records/date.hpp"

namespace plumule::cli {

// Those that are due that day are asked for first, then the others, each part in walking order.
// Asks on stdout and reads answers from stdin, a terminal or not. Every answer is an entry of its
// own and committed before the next question: nothing that was given is lost, however the walk
// ends, and `undo` takes back one answer at a time. Passes over what this person has counted at
// that moment already. Throws logbook::Unusable.
void walk(const Context& context, logbook::Logbook& logbook, const records::Moment& at);

}  // namespace plumule::cli
