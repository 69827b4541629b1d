#include "logbook/flat/csv_reader.hpp"

#include <algorithm>
#include <array>
#include <cstring>

#include "logbook/store/utf8.hpp"

namespace plumule::logbook {
namespace {

constexpr std::size_t longest_row = std::size_t{16} * 1024 * 1024;

// What a byte of a bare cell may mean; bits, so that what a cell has of them is gathered by "or".
enum Class : unsigned char { plain = 0, odd = 1, special = 2 };

std::array<Class, 256> classes_for(char separator) {
  std::array<Class, 256> classes{};
  for (std::size_t byte = 0; byte < 256; ++byte)
    if (byte < 0x20 ? byte != '\t' : byte >= 0x7F) classes[byte] = odd;
  classes['\''] = odd;
  for (const char c : {separator, '"', '\n', '\r', '\0'})
    classes[static_cast<unsigned char>(c)] = special;
  return classes;
}

// The classes for each of the three separators, made once.
const std::array<Class, 256>& classes_of(char separator) {
  static const std::array<Class, 256> comma = classes_for(',');
  static const std::array<Class, 256> semicolon = classes_for(';');
  static const std::array<Class, 256> tab = classes_for('\t');
  return separator == ';' ? semicolon : separator == '\t' ? tab : comma;
}

// Ends of line in a text: LF, CRLF or CR alone.
std::size_t lines_in(std::string_view text) {
  std::size_t lines = 0;
  for (std::size_t i = 0; i < text.size(); ++i)
    lines += text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n'));
  return lines;
}

}  // namespace

CsvReader::CsvReader(Reader read, std::size_t block)
    : read_(std::move(read)), buffer_(std::max<std::size_t>(block, 16)) {}

bool CsvReader::stop(std::size_t line, const char* reason) {
  trouble_ = CsvTrouble{line, reason};
  cells_.clear();
  return false;
}

// Moves what is left of the row to the front and reads on behind it; false where there is no more.
bool CsvReader::refill() {
  if (finished_) return false;
  if (at_ > 0) {
    std::memmove(buffer_.data(), buffer_.data() + at_, filled_ - at_);
    filled_ -= at_;
    at_ = 0;
  }
  // At least as much again as the row has already, so that a long row is not scanned over and over.
  // There must be room for it: no bytes asked for are no bytes got, which is how a file ends.
  const std::size_t wanted = 2 * filled_ + 1;
  if (buffer_.size() < wanted) buffer_.resize(std::max(wanted, 2 * buffer_.size()));
  do {
    const std::size_t got = read_(buffer_.data() + filled_, buffer_.size() - filled_);
    finished_ = got == 0;
    filled_ += got;
  } while (!finished_ && filled_ < wanted);
  return true;
}

bool CsvReader::begin_file() {
  begun_ = true;
  while (filled_ < 3 && refill()) {
  }
  const auto starts = [&](std::string_view mark) {
    return filled_ >= mark.size() && std::memcmp(buffer_.data(), mark.data(), mark.size()) == 0;
  };
  if (starts("\xEF\xBB\xBF")) at_ = 3;
  if (starts("\xFF\xFE") || starts("\xFE\xFF"))
    return stop(1, "the file is saved as UTF-16; save it as CSV UTF-8");
  // The separator shows in the first line that is not blank.
  std::size_t i = at_;
  std::array<std::size_t, 3> seen{};
  bool quoted = false;
  for (bool any = false;; ++i) {
    if (i == filled_) {
      const std::size_t from = at_;
      if (filled_ - at_ > longest_row || !refill()) break;
      i -= from - at_;
      if (i == filled_) break;
    }
    const char c = buffer_[i];
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\n' || c == '\r') {
      if (any) break;
      continue;
    }
    any = true;
    seen[0] += c == ',';
    seen[1] += c == ';';
    seen[2] += c == '\t';
  }
  const auto most =
      static_cast<std::size_t>(std::max_element(seen.begin(), seen.end()) - seen.begin());
  separator_ = ",;\t"[most];
  return true;
}

