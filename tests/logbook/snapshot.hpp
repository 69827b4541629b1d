// The record of a logbook as text, byte for byte, to be compared before and after.
#pragma once

#include <string>

#include "logbook/logbook.hpp"

namespace plumule::tests {

// Every row of every table but the journal and the ledger of changes.
std::string record_of(logbook::Logbook& logbook);
// These two as well.
std::string all_of(logbook::Logbook& logbook);

}  // namespace plumule::tests
