// What an error of the database means for a grower.
#pragma once

#include <string>

namespace SQLite {
class Exception;
}

namespace plumule::logbook {

// Throws Refused where the file's own guards or checks refused a row (only what the library itself
// did not see first), Unusable for everything else; never shows SQLite's text.
[[noreturn]] void throw_trouble(const SQLite::Exception& error, const std::string& path);

}  // namespace plumule::logbook
