#include "logbook/csv_writer.hpp"

#include <array>
#include <charconv>

namespace plumule::logbook {

void append_cell(std::string& row, std::string_view cell) {
  const bool quote = !cell.empty() && (cell.find_first_of(",;\t\"\r\n") != std::string_view::npos ||
                                       cell.front() == ' ' || cell.back() == ' ');
  if (!quote) {
    row.append(cell);
    return;
  }
  row.push_back('"');
  for (const char c : cell) {
    if (c == '"') row.push_back('"');
    row.push_back(c);
  }
  row.push_back('"');
}

void CsvWriter::number(std::int64_t value) {
  std::array<char, 24> digits{};
  const auto result = std::to_chars(digits.data(), digits.data() + digits.size(), value);
  block_.append(digits.data(), result.ptr);
}

void CsvWriter::flush() {
  if (!block_.empty()) write_(block_);
  block_.clear();
}

}  // namespace plumule::logbook
