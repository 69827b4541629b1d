// Names and files on the disk: free names, names that are kept through a power cut.
#pragma once

#include <string>

namespace plumule::logbook {

// The folder that `path` lies in; "." where it names none.
std::string folder_of(const std::string& path);

// Whether it is there, as a file, and not empty.
bool holds_anything(const std::string& path);

// `wanted`, or `wanted-2`, `wanted-3` ... where something stands there.
std::string free_name(const std::string& wanted);
// The same, but nothing stands beside it that SQLite would take for its journal either.
std::string free_name_with_journals(const std::string& wanted);

// On the disk, and not only on the way there. A file system that cannot open its folders keeps
// their names by itself: true.
bool sync_file(const std::string& path);
bool sync_folder_of(const std::string& path);

// Gives the file `from` the name `to`, where nothing may stand; durably. False where it fails.
bool rename_new(const std::string& from, const std::string& to);

// A finished file gets its name the same way, after it was synced.
bool take_name(const std::string& finished, const std::string& name);

// The same where something may stand, which is there until the finished file is: a power cut leaves
// the one or the other whole. False where it fails, and what stood there still does.
bool replace_file(const std::string& finished, const std::string& name);

// A whole copy under a name where nothing stands, durable but for its name; false, and nothing left
// of it, where it fails. Not for an open logbook: closing it here would drop SQLite's locks.
bool copy_new(const std::string& from, const std::string& to);

}  // namespace plumule::logbook
