#include "records/date.hpp"

#include <array>
#include <charconv>
#include <cstdio>

namespace plumule::records {
namespace {

using namespace std::chrono;

// Exactly `text` as an unsigned number of digits only.
std::optional<int> digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

std::string two(int value) {
  std::string text = "00";
  text[0] = static_cast<char>('0' + value / 10 % 10);
  text[1] = static_cast<char>('0' + value % 10);
  return text;
}

}  // namespace

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto y = digits(text.substr(0, 4));
  const auto m = digits(text.substr(5, 2));
  const auto d = digits(text.substr(8, 2));
  if (!y || !m || !d || *y < 1000) return std::nullopt;
  const year_month_day day{year(*y), month(static_cast<unsigned>(*m)),
                           std::chrono::day(static_cast<unsigned>(*d))};
  if (!day.ok()) return std::nullopt;
  return sys_days(day);
}

std::string to_text(Date date) {
  const year_month_day day(date);
  const int y = static_cast<int>(day.year());
  return two(y / 100) + two(y % 100) + '-' + two(static_cast<int>(unsigned(day.month()))) + '-' +
         two(static_cast<int>(unsigned(day.day())));
}

std::string spoken(Date date, bool with_year) {
  static constexpr std::array days = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  static constexpr std::array months = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                        "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  const year_month_day day(date);
  std::string text = std::string(days[weekday(date).c_encoding()]) + ' ' +
                     std::to_string(unsigned(day.day())) + ' ' + months[unsigned(day.month()) - 1];
  if (with_year) text += ' ' + std::to_string(static_cast<int>(day.year()));
  return text;
}

std::int64_t Moment::minutes() const {
  const std::int64_t day = date.time_since_epoch().count();
  return day * 1440 + minute_of_day.value_or(720);
}

Moment Moment::from_minutes(std::int64_t minutes, bool timed) {
  std::int64_t day = minutes / 1440;
  std::int64_t rest = minutes % 1440;
  if (rest < 0) {
    --day;
    rest += 1440;
  }
  Moment moment{Date(days(day)), std::nullopt};
  if (timed) moment.minute_of_day = static_cast<int>(rest);
  return moment;
}

std::strong_ordering operator<=>(const Moment& a, const Moment& b) {
  return a.minutes() <=> b.minutes();
}

bool earlier(const Moment& a, const Moment& b) {
  if (!a.minute_of_day || !b.minute_of_day) return a.date < b.date;
  return a.minutes() < b.minutes();
}

std::optional<Moment> parse_moment(std::string_view text) {
  if (text.size() == 10) {
    if (const auto date = parse_date(text)) return Moment{*date, std::nullopt};
    return std::nullopt;
  }
  if (text.size() != 16 || (text[10] != 'T' && text[10] != ' ') || text[13] != ':')
    return std::nullopt;
  const auto date = parse_date(text.substr(0, 10));
  const auto hour = digits(text.substr(11, 2));
  const auto minute = digits(text.substr(14, 2));
  if (!date || !hour || !minute || *hour > 23 || *minute > 59) return std::nullopt;
  return Moment{*date, *hour * 60 + *minute};
}

std::string to_text(const Moment& moment) {
  std::string text = to_text(moment.date);
  if (moment.minute_of_day)
    text += 'T' + two(*moment.minute_of_day / 60) + ':' + two(*moment.minute_of_day % 60);
  return text;
}

double days_between(const Moment& from, const Moment& to) {
  return static_cast<double>(to.minutes() - from.minutes()) / 1440.0;
}

std::string date_trouble(std::string_view text) {
  const std::string shown = '"' + std::string(text) + '"';
  if (text.empty()) return "the date is empty; write it as 2026-04-03";
  if (text.find_first_of("/.") != std::string_view::npos)
    return shown +
           " can be read in more than one way; write the date as year-month-day, "
           "2026-04-03 for the third of April";
  const std::string_view day = text.substr(0, 10);
  if (day.size() == 10 && day[4] == '-' && day[7] == '-' && digits(day.substr(0, 4)) &&
      digits(day.substr(5, 2)) && digits(day.substr(8, 2))) {
    if (!parse_date(day)) return shown + " is a day that does not exist";
    return shown + " has no readable time of day; write 2026-04-03T07:30, or leave the time out";
  }
  if (text.size() == 8 && text[2] == '-' && text[5] == '-')
    return shown + " has a year of two digits; write all four, 2026-04-03";
  return shown + " is not a date; write it as year-month-day, 2026-04-03";
}

std::string spoken(const Moment& at, Date today) {
  const bool other_year =
      std::chrono::year_month_day(at.date).year() != std::chrono::year_month_day(today).year();
  std::string text = spoken(at.date, other_year);
  if (at.minute_of_day) text += " " + to_text(at).substr(11);
  return text;
}

}  // namespace plumule::records
