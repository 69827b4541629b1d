#include "logbook/flat/sheet/strange_columns.hpp"

#include <algorithm>

#include "logbook/flat/cells.hpp"
#include "logbook/flat/csv_writer.hpp"
#include "logbook/flat/named_things.hpp"
#include "logbook/flat/sheet/dates.hpp"
#include "records/names.hpp"

namespace plumule::logbook {
namespace {

constexpr std::size_t most_example_rows = 3;

bool has_digit(std::string_view text) {
  return text.find_first_of("0123456789") != std::string_view::npos;
}

// A count as it may stand in a cell, its high end where it is a guess.
std::optional<std::int64_t> count_in(std::string_view cell) {
  std::int64_t low = 0;
  std::optional<std::int64_t> high;
  if (!read_guess(cell, low, high).empty()) return std::nullopt;
  return high.value_or(low);
}

// Columns whose figures would be missed: those of a look, and what was sown when.
bool of_figures(std::string_view column) {
  if (std::find(row_columns.begin(), row_columns.end(), column) == row_columns.end())
    return column == "seeds";
  return column != "sowing" && column != "note" && column != "counted_by" &&
         !column.starts_with("ended");
}

// "day 5", "Day_12", "d7".
bool day_since_sowing(std::string_view heading) {
  std::string text = folded(heading);
  for (const std::string_view word : {"days", "day", "d"})
    if (text.starts_with(word)) {
      text.erase(0, word.size());
      break;
    }
  if (text.size() == heading.size()) return false;
  text.erase(0, text.find_first_not_of(" _-"));
  return !text.empty() && text.size() <= 3 &&
         text.find_first_not_of("0123456789") == std::string::npos;
}

// "14/4": two numbers that can be a day and a month.
bool day_and_month(std::string_view heading) {
  const std::size_t slash = heading.find('/');
  if (slash == std::string_view::npos) return false;
  const auto first = count_in(heading.substr(0, slash));
  const auto second = count_in(heading.substr(slash + 1));
  return first && second && *first >= 1 && *second >= 1 && std::min(*first, *second) <= 12 &&
         std::max(*first, *second) <= 31;
}

std::string cell_of(std::string_view text) {
  std::string cell;
  append_cell(cell, text);
  return cell;
}

}  // namespace

std::optional<std::string> day_heading(std::string_view heading, records::Date today,
                                       DateOrder order) {
  heading = trimmed(heading);
  if (!has_digit(heading)) return std::nullopt;
  const SheetDate read = read_moment(heading, order);
  if (read.moment) return records::to_text(*read.moment);
  if (read.two_readings || day_since_sowing(heading) || day_and_month(heading))
    return std::string(heading);
  if (const auto said = records::parse_said_date(heading, today)) return records::to_text(*said);
  return std::nullopt;
}

StrangeColumns::StrangeColumns(const FlatHeader& header, std::size_t line,
                               const ImportOptions& options, records::Date today, char separator)
    : header_(header),
      line_(line),
      options_(options),
      separator_(separator),
      seeds_(FlatHeader::absent) {
  const std::size_t seeds = FlatFile::sowing_fact("seeds");
  for (const FactAt& fact : header.sowing)
    if (fact.fact == seeds) seeds_ = fact.position;
  for (const UnknownColumn& unknown : header.unknown)
    columns_.push_back({unknown, day_heading(unknown.text, today, options.dates)});
}

void StrangeColumns::look_at(std::span<const std::string_view> row) {
  std::optional<std::int64_t> seeds;
  if (seeds_ != FlatHeader::absent) seeds = count_in(trimmed(row[seeds_]));
  bool looked = false;
  for (Column& column : columns_) {
    const std::string_view cell = trimmed(row[column.unknown.position]);
    if (cell.empty()) continue;
    column.filled = true;
    column.figures = column.figures || has_digit(cell);
    const auto count = count_in(cell);
    column.counts = column.counts && count && (!seeds || *count <= *seeds);
    looked = looked || column.day;
  }
  if (looked && example_.empty()) example_.assign(row.begin(), row.end());
}

bool StrangeColumns::may_be_lost(const Column& column) const {
  return column.filled && (column.counts || of_figures(column.unknown.meant));
}

std::string StrangeColumns::row_of_look(std::string_view day, std::string_view figure) const {
  const auto cell_at = [&](std::size_t position, std::string_view otherwise) {
    const bool there = position != FlatHeader::absent && !trimmed(example_[position]).empty();
    return cell_of(there ? trimmed(example_[position]) : otherwise);
  };
  const std::size_t sown_at = header_.at(RowCell::sown_on);
  std::string sown = cell_at(sown_at, "DAY-SOWN");
  if (const auto read = read_moment(sown, options_.dates); read.moment)
    sown = records::to_text(*read.moment);
  std::string row = cell_at(header_.at(RowCell::sowing), "LABEL") + separator_ + sown;
  if (seeds_ != FlatHeader::absent) row += separator_ + cell_at(seeds_, "");
  return row + separator_ + cell_of(day) + separator_ + cell_of(figure);
}

SheetDate StrangeColumns::day_of(const Column& column) const {
  return read_moment(trimmed(column.unknown.text), options_.dates);
}

// What form is read, on the sheet's own figures.
std::string StrangeColumns::wide_sheet() const {
  std::vector<std::string> days;
  for (const Column& column : columns_)
    if (column.day) days.emplace_back(trimmed(column.unknown.text));
  std::string text = "this sheet has a row for each sowing and a column for each day (" +
                     records::listed_some(days, 3) +
                     "); a flat log has a row for each look, with its day in counted_on";
  if (example_.empty()) return text;
  const auto joined = [this](const std::vector<std::string_view>& names) {
    std::string row;
    for (const std::string_view name : names)
      row.append(row.empty() ? "" : std::string(1, separator_)).append(name);
    return row;
  };
  text += ". The first of its figures as they are read:\n";
  text += seeds_ == FlatHeader::absent
              ? joined({"sowing", "sown_on", "counted_on", "emerged"})
              : joined({"sowing", "sown_on", "seeds", "counted_on", "emerged"});
  // Days that can be read, where the row has figures of some.
  std::vector<const Column*> looks;
  for (const bool settled : {true, false}) {
    for (const Column& column : columns_)
      if (column.day && !trimmed(example_[column.unknown.position]).empty() &&
          looks.size() < most_example_rows && day_of(column).two_readings != settled)
        looks.push_back(&column);
    if (!looks.empty()) break;
  }
  for (const Column* look : looks)
    text += '\n' + row_of_look(*look->day, trimmed(example_[look->unknown.position]));
  return text +
         "\nWhere a figure is what was new since the look before, its column is newly_emerged.";
}

void StrangeColumns::judge(FlatErrors& errors, std::vector<std::string>& ignored) const {
  const Column* day = nullptr;
  bool figures = false;
  for (const Column& column : columns_) {
    if (column.day && day == nullptr) day = &column;
    figures = figures || column.figures;
  }
  for (const Column& column : columns_) {
    const UnknownColumn& unknown = column.unknown;
    if (column.day) {
      if (&column == day) errors.add(line_, unknown.name, unknown.text, wide_sheet());
      if (SheetDate read = day_of(column); read.two_readings)
        errors.add(line_, unknown.name, unknown.text, std::move(read.reason), order_hints(read));
      continue;
    }
    const bool kept = options_.ignore_columns && may_be_lost(column);
    if (options_.ignore_columns && !kept) {
      ignored.push_back(unknown.text);
      continue;
    }
    std::string reason = kept ? "the column may hold counts or other figures of the log, which are "
                                "never passed over"
                         : unknown.name.empty() ? "the column has no name"
                                                : "the flat log has no such column";
    if (!unknown.near.empty())
      reason += "; is " + records::listed(unknown.near, "or") + " meant?";
    else if (column.figures)
      reason += std::string(kept ? ";" : "; it has figures:") +
                " name it as the flat log does, or take it out of the sheet";
    const bool may_be_passed_over = !figures && day == nullptr && !kept;
    if (!may_be_passed_over) {
      errors.add(line_, unknown.name, unknown.text, reason);
    } else {
      errors.add(line_, unknown.name, unknown.text, reason + (unknown.near.empty() ? "." : ""),
                 {{records::Advice::pass_over_columns}});
    }
  }
}

}  // namespace plumule::logbook
