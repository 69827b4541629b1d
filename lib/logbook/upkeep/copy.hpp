// Copying a logbook's file whole, under a name that nothing bears yet.
#pragma once

#include <memory>
#include <string>

#include "logbook/file/leftover.hpp"

namespace plumule::logbook {

class Store;

// A file under a name of its own beside `beside`, gone again unless it was given its final name.
class Part {
 public:
  explicit Part(const std::string& beside);
  Part(const Part&) = delete;
  Part& operator=(const Part&) = delete;
  ~Part();
  const std::string& path() const { return path_; }

  // Compact and whole, from an open logbook, also while others write (but not within a transaction
  // of its own); opened and checked, marked as a file of its own, and on the disk. Throws Unusable.
  void fill(Store& from) const;
  // Whatever is to be done to it before it gets its name; it is on the disk afterwards.
  template <class Act>
  void change(const Act& act) const {
    {
      const auto store = open();
      act(*store);
    }
    settle();
  }

 private:
  std::unique_ptr<Store> open() const;
  void settle() const;

  std::string path_;
};

// A compact single-file copy under the name `to`, where nothing may stand; what a stopped command
// left beside that name is set aside. Throws Unusable, and leaves nothing behind.
Leftovers copy_verified(Store& from, const std::string& to);

}  // namespace plumule::logbook
