// What is kept beside the course: doubtful counts and second readings, and settling them.
#pragma once

#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/count.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// A figure truly seen that the rules refuse, kept outside every figure until it is settled.
records::Id keep_doubtful(Entry& entry, const records::Sowing& sowing, const records::Count& count,
                          const std::string& why);

// Settles what was kept aside: `kept` puts it in place of (or as) the count at its moment,
// `dropped` leaves it out for good.
enum class Settled { kept, dropped };
void settle_doubtful(Entry& entry, records::Id doubtful, Settled how);
void settle_second_reading(Entry& entry, records::Id reading, Settled how);

std::vector<records::SetAside> doubtful_of(Logbook& logbook, records::Id sowing);  // unsettled
std::vector<records::SetAside> second_readings_of(Logbook& logbook, records::Id sowing);

}  // namespace plumule::logbook
