// Column widths are measured in letters, not bytes.
#include "cli/showing/table.hpp"

#include <algorithm>

namespace plumule::cli {
namespace {

bool figure(const std::string& cell) {
  return !cell.empty() && cell.find_first_not_of("0123456789.+-") == std::string::npos &&
         cell.find_first_of("0123456789") != std::string::npos && report::columns(cell) < 10;
}

}  // namespace

void Table::print(const Screen& screen) const {
  const std::size_t count = rows_[0].size();
  std::vector<int> widths(count, 0);
  std::vector<bool> right(count, true);
  for (std::size_t i = 0; i < rows_.size(); ++i)
    for (std::size_t c = 0; c < count; ++c) {
      widths[c] = std::max(widths[c], report::columns(rows_[i][c]));
      if (i > 0 && !rows_[i][c].empty() && !figure(rows_[i][c])) right[c] = false;
    }
  constexpr int least_last = 12;  // columns that the last cell can be wrapped in
  int all = 0;
  for (std::size_t c = 0; c < count; ++c)
    all += 2 + (c + 1 == count && !right[c] ? std::min(widths[c], least_last) : widths[c]);
  if (all > screen.width()) {
    for (std::size_t i = 1; i < rows_.size(); ++i)
      screen.print(report::folded_row(screen.style(), rows_[0], rows_[i], 2));
    return;
  }
  for (std::size_t i = 0; i < rows_.size(); ++i) {
    std::string line;
    int at = 0;
    for (std::size_t c = 0; c < count; ++c) {
      const std::string& cell = rows_[i][c];
      line += "  ";
      at += 2;
      if (c + 1 == count && !right[c])
        line += wrapped(cell, screen.width(), at);
      else
        line += right[c] ? report::right(cell, widths[c]) : report::left(cell, widths[c]);
      at += widths[c];
    }
    line.erase(line.find_last_not_of(' ') + 1);
    if (i == 0 && line.empty()) continue;
    screen.line(i == 0 ? screen.toned(Tone::faint, line) : line);
  }
}

}  // namespace plumule::cli
