#include "logbook/flat/sheet/dates.hpp"

#include <algorithm>
#include <array>

#include "records/said_date.hpp"

namespace plumule::logbook {
namespace {

using namespace std::chrono;

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

std::string quoted(std::string_view cell) { return '"' + std::string(cell) + '"'; }

std::string no_date(std::string_view cell) {
  return quoted(cell) + " is not a date; write it as year-month-day, 2026-04-03";
}

// The digits at the front as a number, of at most `most` digits; they are taken off.
std::optional<int> number_at_front(std::string_view& text, std::size_t most) {
  std::size_t digits = 0;
  int value = 0;
  for (; digits < text.size() && digit(text[digits]); ++digits) {
    if (digits == most) return std::nullopt;
    value = value * 10 + (text[digits] - '0');
  }
  text.remove_prefix(digits);
  if (digits == 0) return std::nullopt;
  return value;
}

struct Split {
  std::string_view day;
  std::string_view time;  // empty where there is none
};

// The time is what stands around the first colon.
Split split(std::string_view cell) {
  const std::size_t colon = cell.find(':');
  if (colon == std::string_view::npos) return {cell, {}};
  std::size_t begin = colon;
  while (begin > 0 && digit(cell[begin - 1])) --begin;
  std::string_view day = cell.substr(0, begin);
  while (!day.empty() && (day.back() == ' ' || day.back() == ',')) day.remove_suffix(1);
  if (day.size() > 1 && day.back() == 'T' && digit(day[day.size() - 2])) day.remove_suffix(1);
  return {day, cell.substr(begin)};
}

// 7:30, 07:30, 07:30:00, 7:30 PM. Seconds are not kept, so that none may be there.
std::optional<int> minute_of_day(std::string_view text) {
  auto hour = number_at_front(text, 2);
  if (!hour || !text.starts_with(':')) return std::nullopt;
  text.remove_prefix(1);
  const std::size_t before = text.size();
  const auto minute = number_at_front(text, 2);
  if (!minute || before - text.size() != 2 || *minute > 59) return std::nullopt;
  if (text.starts_with(":00")) text.remove_prefix(3);
  const std::string half = folded(trimmed(text));
  if (half == "am" || half == "pm") {
    if (*hour < 1 || *hour > 12) return std::nullopt;
    hour = *hour % 12 + (half == "pm" ? 12 : 0);
  } else if (!half.empty()) {
    return std::nullopt;
  }
  if (*hour > 23) return std::nullopt;
  return *hour * 60 + *minute;
}

// Three numbers with the same sign between them, as they stand.
struct Numbers {
  std::array<int, 3> value{};
  std::array<std::size_t, 3> digits{};
};

std::optional<Numbers> three_numbers(std::string_view text) {
  Numbers numbers;
  char sign = '\0';
  for (std::size_t i = 0; i < 3; ++i) {
    if (i > 0) {
      if (text.empty() || std::string_view("/.-").find(text.front()) == std::string_view::npos)
        return std::nullopt;
      if (i == 2 && text.front() != sign) return std::nullopt;
      sign = text.front();
      text.remove_prefix(1);
      if (sign == '.' && text.starts_with(' ')) text.remove_prefix(1);  // 14. 4. 2026
    }
    const std::size_t before = text.size();
    const auto value = number_at_front(text, 4);
    if (!value) return std::nullopt;
    numbers.value[i] = *value;
    numbers.digits[i] = before - text.size();
  }
  if (!text.empty()) return std::nullopt;
  return numbers;
}

std::optional<records::Date> day_of(int of_year, int of_month, int of_day) {
  const year_month_day date{year(of_year), month(static_cast<unsigned>(of_month)),
                            day(static_cast<unsigned>(of_day))};
  if (of_year < 1000 || !date.ok()) return std::nullopt;
  return sys_days(date);
}

// "4 May 2026": a reading said so that it has no second one.
std::string said(records::Date date) {
  const std::string text = records::spoken(date, true);
  return text.substr(text.find(' ') + 1);
}

SheetDate refused(std::string reason) { return {std::nullopt, std::move(reason), false}; }
SheetDate taken(records::Date date) { return {records::Moment{date, std::nullopt}, {}, false}; }

SheetDate year_last(std::string_view cell, const Numbers& numbers, DateOrder order) {
  const auto [first, second, of_year] = numbers.value;
  const auto day_first = day_of(of_year, second, first);
  const auto month_first = day_of(of_year, first, second);
  if (order != DateOrder::unsaid) {
    const bool days = order == DateOrder::day_first;
    if (const auto& date = days ? day_first : month_first) return taken(*date);
    return refused(quoted(cell) + " is no day that exists with the " + (days ? "day" : "month") +
                   " first, as the dates of this sheet are to be read");
  }
  if (!day_first && !month_first) return refused(quoted(cell) + " is a day that does not exist");
  if (day_first && month_first && *day_first != *month_first)
    return {std::nullopt,
            quoted(cell) + " can be " + said(*day_first) + " or " + said(*month_first), true};
  return taken(day_first ? *day_first : *month_first);
}

// "14 Apr 2026", with the year that makes it one day.
std::optional<records::Date> with_month_named(std::string_view text) {
  std::size_t run = 0;
  bool whole_year = false;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    if (i < text.size() && digit(text[i])) {
      ++run;
      continue;
    }
    whole_year = whole_year || run == 4;
    run = 0;
  }
  if (!whole_year || std::none_of(text.begin(), text.end(), letter)) return std::nullopt;
  return records::parse_said_date(text, records::Date{});
}

SheetDate read_day(std::string_view text, DateOrder order) {
  if (const auto date = records::parse_date(text)) return taken(*date);
  const auto numbers = three_numbers(text);
  if (!numbers) {
    if (const auto date = with_month_named(text)) return taken(*date);
    return refused(no_date(text));
  }
  const auto& digits = numbers->digits;
  if (digits[0] == 4 && digits[1] <= 2 && digits[2] <= 2) {
    const auto [of_year, of_month, of_day] = numbers->value;
    if (const auto date = day_of(of_year, of_month, of_day)) return taken(*date);
    return refused(quoted(text) + " is a day that does not exist");
  }
  if (digits[2] == 4 && digits[0] <= 2 && digits[1] <= 2) return year_last(text, *numbers, order);
  if (digits[0] <= 2 && digits[1] <= 2 && digits[2] <= 2)
    return refused(quoted(text) + " has a year of two digits; write all four, 2026-04-03");
  return refused(no_date(text));
}

}  // namespace

