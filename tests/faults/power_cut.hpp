// What a folder may hold after the power failed in the midst of what was done to it.
#pragma once

#include <map>
#include <random>
#include <string>
#include <vector>

#include "faults/disk.hpp"

namespace plumule::tests {

// Which of what was not synced is there afterwards. Of a file each sector of 512 bytes is as it was
// at the last sync or after any later write, whatever became of its neighbours, and the file is as
// long as it was at any of these moments. Of names those of the first so many changes are there: a
// folder keeps their order.
enum class Survives { all, nothing, names_only, by_lot };

// The files that stood there at first, and what was done since.
class Disk {
 public:
  // `folder` as it is before the deeds; all of it is synced.
  explicit Disk(const std::string& folder, const std::vector<std::string>& names);

  void take(const Deed& deed);
  // What is there by name, were the power to fail now.
  std::map<std::string, std::string> after_cut(Survives survives, std::mt19937& random) const;

 private:
  struct File {
    std::string synced;
    std::vector<Deed> since;  // writes and cuts
  };
  using Names = std::map<std::string, int>;

  static std::string drawn(const File& file, Survives survives, std::mt19937& random);

  std::map<int, File> files_;
  Names names_;
  Names now_;                 // with what was done since
  std::vector<Names> since_;  // as they were after each change since the last sync of the folder
};

}  // namespace plumule::tests
