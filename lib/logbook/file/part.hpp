// A file in the making: it lies under a name of its own beside its place until it is whole.
//
// Who makes one holds a lock on it, which the operating system drops however the command ends: so
// the next command that makes a part in that folder knows those that killed commands left, and
// clears them, whatever number their process had and whichever machine it ran on. The lock is one
// of an open file (F_OFD_SETLK) on a byte beyond those that SQLite locks, so neither is in the
// other's way, and that SQLite closes the file does not drop it.
#pragma once

#include <memory>
#include <string>

namespace plumule::logbook {

class Descriptor;  // descriptor.hpp

class Part {
 public:
  // Empty, in the folder of `beside`, for none but whom `mode` (0600 to 0777) and the umask let in.
  // Where none can be made it is false, and error() is the errno that says why.
  Part(const std::string& beside, unsigned mode);
  Part(const Part&) = delete;
  Part& operator=(const Part&) = delete;
  ~Part();  // takes it away, with its journal, unless it was renamed

  explicit operator bool() const;
  const std::string& path() const { return path_; }
  int number() const;  // of the open file
  int error() const { return error_; }

 private:
  std::string path_;
  std::unique_ptr<Descriptor> file_;
  int error_ = 0;
};

// Takes parts away that nobody holds any more. On a network's disk, where a lock may be unseen by
// another machine, only those that nobody has written to for a day.
void clear_left_parts(const std::string& folder);

// Who may use a copy of that file: whoever may use the file, and its maker. 0600 where it is not
// there.
unsigned mode_of_copy(const std::string& of);

}  // namespace plumule::logbook
