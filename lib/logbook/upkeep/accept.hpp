// Taking a logbook's file as another program left it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "logbook/file/leftover.hpp"

namespace plumule::logbook {

struct Accepted {
  std::vector<std::string> commands;  // whose rows are not what they wrote
  std::string former;  // where the file lies as it was found; empty: nothing to accept
  Leftovers leftovers;
};

// Where every rule of file and record holds, a sealed copy of what stands takes the file's place,
// and each journal line keeps what stands by it now. The file as it was found is kept beside it.
// Throws Unusable, and leaves all as it was, where a rule does not hold.
Accepted accept(const std::string& path);

}  // namespace plumule::logbook
