// One sowing's course on the screen: its counts, what was kept aside, and what was corrected.
#pragma once

#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

// What is kept aside is named d3 (doubtful) or r3 (a second reading), so that it can be settled.
void show_course(const Context& context, logbook::Logbook& logbook, const records::Sowing& sowing);
Json course_answer(logbook::Logbook& logbook, const records::Sowing& sowing);

}  // namespace plumule::cli
