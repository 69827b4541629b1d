// What a check of the logbook found wrong, in words.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "logbook/logbook.hpp"

namespace plumule::logbook {

class Findings {
 public:
  void add(std::string line) {
    if (lines_.size() < most_)
      lines_.push_back(std::move(line));
    else
      ++more_;
  }
  std::vector<std::string> lines() const {
    std::vector<std::string> all = lines_;
    if (more_ > 0) all.push_back("And " + std::to_string(more_) + " more of the kind.");
    return all;
  }

 private:
  static constexpr std::size_t most_ = 100;
  std::vector<std::string> lines_;
  std::size_t more_ = 0;
};

// The file's structure, what belongs to what, and whether its parts are those of a logbook.
void check_file(Store& store, Findings& findings);
// Every record by its own rules, every course with its totals recomputed.
void check_record(Logbook& logbook, Findings& findings);
// The journal and the ledger of changes: nothing of what was undone stands, what was changed last
// is what stands.
void check_journal(Logbook& logbook, Findings& findings);

}  // namespace plumule::logbook
