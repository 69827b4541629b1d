// Rows of cells in columns, for the screen.
#pragma once

#include <string>
#include <vector>

#include "cli/showing/screen.hpp"

namespace plumule::cli {

class Table {
 public:
  explicit Table(std::vector<std::string> heads) { rows_.push_back(std::move(heads)); }
  void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
  bool empty() const { return rows_.size() == 1; }
  // Columns as wide as their widest cell, two spaces apart; the last is wrapped to the screen.
  // Cells that are figures stand to the right. Heads are left out where all are empty.
  // Where the columns do not fit the screen each row is folded into a sentence.
  void print(const Screen& screen) const;

 private:
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace plumule::cli
