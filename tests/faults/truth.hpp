// What may be said and what may stand in the folder after a command that met a fault.
#pragma once

#include <string>

#include "faults/scenes.hpp"

namespace plumule::tests {

// What the folder holds before a command and after it, and its answer, where nothing fails.
struct Expected {
  Holdings before, after;
  Answer answer;
};
Expected expect(const Scene& scene, const Deal& deal, const std::string& place);

// The first thing that is not so, or nothing: status and sentence agree with what the folder holds,
// which is all of the command or nothing of it.
std::string first_untruth(const Deal& deal, const Expected& expected, const Answer& answer,
                          const std::string& place);

// The disk works again: the same command ends as it would have, unless it was done already.
std::string works_again(const Deal& deal, const Expected& expected, const Answer& answer,
                        const std::string& place);

// What the folder holds is what stood there before or what the command makes of it, file by file;
// `done` is true where it must be the latter. Empty, or what is not so.
std::string whole(const Expected& expected, bool done, const std::string& place);

}  // namespace plumule::tests
