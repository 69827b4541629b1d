// One finished file takes the place of another, which is kept.
#pragma once

#include <string>

namespace plumule::logbook {

// `finished`, synced and marked, is `path` from now on, durably. Returns the name under which what
// stood there lies, its journal beside it: `kept`, or the next free name like it. An unlocked
// regular file has to stand at `path`. Waits up to 5 seconds for who is at work in it; throws
// Unusable, and leaves all as it was.
std::string stand_in(const std::string& finished, const std::string& path, const std::string& kept);

// The same where the caller keeps writers off the file by a lock of its own. Whoever waits for that
// lock finds that the file was replaced.
std::string take_place(const std::string& finished, const std::string& path,
                       const std::string& kept);

// Where the path is a link, the file that it leads to is replaced, and not the link.
std::string place_of(const std::string& path);

}  // namespace plumule::logbook
