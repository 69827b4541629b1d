// Why nothing can be found or made at a path, in a grower's words.
#pragma once

#include <optional>
#include <string>

namespace plumule::logbook {

// What bars the way, in a sentence: a part of the path that is a file and no folder, a link that
// leads to nothing or back to itself, a name that no disk takes. None where all is there, or where
// nothing odder is to be said than that something is not.
std::optional<std::string> odd_on_the_way(const std::string& path);

// The same of a place where a logbook or a copy of one is to be made; also a name to which what
// will be put to the names of its copies cannot be added, and a path beyond what SQLite takes.
std::optional<std::string> odd_place(const std::string& path);

// Of a logbook that stands there and is to be written: whether a journal can lie beside it.
std::optional<std::string> no_journal_beside(const std::string& path);

}  // namespace plumule::logbook
