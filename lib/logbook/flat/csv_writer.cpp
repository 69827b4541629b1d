#include "logbook/flat/csv_writer.hpp"

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

void CsvWriter::moment(const records::Moment& at) {
  const std::chrono::year_month_day day(at.date);
  std::array<char, 16> text{};
  const auto put = [&text](std::size_t place, int value, int digits) {
    for (int d = digits; d-- > 0; value /= 10)
      text[place + static_cast<std::size_t>(d)] = static_cast<char>('0' + value % 10);
  };
  put(0, static_cast<int>(day.year()), 4);
  text[4] = text[7] = '-';
  put(5, static_cast<int>(unsigned(day.month())), 2);
  put(8, static_cast<int>(unsigned(day.day())), 2);
  if (!at.minute_of_day) {
    block_.append(text.data(), 10);
    return;
  }
  text[10] = 'T';
  put(11, *at.minute_of_day / 60, 2);
  text[13] = ':';
  put(14, *at.minute_of_day % 60, 2);
  block_.append(text.data(), 16);
}

void CsvWriter::flush() {
  if (!block_.empty()) write_(block_);
  block_.clear();
}

}  // namespace plumule::logbook
