// What an error of the database means for a grower.
#pragma once

#include <string>
#include <vector>

#include "logbook/logbook.hpp"

namespace SQLite {
class Exception;
}

namespace plumule::logbook {

// What to do with a damaged logbook; `path` is empty where it is not known here.
std::vector<records::Hint> to_a_backup(const std::string& path = {});

// Of a file with pages that are not as they were written.
[[noreturn]] void throw_altered(const std::string& path);

// Of a file that is no database at all.
[[noreturn]] void throw_no_logbook(const std::string& path);

// Throws Refused where the file's own guards or checks refused a row (only what the library itself
// did not see first), Unusable for everything else; never shows SQLite's text.
[[noreturn]] void throw_trouble(const SQLite::Exception& error, const std::string& path);

}  // namespace plumule::logbook