SheetDate read_sheet_date(std::string_view cell, DateOrder order) {
  if (cell.empty()) return refused("the date is empty; write it as 2026-04-03");
  const Split parts = split(cell);
  SheetDate read = read_day(parts.day, order);
  if (parts.time.empty() || !read.moment) return read;
  const auto minute = minute_of_day(parts.time);
  if (!minute)
    return refused(quoted(cell) +
                   " has no readable time of day; write 2026-04-03T07:30, or leave the time out");
  read.moment->minute_of_day = minute;
  return read;
}

std::vector<records::Hint> order_hints(const SheetDate& date) {
  if (!date.two_readings) return {};
  return {{records::Advice::order_of_dates}};
}

SheetDate read_moment(std::string_view cell, DateOrder order) {
  if (const auto moment = records::parse_moment(cell)) return {moment, {}, false};
  return read_sheet_date(cell, order);
}

std::optional<std::string> days_as_kept(std::string_view cell, bool several, DateOrder order,
                                        SheetDate& trouble) {
  std::string kept;
  while (!cell.empty()) {
    const std::string_view part = several ? cell.substr(0, cell.find(' ')) : cell;
    cell.remove_prefix(std::min(cell.size(), part.size() + 1));
    if (part.empty()) continue;
    trouble = read_moment(part, order);
    if (!trouble.moment) return std::nullopt;
    kept += (kept.empty() ? "" : " ") + records::to_text(*trouble.moment);
  }
  return kept;
}

}  // namespace plumule::logbook
