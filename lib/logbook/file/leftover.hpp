// A journal left beside a file that it does not belong to, or that nothing tells whether it does:
// put out of SQLite's sight, or kept together with the file as found. Nothing is ever written over.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace plumule::logbook {

struct Leftover {
  enum class What {
    set_aside,  // a journal of another file lies now under `kept`
    hurt,       // a damaged journal, by which nothing can be put right, lies now under `kept`
    as_found,   // whose it was could not be told: a copy of file and journal lies under `kept`
  };
  What what = What::set_aside;
  std::string logbook;  // beside which it lay
  std::string kept;
};
using Leftovers = std::vector<Leftover>;

// One or two sentences for a grower: what was found, and where it lies.
std::string in_words(const Leftover& leftover);

inline constexpr const char* journal_ends[] = {"-journal", "-wal"};

// Where a new file is to take the name `path`: journals that count there are set aside. None where
// one could not be.
std::optional<Leftovers> clear_the_place(const std::string& path);

// Gives path + end another name, durably; none where that fails.
std::optional<std::string> set_aside(const std::string& path, const std::string& end);

// Reads `size` bytes of the logbook's file from `offset` on; false where it fails.
using ReadFile = std::function<bool(void* into, int size, std::int64_t offset)>;
// Copies the file and its journal path + end under names that belong together, durably; none, and
// nothing left, where that fails.
std::optional<std::string> copy_as_found(const std::string& path, const std::string& end,
                                         std::int64_t size, const ReadFile& read);

}  // namespace plumule::logbook
