// Sowings as stored: one select for all that read them.
#pragma once

#include <string>

#include "logbook/store/store.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// "select ... from sowings s ..." with its joins; a where clause follows.
extern const std::string select_sowing;
// The same with the place where it was sown, whether or not it was moved since.
extern const std::string select_sowing_as_sown;
records::Sowing sowing_in(const Query& row);

}  // namespace plumule::logbook