// Finds the bounds of the row that begins at at_, without a change to the buffer, so that it can be
// done again once more of the row has been read.
CsvReader::Scan CsvReader::scan_row() {
  bounds_.clear();
  unusual_ = false;
  row_lines_ = 0;
  const auto& classes = classes_of(separator_);
  const char* const text = buffer_.data();
  const std::size_t filled = filled_;
  std::size_t i = at_;
  if (i == filled) return finished_ ? Scan::end : Scan::more;
  while (true) {
    std::size_t begin = i;
    if (i < filled && text[i] == '"') {
      const std::size_t quote_line = next_line_ + row_lines_;
      bool doubled = false;
      begin = ++i;
      while (true) {
        const void* const found = std::memchr(text + i, '"', filled - i);
        if (found == nullptr) {
          if (!finished_ && filled - at_ <= longest_row) return Scan::more;
          stop(quote_line, finished_ ? "a quote is opened here and never closed"
                                     : "a quote is opened here and not closed within 16 MiB");
          return Scan::trouble;
        }
        i = static_cast<std::size_t>(static_cast<const char*>(found) - text);
        if (i + 1 == filled && !finished_) return Scan::more;
        if (i + 1 == filled || text[i + 1] != '"') break;
        doubled = true;
        i += 2;
      }
      const std::string_view inside(text + begin, i - begin);
      row_lines_ += lines_in(inside);
      unusual_ = true;  // whatever lies inside is looked at for its text
      bounds_.push_back({begin, i, doubled});
      ++i;
      if (i < filled && text[i] != separator_ && text[i] != '\n' && text[i] != '\r') {
        stop(next_line_ + row_lines_,
             "text follows a closing quote; double a quote that is part of the cell");
        return Scan::trouble;
      }
    } else {
      unsigned met = plain;
      for (; i < filled; ++i) {
        const unsigned kind = classes[static_cast<unsigned char>(text[i])];
        if (kind == special) break;
        met |= kind;
      }
      unusual_ = unusual_ || met != plain;
      if (i < filled && text[i] == '"') {
        stop(next_line_ + row_lines_,
             "a quote stands inside a cell; put the cell in quotes and double the one inside");
        return Scan::trouble;
      }
      if (i < filled && text[i] == '\0') {
        stop(next_line_ + row_lines_, "there is a zero byte; this is not a text file");
        return Scan::trouble;
      }
      bounds_.push_back({begin, i, false});
    }
    if (i < filled && text[i] == separator_) {
      ++i;
      continue;
    }
    if (i == filled && !finished_) return Scan::more;
    break;
  }
  if (i < filled) {
    ++row_lines_;
    if (text[i] == '\r') {
      if (i + 1 == filled && !finished_) return Scan::more;
      i += i + 1 < filled && text[i + 1] == '\n';
    }
    ++i;
  }
  row_end_ = i;
  return Scan::row;
}

// Looks at the row a line at a time (no character of UTF-8 lies across an end of line).
bool CsvReader::sound_text() {
  const std::string_view row(buffer_.data() + at_, row_end_ - at_);
  if (is_text(row)) return true;
  std::size_t begin = 0;
  while (true) {
    const std::size_t end = std::min(row.find_first_of("\n\r", begin), row.size());
    const std::string_view one = row.substr(begin, end - begin);
    if (!is_text(one))
      return stop(next_line_ + lines_in(row.substr(0, begin)),
                  one.find('\0') != std::string_view::npos
                      ? "there is a zero byte; this is not a text file"
                      : "there are bytes that are not UTF-8; save the file as CSV UTF-8");
    begin = end + 1;
  }
}

// Doubled quotes are made single in place; the row is not scanned again after this.
void CsvReader::take_cells() {
  cells_.clear();
  char* const text = buffer_.data();
  for (const Cell& cell : bounds_) {
    char* end = text + cell.end;
    if (cell.doubled) {
      char* to = text + cell.begin;
      for (const char* from = to; from != text + cell.end; ++from) {
        *to++ = *from;
        if (*from == '"') ++from;
      }
      end = to;
    }
    cells_.emplace_back(text + cell.begin, static_cast<std::size_t>(end - (text + cell.begin)));
  }
}

bool CsvReader::next() {
  if (trouble_) return false;
  if (!begun_ && !begin_file()) return false;
  while (true) {
    const Scan result = scan_row();
    if ((result == Scan::more && filled_ - at_ > longest_row) ||
        (result == Scan::row && row_end_ - at_ > longest_row))
      return stop(next_line_, "a row is longer than 16 MiB; this is not a flat log");
    if (result == Scan::more) {
      refill();
      continue;
    }
    if (result != Scan::row) {
      cells_.clear();
      return false;
    }
    if (unusual_ && !sound_text()) return false;
    take_cells();
    const bool quoted = buffer_[at_] == '"';
    line_ = next_line_;
    next_line_ += row_lines_;
    at_ = row_end_;
    if (cells_.size() > 1 || !cells_[0].empty() || quoted) return true;
  }
}

}  // namespace plumule::logbook
