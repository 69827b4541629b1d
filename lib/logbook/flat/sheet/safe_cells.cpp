#include "logbook/flat/sheet/safe_cells.hpp"

#include <algorithm>
#include <array>

#include "logbook/flat/csv_writer.hpp"

namespace plumule::logbook {
namespace {

constexpr char apostrophe = '\'';

// Full width: U+FF1D, U+FF0B, U+FF0D, U+FF20.
constexpr std::array<std::string_view, 8> signs = {"=",      "+",      "-",      "@",
                                                   "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};

// A text that would run, with any apostrophes before it: one more or one fewer tells them apart.
bool would_run_behind_apostrophes(std::string_view text) {
  return would_run(text.substr(std::min(text.find_first_not_of(apostrophe), text.size())));
}

}  // namespace

bool would_run(std::string_view text) {
  const std::size_t begin = text.find_first_not_of(" \t\r\n");
  if (begin == std::string_view::npos) return false;
  text.remove_prefix(begin);
  return std::any_of(signs.begin(), signs.end(),
                     [text](std::string_view sign) { return text.starts_with(sign); });
}

void append_text(std::string& row, std::string_view text) {
  if (text.empty() || !would_run_behind_apostrophes(text)) return append_cell(row, text);
  append_cell(row, apostrophe + std::string(text));
}

std::string_view as_meant(std::string_view cell) {
  if (!cell.starts_with(apostrophe) || !would_run_behind_apostrophes(cell)) return cell;
  return cell.substr(1);
}

}  // namespace plumule::logbook
