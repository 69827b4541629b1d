// One cell of a flat log to a value and back. Reading says in a clause why a cell is no value of
// its kind; writing gives the one spelling that reads back as the same value.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "records/date.hpp"
#include "records/lot.hpp"
#include "records/words.hpp"

namespace plumule::logbook {

// Empty where the cell was read; else why it was not, as a clause: `"15,5" has a decimal comma
// ...`.
using Reason = std::string;

// Spaces and tabs at either end are of no account in any cell but a note.
std::string_view trimmed(std::string_view cell);
// Whole numbers, also written as 12.0; nothing negative, nothing above `most`.
Reason read_cell(std::string_view cell, std::int64_t& value, std::int64_t most = 1'000'000'000);
// A figure, or a guess such as 28..32 (low end below high end).
Reason read_guess(std::string_view cell, std::int64_t& value, std::optional<std::int64_t>& high);

Reason read_cell(std::string_view cell, double& value);
Reason read_cell(std::string_view cell, bool& value);  // yes or no
Reason read_cell(std::string_view cell, std::string& value);
Reason read_cell(std::string_view cell, int& value);
Reason read_cell(std::string_view cell, records::Date& value);
Reason read_cell(std::string_view cell, records::Moment& value);
Reason read_cell(std::string_view cell, std::vector<records::Date>& value);    // by spaces
Reason read_cell(std::string_view cell, std::vector<std::string>& value);      // labels, by spaces
Reason read_cell(std::string_view cell, std::vector<records::Parent>& value);  // split:LOT mix:LOT

std::string to_cell(std::int64_t value);
std::string to_cell(double value);  // the shortest digits that give the same number
std::string to_cell(bool value);
std::string to_cell(const std::string& value);
std::string to_cell(int value);
std::string to_cell(records::Date value);
std::string to_cell(const records::Moment& value);
std::string to_cell(const std::vector<records::Date>& value);
std::string to_cell(const std::vector<std::string>& value);
std::string to_cell(const std::vector<records::Parent>& value);

// Words such as those of a setting, without regard to case.
std::string folded(std::string_view text);
template <class Kind>
requires std::is_enum_v<Kind> Reason read_cell(std::string_view cell, Kind& value) {
  const auto kind = records::from_word<Kind>(folded(cell));
  if (!kind) return '"' + std::string(cell) + "\" is not one of " + records::known_words<Kind>();
  value = *kind;
  return {};
}
template <class Kind>
requires std::is_enum_v<Kind> std::string to_cell(Kind value) {
  return std::string(records::word(value));
}

template <class Value>
Reason read_cell(std::string_view cell, std::optional<Value>& value) {
  Value read{};
  Reason reason = read_cell(cell, read);
  if (reason.empty()) value = read;
  return reason;
}
template <class Value>
std::string to_cell(const std::optional<Value>& value) {
  return value ? to_cell(*value) : std::string();
}

}  // namespace plumule::logbook
