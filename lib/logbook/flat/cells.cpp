#include "logbook/flat/cells.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "records/label.hpp"

namespace plumule::logbook {
namespace {

std::string shown(std::string_view cell) {
  constexpr std::size_t most = 60;
  if (cell.size() <= most) return '"' + std::string(cell) + '"';
  std::size_t cut = most;
  while (cut > 0 && (static_cast<unsigned char>(cell[cut]) & 0xC0U) == 0x80U) --cut;
  return '"' + std::string(cell.substr(0, cut)) + "...\"";
}

bool all_digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

// A number with one comma where the point should be, such as 15,5.
bool decimal_comma(std::string_view cell) {
  if (!cell.empty() && (cell[0] == '-' || cell[0] == '+')) cell.remove_prefix(1);
  const std::size_t comma = cell.find(',');
  return comma != std::string_view::npos && all_digits(cell.substr(0, comma)) &&
         all_digits(cell.substr(comma + 1));
}

std::string comma_trouble(std::string_view cell) {
  std::string mended(cell);
  std::replace(mended.begin(), mended.end(), ',', '.');
  return shown(cell) + " has a decimal comma; write " + mended;
}

// Calls take(part) for each part of `cell` between spaces; stops at the first reason.
template <class Take>
Reason each_part(std::string_view cell, const Take& take) {
  while (true) {
    const std::size_t begin = cell.find_first_not_of(' ');
    if (begin == std::string_view::npos) return {};
    cell.remove_prefix(begin);
    const std::string_view part = cell.substr(0, cell.find(' '));
    if (Reason reason = take(part); !reason.empty()) return reason;
    cell.remove_prefix(part.size());
  }
}

template <class Values, class Text>
std::string joined(const Values& values, const Text& text) {
  std::string cell;
  for (const auto& value : values) {
    if (!cell.empty()) cell += ' ';
    cell += text(value);
  }
  return cell;
}

}  // namespace

std::string_view trimmed(std::string_view cell) {
  while (!cell.empty() && (cell.front() == ' ' || cell.front() == '\t')) cell.remove_prefix(1);
  while (!cell.empty() && (cell.back() == ' ' || cell.back() == '\t')) cell.remove_suffix(1);
  return cell;
}

std::string folded(std::string_view text) {
  std::string lower(text);
  for (char& c : lower)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return lower;
}

Reason read_cell(std::string_view cell, std::int64_t& value, std::int64_t most) {
  std::string_view digits = cell;
  if (const std::size_t point = cell.find('.');
      point != std::string_view::npos && point > 0 && point + 1 < cell.size() &&
      cell.find_first_not_of('0', point + 1) == std::string_view::npos)
    digits = cell.substr(0, point);
  if (all_digits(digits)) {
    const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (result.ec == std::errc() && value <= most) return {};
    return shown(cell) + " is absurd; " + std::to_string(most) + " is the most that is taken";
  }
  if (decimal_comma(cell))
    return shown(cell) + " has a comma; write a whole number in digits alone, such as 1250";
  if (cell.size() > 1 && cell[0] == '-' && all_digits(cell.substr(1)))
    return shown(cell) + " is negative; there is nothing below 0";
  return shown(cell) + " is not a whole number";
}

Reason read_guess(std::string_view cell, std::int64_t& value, std::optional<std::int64_t>& high) {
  high.reset();
  const std::size_t dots = cell.find("..");
  if (dots == std::string_view::npos) {
    Reason reason = read_cell(cell, value);
    if (!reason.empty() && reason.ends_with("whole number"))
      reason += ", nor a guess such as 28..32";
    return reason;
  }
  std::int64_t top = 0;
  if (Reason reason = read_cell(trimmed(cell.substr(0, dots)), value); !reason.empty())
    return reason;
  if (Reason reason = read_cell(trimmed(cell.substr(dots + 2)), top); !reason.empty())
    return reason;
  if (top < value) return shown(cell) + " is a guess whose low end lies above its high end";
  if (top > value) high = top;
  return {};
}

Reason read_cell(std::string_view cell, double& value) {
  const char* const end = cell.data() + cell.size();
  const auto result = std::from_chars(cell.data(), end, value);
  if (result.ec == std::errc() && result.ptr == end && std::isfinite(value)) return {};
  if (decimal_comma(cell)) return comma_trouble(cell);
  return shown(cell) + " is not a number";
}

Reason read_cell(std::string_view cell, bool& value) {
  const std::string word = folded(cell);
  if (word == "yes" || word == "no") {
    value = word == "yes";
    return {};
  }
  return shown(cell) + " is neither yes nor no";
}

Reason read_cell(std::string_view cell, std::string& value) {
  value = cell;
  return {};
}

Reason read_cell(std::string_view cell, int& value) {
  std::int64_t wide = 0;
  Reason reason = read_cell(cell, wide);
  if (reason.empty()) value = static_cast<int>(wide);
  return reason;
}

Reason read_cell(std::string_view cell, records::Date& value) {
  const auto date = records::parse_date(cell);
  if (!date) {
    if (records::parse_moment(cell))
      return shown(cell) + " has a time of day, where a day is meant";
    return records::date_trouble(cell);
  }
  value = *date;
  return {};
}

Reason read_cell(std::string_view cell, records::Moment& value) {
  const auto moment = records::parse_moment(cell);
  if (!moment) return records::date_trouble(cell);
  value = *moment;
  return {};
}

Reason read_cell(std::string_view cell, std::vector<records::Date>& value) {
  value.clear();
  return each_part(cell, [&](std::string_view part) {
    value.emplace_back();
    return read_cell(part, value.back());
  });
}

Reason read_cell(std::string_view cell, std::vector<std::string>& value) {
  value.clear();
  return each_part(cell, [&](std::string_view part) {
    value.emplace_back(part);
    return records::is_label(part) ? Reason() : records::label_trouble(part);
  });
}

Reason read_cell(std::string_view cell, std::vector<records::Parent>& value) {
  value.clear();
  return each_part(cell, [&](std::string_view part) -> Reason {
    const std::size_t colon = part.find(':');
    const std::string_view lot = colon == std::string_view::npos ? "" : part.substr(colon + 1);
    const auto descent = records::from_word<records::Descent>(folded(part.substr(0, colon)));
    if (!descent || !records::is_label(lot))
      return shown(part) + " is no parent; write split:LOT, mix:LOT or own-harvest:LOT";
    value.push_back({std::string(lot), *descent});
    return {};
  });
}

std::string to_cell(std::int64_t value) { return std::to_string(value); }
std::string to_cell(int value) { return std::to_string(value); }
std::string to_cell(bool value) { return value ? "yes" : "no"; }
std::string to_cell(const std::string& value) { return value; }
std::string to_cell(records::Date value) { return records::to_text(value); }
std::string to_cell(const records::Moment& value) { return records::to_text(value); }

std::string to_cell(double value) {
  std::array<char, 40> digits{};
  const auto result = std::to_chars(digits.data(), digits.data() + digits.size(), value);
  return {digits.data(), result.ptr};
}

std::string to_cell(const std::vector<records::Date>& value) {
  return joined(value, [](records::Date date) { return records::to_text(date); });
}

std::string to_cell(const std::vector<std::string>& value) {
  return joined(value, [](const std::string& label) { return label; });
}

std::string to_cell(const std::vector<records::Parent>& value) {
  return joined(value, [](const records::Parent& parent) {
    return std::string(records::word(parent.descent)) + ':' + parent.lot;
  });
}

}  // namespace plumule::logbook
