// The bad rows of a flat log: the first so many by line, and how many there are in all.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/log.hpp"

namespace plumule::logbook {

class FlatErrors {
 public:
  explicit FlatErrors(std::size_t most) : most_(most) {}

  void add(std::size_t line, std::string_view column, std::string_view value, std::string reason,
           std::vector<records::Hint> hints = {});
  bool any() const { return in_all_ > 0; }
  // Puts the first ones, in the order of their lines, and the number of all into the summary.
  void give(ImportSummary& summary);

 private:
  void keep_first();

  std::size_t most_;
  std::int64_t in_all_ = 0;
  std::vector<RowError> kept_;
};

}  // namespace plumule::logbook
