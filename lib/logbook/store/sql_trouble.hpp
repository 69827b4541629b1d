// What an error of the database means for a grower.
#pragma once

#include <string>

namespace SQLite {
class Exception;
}

namespace plumule::logbook {

// What to do with a damaged logbook: said after what is wrong.
std::string to_a_backup(const std::string& path = "FILE");

// Of a file that is no database at all: said after its path.
inline constexpr const char* no_logbook =
    " is not a logbook, but some other file, or one that was overwritten. --log FILE names the "
    "right one; what a spreadsheet saved as CSV is taken in by plumule import.";

// Throws Refused where the file's own guards or checks refused a row (only what the library itself
// did not see first), Unusable for everything else; never shows SQLite's text.
[[noreturn]] void throw_trouble(const SQLite::Exception& error, const std::string& path);

}  // namespace plumule::logbook
