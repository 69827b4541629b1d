// What a check of the logbook found wrong.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {

class Findings {
 public:
  void add(std::string fact) { add(records::Refusal{std::move(fact), {}}); }
  void add(records::Refusal finding) {
    if (all_.size() < most_)
      all_.push_back(std::move(finding));
    else
      ++more_;
  }
  bool none() const { return all_.empty(); }
  void add_first(std::string fact) {
    all_.insert(all_.begin(), records::Refusal{std::move(fact), {}});
  }
  std::vector<records::Refusal> all() const {
    std::vector<records::Refusal> all = all_;
    if (more_ > 0) all.push_back({"And " + std::to_string(more_) + " more of the kind.", {}});
    return all;
  }

 private:
  static constexpr std::size_t most_ = 100;
  std::vector<records::Refusal> all_;
  std::size_t more_ = 0;
};

// The file's structure, what belongs to what, and whether its parts are those of a logbook.
void check_file(Store& store, Findings& findings);
// Every record by its own rules, every course with its totals recomputed.
void check_record(Logbook& logbook, Findings& findings);
// The journal and the ledger of changes: nothing of what was undone stands, what was changed last
// is what stands, and each command's rows are those that it wrote.
void check_journal(Logbook& logbook, Findings& findings);

}  // namespace plumule::logbook
