#include "logbook/flat/header.hpp"

#include <algorithm>

#include "logbook/flat/column_words.hpp"
#include "logbook/flat/facts.hpp"
#include "logbook/record/find.hpp"
#include "records/names.hpp"

namespace plumule::logbook {
namespace {

// Case, spaces and hyphens are of no account in a column's name.
std::string column_name(std::string_view cell) {
  std::string name = folded(trimmed(cell));
  std::replace_if(
      name.begin(), name.end(), [](char c) { return c == ' ' || c == '-'; }, '_');
  return name;
}

// Whether `facts` has a column of that name; then its place is added to `found`.
template <class Record>
bool place(std::span<const Fact<Record>> facts, std::string_view name, std::size_t position,
           std::vector<FactAt>& found) {
  for (std::size_t i = 0; i < facts.size(); ++i) {
    if (facts[i].column != name) continue;
    found.push_back({position, i});
    return true;
  }
  return false;
}

template <class Record>
void append(std::vector<std::string>& names, std::span<const Fact<Record>> facts) {
  for (const auto& fact : facts) names.emplace_back(fact.column);
}

}  // namespace

std::vector<std::string> flat_columns() {
  std::vector<std::string> names(row_columns.begin(), row_columns.end());
  append(names, sowing_facts());
  append(names, lot_facts());
  append(names, treatment_facts());
  append(names, batch_facts());
  append(names, trial_facts());
  return names;
}

FlatHeader read_header(std::span<const std::string_view> row, std::size_t line,
                       const ImportOptions& options, FlatErrors& errors) {
  FlatHeader header;
  header.width = row.size();
  header.cells.fill(FlatHeader::absent);
  header.names.resize(row.size());
  static const std::vector<std::string> columns = flat_columns();
  std::vector<std::string> seen;
  // Whether the name is a column of the flat log; then this is its place.
  const auto placed = [&header](const std::string& name, std::size_t i) {
    const auto* const cell = std::find(row_columns.begin(), row_columns.end(), name);
    const bool of_look = cell != row_columns.end();
    if (of_look) header.cells[static_cast<std::size_t>(cell - row_columns.begin())] = i;
    const bool of_facts = !of_look && (place(sowing_facts(), name, i, header.sowing) ||
                                       place(lot_facts(), name, i, header.lot) ||
                                       place(treatment_facts(), name, i, header.treatment) ||
                                       place(batch_facts(), name, i, header.batch) ||
                                       place(trial_facts(), name, i, header.trial));
    if (of_facts || (of_look && cell - row_columns.begin() < 2)) header.facts.push_back(i);
    if (of_look || of_facts) header.names[i] = name;
    return of_look || of_facts;
  };
  for (std::size_t i = 0; i < row.size(); ++i) {
    const std::string name = column_name(row[i]);
    if (std::find(seen.begin(), seen.end(), name) != seen.end() && !name.empty()) {
      errors.add(line, name, row[i], "the column is there twice");
      continue;
    }
    seen.push_back(name);
    if (placed(name, i)) continue;
    UnknownColumn unknown{i, name, std::string(row[i]), records::nearest(name, columns), {}};
    if (const auto meant = column_meant_by(name); !meant.empty())
      unknown.near = {std::string(meant)};
    if (unknown.near.size() == 1) unknown.meant = unknown.near.front();
    header.unknown.push_back(std::move(unknown));
  }
  for (const UnknownColumn& unknown : header.unknown) {
    if (options.ignore_columns || unknown.meant.empty()) continue;
    if (std::find(seen.begin(), seen.end(), unknown.meant) != seen.end()) continue;
    seen.push_back(unknown.meant);
    placed(unknown.meant, unknown.position);
  }
  for (const RowCell needed : {RowCell::sowing, RowCell::sown_on})
    if (header.at(needed) == FlatHeader::absent)
      errors.add(line, row_columns[static_cast<std::size_t>(needed)], "",
                 "the first row names no such column; a flat log needs sowing and sown_on, and of "
                 "a counted sowing counted_on with emerged or newly_emerged");
  return header;
}

}  // namespace plumule::logbook
