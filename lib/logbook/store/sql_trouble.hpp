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

// What the operating system said of an error of reading or writing: "the disk is full" and the
// like; `number` is its errno, 0 where it said none.
std::string disk_trouble(int number);
// Whether it means that there is no room: on the disk, in one's share of it, or in one file.
bool means_full(int number);

// Throws Refused where the file's own guards or checks refused a row (only what the library itself
// did not see first), Hindered where the file may be sound, Unusable for everything else; never
// shows SQLite's text. `number` is the errno behind it, where it is known.
[[noreturn]] void throw_trouble(const SQLite::Exception& error, const std::string& path,
                                int number = 0);

}  // namespace plumule::logbook
