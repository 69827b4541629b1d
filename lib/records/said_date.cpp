// A day as a grower says it. Only what can mean one day is taken.
#include "records/said_date.hpp"

#include <array>
#include <vector>

namespace plumule::records {
namespace {

using namespace std::chrono;

constexpr std::array days_of_week = {"sunday",   "monday", "tuesday", "wednesday",
                                     "thursday", "friday", "saturday"};
constexpr std::array months_of_year = {"january",   "february", "march",    "april",
                                       "may",       "june",     "july",     "august",
                                       "september", "october",  "november", "december"};
constexpr int half_a_year = 183;

// Runs of letters and of digits, in lower case; nothing where anything but blanks, commas, points
// and hyphens stands between them.
std::vector<std::string> words_in(std::string_view text) {
  std::vector<std::string> words;
  bool digits = false;
  bool open = false;
  for (char c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    const bool digit = c >= '0' && c <= '9';
    if (!digit && !(c >= 'a' && c <= 'z')) {
      if (c != ' ' && c != ',' && c != '.' && c != '-') return {};
      open = false;
      continue;
    }
    if (!open || digit != digits) words.emplace_back();
    words.back() += c;
    open = true;
    digits = digit;
  }
  return words;
}

// The place of a name, whole or by three letters or more of its start ("sat", "sept").
template <std::size_t N>
std::optional<unsigned> named(const std::array<const char*, N>& names, const std::string& word) {
  if (word.size() < 3) return std::nullopt;
  for (unsigned i = 0; i < N; ++i)
    if (std::string_view(names[i]).substr(0, word.size()) == word) return i;
  return std::nullopt;
}

std::optional<int> number(const std::string& word, std::size_t most_digits) {
  if (word.empty() || word.size() > most_digits) return std::nullopt;
  int value = 0;
  for (const char c : word) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

std::optional<Date> day_in(int of_year, unsigned month_index, int day_of_month) {
  const year_month_day date{year(of_year), month(month_index + 1),
                            day(static_cast<unsigned>(day_of_month))};
  if (!date.ok()) return std::nullopt;
  return sys_days(date);
}

// The nearest such day on the asked side of today, however far.
std::optional<Date> nearest(unsigned month_index, int day_of_month, Date today, bool ahead) {
  const int now = static_cast<int>(year_month_day(today).year());
  for (int step = 0; step <= 8; ++step) {  // 29 Feb may be eight years away
    const auto date = day_in(ahead ? now + step : now - step, month_index, day_of_month);
    if (date && (ahead ? *date >= today : *date <= today)) return date;
  }
  return std::nullopt;
}

// What of a day was said.
struct Said {
  std::optional<unsigned> of_week;
  std::optional<unsigned> of_year;  // the month, from 0
  int day_of_month = 0;             // with a month
  std::string in_year;              // as typed; empty where none was
};

// "18.4.", "18.4.2026": with points the day always comes first.
std::optional<Said> with_points(std::string_view text) {
  std::array<std::string, 3> parts;
  std::size_t part = 0;
  for (const char c : text) {
    if (c >= '0' && c <= '9')
      parts[part] += c;
    else if (c == '.' && part < 2 && !parts[part].empty())
      ++part;
    else if (c != ' ' || part == 0 || !parts[part].empty())
      return std::nullopt;
  }
  const auto day_of_month = number(parts[0], 2);
  const auto of_year = number(parts[1], 2);
  if (!day_of_month || !of_year || *of_year < 1 || *of_year > 12) return std::nullopt;
  return Said{{}, static_cast<unsigned>(*of_year - 1), *day_of_month, parts[2]};
}

std::optional<Said> said(std::string_view text) {
  std::vector<std::string> words = words_in(text);
  if (words.empty() || words.size() > 4) return std::nullopt;
  Said all;
  all.of_week = named(days_of_week, words[0]);
  if (all.of_week) {
    if (words.size() == 1) return all;
    words.erase(words.begin());
  }
  if (const auto first = text.find_first_of("0123456789"); first != std::string_view::npos)
    if (auto points = with_points(text.substr(first))) {
      const bool alone = words[0].find_first_of("0123456789") == 0;
      if (!alone || (!all.of_week && first > 0)) return std::nullopt;
      points->of_week = all.of_week;
      return points;
    }
  if (words.size() < 2 || words.size() > 3) return std::nullopt;
  auto day_of_month = number(words[0], 2);
  all.of_year = named(months_of_year, words[1]);
  if (!day_of_month) {  // "Apr 18"
    day_of_month = number(words[1], 2);
    all.of_year = named(months_of_year, words[0]);
  }
  if (!day_of_month || !all.of_year) return std::nullopt;
  all.day_of_month = *day_of_month;
  if (words.size() == 3) all.in_year = words[2];
  return all;
}

std::optional<int> whole_year(const std::string& typed) {
  const auto value = typed.size() == 4 ? number(typed, 4) : std::nullopt;
  return value && *value >= 1000 ? value : std::nullopt;
}

unsigned weekday_of(Date date) { return weekday(date).c_encoding(); }

// The last such weekday before today.
Date last_before(unsigned of_week, Date today) {
  const int back = static_cast<int>(weekday_of(today)) - static_cast<int>(of_week);
  return today - days(back > 0 ? back : back + 7);
}

struct DayAndTime {
  std::string_view day;  // all of the text where no time stands at its end
  std::optional<int> minute_of_day;
};

// "Sat 8:30", "8:30": the time is the last word, by the clock of 24 hours.
DayAndTime day_and_time(std::string_view text) {
  const std::size_t blank = text.find_last_of(' ');
  const std::size_t start = blank == std::string_view::npos ? 0 : blank + 1;
  const std::string_view time = text.substr(start);
  const std::size_t colon = time.find(':');
  if (colon == std::string_view::npos || time.size() != colon + 3) return {text, {}};
  const auto hour = number(std::string(time.substr(0, colon)), 2);
  const auto minute = number(std::string(time.substr(colon + 1)), 2);
  if (!hour || !minute || *hour > 23 || *minute > 59) return {text, {}};
  std::string_view day = text.substr(0, start);
  while (!day.empty() && (day.back() == ' ' || day.back() == ',')) day.remove_suffix(1);
  return {day, *hour * 60 + *minute};
}

std::string may_be(std::string_view text, std::vector<Date> dates) {
  if (dates.size() == 1)
    return "for " + spoken(dates[0], true) + " write " + to_text(dates[0]) + ", not \"" +
           std::string(text) + '"';
  std::string sentence = '"' + std::string(text) + "\" can be ";
  for (std::size_t i = 0; i < dates.size(); ++i)
    sentence += (i > 0 ? " or " : "") + spoken(dates[i], true) + " (" + to_text(dates[i]) + ")";
  return sentence + "; write the one that is meant";
}

// "3/4/2026" by either reading; without its year the nearest on the asked side.
std::vector<Date> by_slashes(std::string_view text, Date today, bool ahead) {
  std::array<std::string, 3> parts;
  std::size_t part = 0;
  for (const char c : text) {
    if (c >= '0' && c <= '9')
      parts[part] += c;
    else if (c != '/' || ++part == parts.size())
      return {};
  }
  const auto first = number(parts[0], 2);
  const auto second = number(parts[1], 2);
  const auto typed_year = whole_year(parts[2]);
  if (!first || !second || (part == 2 && !typed_year)) return {};
  std::vector<Date> dates;
  const auto add = [&](int day_of_month, int of_year) {
    if (of_year < 1 || of_year > 12) return;
    const auto index = static_cast<unsigned>(of_year - 1);
    const auto date = typed_year ? day_in(*typed_year, index, day_of_month)
                                 : nearest(index, day_of_month, today, ahead);
    if (date && (dates.empty() || dates[0] != *date)) dates.push_back(*date);
  };
  add(*first, *second);
  add(*second, *first);
  return dates;
}

}  // namespace

std::optional<Date> parse_said_date(std::string_view text, Date today, bool ahead) {
  if (text == "today") return today;
  if (text == "yesterday") return today - days(1);
  const auto all = said(text);
  if (!all) return std::nullopt;
  if (!all->of_year) {
    // On that very weekday it may be today or a week ago.
    if (ahead || weekday_of(today) == *all->of_week) return std::nullopt;
    return last_before(*all->of_week, today);
  }
  std::optional<Date> date;
  if (!all->in_year.empty()) {
    if (const auto year_typed = whole_year(all->in_year))
      date = day_in(*year_typed, *all->of_year, all->day_of_month);
  } else {
    date = nearest(*all->of_year, all->day_of_month, today, ahead);
    const auto away = date ? (ahead ? *date - today : today - *date).count() : 0;
    if (away > half_a_year) return std::nullopt;
  }
  if (date && all->of_week && weekday_of(*date) != *all->of_week) return std::nullopt;
  return date;
}

std::optional<Moment> parse_said_moment(std::string_view text, Date today, bool ahead) {
  if (const auto moment = parse_moment(text)) return moment;
  const auto [day, time] = day_and_time(text);
  std::optional<Date> date = parse_date(day);
  if (!date && day.empty() && time) date = today;
  if (!date) date = parse_said_date(day, today, ahead);
  if (!date) return std::nullopt;
  return Moment{*date, time};
}

std::string said_date_trouble(std::string_view whole, Date today, bool ahead) {
  const std::string_view text = day_and_time(whole).day;
  const std::string shown = '"' + std::string(text) + '"';
  if (const auto dates = by_slashes(text, today, ahead); !dates.empty()) return may_be(text, dates);
  const auto all = said(text);
  if (!all) {
    const std::string trouble = date_trouble(text);
    return trouble.ends_with("year-month-day, 2026-04-03")
               ? trouble + ", or say it: yesterday, Sat, 18.4., 18 Apr"
               : trouble;
  }
  if (!all->of_year) {
    const Date back = last_before(*all->of_week, today);
    const Date next = back + days(7);
    return ahead ? may_be(text, {next, next + days(7)}) : may_be(text, {next, back});
  }
  const int in_leap_year = 2024;
  if (!day_in(in_leap_year, *all->of_year, all->day_of_month))
    return shown + " is a day that does not exist";
  const auto year_typed = whole_year(all->in_year);
  if (!all->in_year.empty() && !year_typed)
    return shown + " has no year of four digits; write all four, 2026-04-03";
  const auto date = year_typed ? day_in(*year_typed, *all->of_year, all->day_of_month)
                               : nearest(*all->of_year, all->day_of_month, today, ahead);
  if (!date) return shown + " is a day that does not exist";
  if (all->of_week && weekday_of(*date) != *all->of_week)
    return shown + ": that day is " + spoken(*date, true) + "; is the weekday wrong, or the day?";
  const auto other = nearest(*all->of_year, all->day_of_month, today, !ahead);
  return other ? may_be(text, {*other, *date}) : may_be(text, {*date});
}

}  // namespace plumule::records
