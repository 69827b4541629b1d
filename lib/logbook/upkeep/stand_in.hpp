// One finished file takes the place of another, which is kept.
#pragma once

#include <optional>
#include <string>

namespace plumule::logbook {

// `finished`, synced and marked, is `path` from now on, durably. Returns the name under which what
// stood there lies, its journal beside it; an unlocked regular file has to stand there. Waits up to
// 5 seconds for who is at work in it; throws Unusable, and leaves all as it was.
std::string stand_in(const std::string& finished, const std::string& path);

}  // namespace plumule::logbook
