// Reads comma-separated text (RFC 4180) in blocks, a row at a time, without a copy of any cell: for
// files that are larger than memory should be. What spreadsheets do to such files is taken as it
// comes: a byte order mark, any end of line, ';' or a tab for the comma where the header shows it.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace plumule::logbook {

// Gives up to `size` bytes, 0 at the end.
using Reader = std::function<std::size_t(char* into, std::size_t size)>;

// Why reading stopped before the end, in words, and the line of the file (from 1) where.
struct CsvTrouble {
  std::size_t line = 0;
  std::string reason;
};

class CsvReader {
 public:
  // `block` is the size of the first buffer; it grows only for a row that is longer.
  explicit CsvReader(Reader read, std::size_t block = 64 * 1024);

  // Goes to the next row that is not a blank line. False at the end and at trouble. The first row
  // (the header) settles the separator: of ',' ';' and tab the one it has most of outside quotes.
  bool next();

  // The row's cells, unquoted; valid until the next call of next().
  std::span<const std::string_view> cells() const { return cells_; }
  // The line of the file on which the row begins, from 1; lines inside quotes count.
  std::size_t line() const { return line_; }
  char separator() const { return separator_; }
  // Whether the row has anything but plain cells: quotes, apostrophes, controls, bytes outside
  // ASCII. A row without them need not be looked at for such things.
  bool unusual() const { return unusual_; }

  // Set where next() said false before the end: a quote that is never closed (its own line is
  // named), text after a closing quote, a quote inside a bare cell, a zero byte, bytes that are no
  // UTF-8, a row of more than 16 MiB.
  const std::optional<CsvTrouble>& trouble() const { return trouble_; }

 private:
  struct Cell {
    std::size_t begin, end;
    bool doubled;  // holds doubled quotes
  };
  enum class Scan { row, more, end, trouble };

  bool begin_file();
  Scan scan_row();
  bool refill();
  bool stop(std::size_t line, const char* reason);
  bool sound_text();
  void take_cells();

  Reader read_;
  std::vector<char> buffer_;
  std::size_t at_ = 0;      // where the next row begins
  std::size_t filled_ = 0;  // bytes in the buffer
  bool finished_ = false;   // the source has no more
  bool begun_ = false;
  bool unusual_ = false;
  char separator_ = ',';
  std::vector<Cell> bounds_;
  std::vector<std::string_view> cells_;
  std::size_t row_end_ = 0;
  std::size_t row_lines_ = 0;
  std::size_t line_ = 0;
  std::size_t next_line_ = 1;
  std::optional<CsvTrouble> trouble_;
};

}  // namespace plumule::logbook
