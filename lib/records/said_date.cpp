// A day as a grower says it. Only what can mean one day is taken.
#include <array>
#include <vector>

#include "records/date.hpp"

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
  if (word.empty() || word.size() > most_digits || word[0] < '0' || word[0] > '9')
    return std::nullopt;
  int value = 0;
  for (const char c : word) value = value * 10 + (c - '0');
  return value;
}

std::optional<Date> day_in(int of_year, unsigned month_index, int day_of_month) {
  const year_month_day date{year(of_year), month(month_index + 1),
                            day(static_cast<unsigned>(day_of_month))};
  if (!date.ok()) return std::nullopt;
  return sys_days(date);
}

// The nearest such day on the asked side of today.
std::optional<Date> nearest(unsigned month_index, int day_of_month, Date today, bool ahead) {
  const int now = static_cast<int>(year_month_day(today).year());
  for (const int of_year : ahead ? std::array{now, now + 1} : std::array{now, now - 1}) {
    const auto date = day_in(of_year, month_index, day_of_month);
    if (!date || (ahead ? *date < today : *date > today)) continue;
    const auto away = (ahead ? *date - today : today - *date).count();
    return away <= half_a_year ? date : std::nullopt;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Date> parse_said_date(std::string_view text, Date today, bool ahead) {
  if (text == "today") return today;
  if (text == "yesterday") return today - days(1);
  std::vector<std::string> words = words_in(text);
  if (words.empty() || words.size() > 4) return std::nullopt;
  const auto of_week = named(days_of_week, words[0]);
  if (of_week) {
    if (words.size() == 1) {
      if (ahead) return std::nullopt;
      const int back = static_cast<int>(weekday(today).c_encoding()) - static_cast<int>(*of_week);
      // On that very weekday it may be today or a week ago.
      if (back == 0) return std::nullopt;
      return today - days(back > 0 ? back : back + 7);
    }
    words.erase(words.begin());
  }
  if (words.size() < 2 || words.size() > 3) return std::nullopt;
  auto day_of_month = number(words[0], 2);
  auto of_year = named(months_of_year, words[1]);
  if (!day_of_month) {  // "Apr 18"
    day_of_month = number(words[1], 2);
    of_year = named(months_of_year, words[0]);
  }
  if (!day_of_month || !of_year) return std::nullopt;
  std::optional<Date> date;
  if (words.size() == 3) {
    const auto typed_year = words[2].size() == 4 ? number(words[2], 4) : std::nullopt;
    if (typed_year && *typed_year >= 1000) date = day_in(*typed_year, *of_year, *day_of_month);
  } else {
    date = nearest(*of_year, *day_of_month, today, ahead);
  }
  if (date && of_week && weekday(*date).c_encoding() != *of_week) return std::nullopt;
  return date;
}

}  // namespace plumule::records
