// Where the counts go that a CourseScan has SQLite hand over.
#pragma once

#include <vector>

#include "records/count.hpp"

namespace plumule::logbook {

struct Gathering {
  std::vector<records::Count>* into = nullptr;  // null while nobody gathers
};

}  // namespace plumule::logbook
