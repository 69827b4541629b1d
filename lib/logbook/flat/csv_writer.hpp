// Writes rows of comma-separated text (RFC 4180) in blocks. Lines end in LF.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

#include "records/date.hpp"

namespace plumule::logbook {

using Writer = std::function<void(std::string_view)>;

// A cell as it must be written: in quotes where it holds a comma, a quote, a line's end, or a space
// at either end (which some programs would drop), as it is otherwise.
void append_cell(std::string& row, std::string_view cell);

class CsvWriter {
 public:
  explicit CsvWriter(Writer write) : write_(std::move(write)) { block_.reserve(size + 4096); }

  // Adds what is ready to be written: cells that were already quoted, separators and line ends.
  void raw(std::string_view text) { block_.append(text); }
  void raw(char c) { block_.push_back(c); }
  void cell(std::string_view text) { append_cell(block_, text); }
  void number(std::int64_t value);
  void moment(const records::Moment& at);  // as records::to_text has it
  void end_row() {
    block_.push_back('\n');
    if (block_.size() >= size) flush();
  }
  // What has not been written yet; the caller's last act.
  void flush();

 private:
  static constexpr std::size_t size = 64 * 1024;
  Writer write_;
  std::string block_;
};

}  // namespace plumule::logbook
