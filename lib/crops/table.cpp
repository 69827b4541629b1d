// RFC 4180 over text in memory: a view a cell, so that a table of some hundred rows costs less than
// a tenth of a millisecond.
#include "crops/table.hpp"

#include <algorithm>
#include <charconv>
#include <stdexcept>

#include "schema/embedded.hpp"

namespace plumule::crops {
namespace {

// Takes one cell off the front of `text`, with the comma or line end that closes it. `last` tells
// whether it was the last of its row. A quoted cell comes without its outer quotes.
std::string_view take_cell(std::string_view& text, bool& last) {
  std::size_t end = 0;
  std::string_view cell;
  if (!text.empty() && text.front() == '"') {
    end = 1;
    while (end < text.size() && (text[end] != '"' || text.substr(end, 2) == "\"\""))
      end += text[end] == '"' ? 2U : 1U;
    cell = text.substr(1, end - 1);
    end = std::min(end + 1, text.size());
  } else {
    end = std::min(text.find_first_of(",\n"), text.size());
    cell = text.substr(0, end);
  }
  last = end >= text.size() || text[end] == '\n';
  text.remove_prefix(std::min(end + 1, text.size()));
  return cell;
}

std::string undoubled(std::string_view cell) {
  std::string plain;
  for (std::size_t i = 0; i < cell.size(); ++i) {
    plain += cell[i];
    if (cell[i] == '"') ++i;
  }
  return plain;
}

}  // namespace

Table::Table(std::string_view name) : name_(name) {
  std::string_view text = schema::text("schema/reference/" + std::string(name));
  if (text.empty()) throw std::logic_error("no reference table " + std::string(name));
  cells_.reserve(text.size() / 8);
  std::size_t row_start = 0;
  while (!text.empty()) {
    bool last = false;
    std::string_view cell = take_cell(text, last);
    if (cell.find('"') != std::string_view::npos) cell = unquoted_.emplace_back(undoubled(cell));
    cells_.push_back(cell);
    if (!last) continue;
    if (width_ == 0) width_ = cells_.size();
    if (cells_.size() - row_start != width_)
      throw std::logic_error("a row of " + std::string(name) + " is too short or too long");
    row_start = cells_.size();
  }
}

std::vector<Table::Row> Table::rows() const& {
  std::vector<Row> all;
  for (std::size_t at = width_; at < cells_.size(); at += width_) all.emplace_back(*this, at);
  return all;
}

std::vector<Table::Row> Table::rows_of(std::string_view key) const& {
  std::vector<Row> found;
  for (std::size_t at = width_; at < cells_.size(); at += width_)
    if (cells_[at] == key) found.emplace_back(*this, at);
  return found;
}

std::string_view Table::Row::operator[](std::string_view heading) const {
  for (std::size_t i = 0; i < table_->width_; ++i)
    if (table_->cells_[i] == heading) return table_->cells_[first_ + i];
  throw std::logic_error(std::string(table_->name_) + " has no column " + std::string(heading));
}

std::optional<double> Table::Row::number(std::string_view heading) const {
  const std::string_view cell = (*this)[heading];
  if (cell.empty()) return std::nullopt;
  double value = 0;
  const auto result = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (result.ec != std::errc() || result.ptr != cell.data() + cell.size())
    throw std::logic_error(std::string(table_->name_) + ": not a number: " + std::string(cell));
  return value;
}

}  // namespace plumule::crops
