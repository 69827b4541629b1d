// What stands on the bench, with all that was seen of it.
#pragma once

#include <vector>

#include "logbook/logbook.hpp"
#include "records/course.hpp"

namespace plumule::bench {

// Open sowings, in walking order.
std::vector<records::History> on_the_bench(logbook::Logbook& logbook);

}  // namespace plumule::bench
