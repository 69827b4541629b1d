// Calendar days and moments: a day, and the time of day where one was given.
#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace plumule::records {

using Date = std::chrono::sys_days;

// Exactly YYYY-MM-DD and a day that exists (years 1000 to 9999); nothing else.
std::optional<Date> parse_date(std::string_view text);

// A day as said, where only one can be meant: "yesterday", "today", "Sat" (the last one before
// today), "18 Apr", "Sat 18 April 2026", "18.4.", "18.4.2026" (with points the day comes first).
// Without its year a day is the last one not after today, or with `ahead` the next one not before
// it, half a year away at most; a weekday is none with `ahead`, nor with a day that is another's.
std::optional<Date> parse_said_date(std::string_view text, Date today, bool ahead = false);

// YYYY-MM-DD.
std::string to_text(Date date);

// "Mon 6 Apr": the day as a grower says it; with the year, "Mon 6 Apr 2026".
std::string spoken(Date date, bool with_year = false);

// When something happened. Without a time of day it counts as noon, and says that none was given.
struct Moment {
  Date date{};
  std::optional<int> minute_of_day = {};  // 0 to 1439

  // Minutes since 1970-01-01T00:00; noon where no time was given.
  std::int64_t minutes() const;
  static Moment from_minutes(std::int64_t minutes, bool timed);

  bool operator==(const Moment&) const = default;
};

// By the clock; a moment without a time sorts as noon.
std::strong_ordering operator<=>(const Moment& a, const Moment& b);

// Whether `a` came before `b`: by the day alone where either has no time of day.
bool earlier(const Moment& a, const Moment& b);

// YYYY-MM-DD, or with a time YYYY-MM-DDTHH:MM (a space for the T is accepted; seconds are not).
std::optional<Moment> parse_moment(std::string_view text);
std::string to_text(const Moment& moment);
// "Fri 10 Apr", "Fri 10 Apr 2025" in another year than `today`, "Fri 10 Apr 07:30".
std::string spoken(const Moment& at, Date today);

// Days from one moment to another, as a fraction.
double days_between(const Moment& from, const Moment& to);

// A sentence for a text that is no date, with the mend: names an ambiguous 3/4/2026, a day that
// does not exist, a two-digit year, and what to type.
std::string date_trouble(std::string_view text);

}  // namespace plumule::records
