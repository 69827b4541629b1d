// A disk of the tests' own, below SQLite's layer and below the library's own calls of the system
// alike: it counts what is asked of one folder, fails what it is told to fail, and remembers what
// was done, so that a power cut can be played at any moment of it (power_cut.hpp).
//
// It stands in for the C library's open, read, write, fsync, rename and their like in the program
// that is linked with it; see disk.cpp for which.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace plumule::tests {

// What is asked of the disk; each may fail.
enum class Ask { open, read, write, cut, sync, lock, name, remove };
const char* word_for(Ask ask);

struct Fault {
  enum class Lasts { once, this_ask, all };

  int at = 0;         // fails the call of this number, from 1; 0: none
  int error = 0;      // with this errno
  bool half = false;  // a write: after its first half was written
  // Whether later calls of that sort, or of every sort, fail too.
  Lasts lasts = Lasts::once;
};

// What was done and succeeded. Files are numbered in the order in which they were first seen.
struct Deed {
  enum class What { write, cut, sync, make, link, rename, remove, sync_folder };

  What what = What::write;
  int file = 0;             // write, cut, sync, make, link
  std::int64_t at = 0;      // write: where; cut: the size that is left
  std::string bytes = {};   // write
  std::string name = {};    // make, link, rename, remove: in the folder; sync_folder: none
  std::string former = {};  // rename: what it was called
};

struct Doings {
  std::vector<Ask> asked;
  std::vector<Deed> deeds;         // only where they were to be kept
  std::vector<std::string> names;  // of the files that stood there at first, by number
  bool failed = false;             // the fault was met
};

// Watches a folder from its making to its end; one at a time. Only what lies in the folder itself
// is watched, sub-folders as well but for the names in them.
class Watch {
 public:
  explicit Watch(const std::string& folder, Fault fault = {}, bool keep_deeds = false);
  Watch(const Watch&) = delete;
  Watch& operator=(const Watch&) = delete;
  ~Watch();

  const Doings& doings() const { return doings_; }

  // For the functions that stand in for the C library's.
  bool holds(const std::string& path) const;
  int refusal(Ask ask);  // an errno, or 0: go on
  void keep(Deed deed);
  int file_of(int descriptor, bool fresh);
  std::string name_in(const std::string& path) const;  // of a path in the folder
  bool half() const { return fault_.half; }

 private:
  std::string folder_;
  Fault fault_;
  bool keep_deeds_;
  Ask failing_ = Ask::open;
  Doings doings_;
  std::vector<std::uint64_t> numbers_;  // of the files, as the system has them
};

}  // namespace plumule::tests
