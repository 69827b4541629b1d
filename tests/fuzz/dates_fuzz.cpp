// Any text at all typed as a day: one that is read is written as one that reads the same and lies
// where it was said to lie, and one that is not is told what to type.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "records/date.hpp"

using namespace plumule::records;

namespace {

void must(bool so) {
  if (!so) std::abort();
}

bool has_year(std::string_view text) {
  int digits = 0;
  for (const char letter : text) {
    digits = letter >= '0' && letter <= '9' ? digits + 1 : 0;
    if (digits == 4) return true;
  }
  return false;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  // The first byte says which day it is.
  const Date today = *parse_date("2026-01-01") + std::chrono::days(data[0] * 3);
  const std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);  // NOLINT
  if (const auto date = parse_date(text)) must(to_text(*date) == text);
  if (const auto moment = parse_moment(text)) {
    must(parse_moment(to_text(*moment)) == moment);
    must(Moment::from_minutes(moment->minutes(), moment->minute_of_day.has_value()) == *moment);
    must(!spoken(*moment, today).empty());
  } else {
    must(!date_trouble(text).empty());
  }
  for (const bool ahead : {false, true})
    if (const auto said = parse_said_date(text, today, ahead)) {
      must(parse_date(to_text(*said)) == said);
      // A weekday is only said of a day that is over.
      if (!ahead) must(parse_said_date(spoken(*said, true), today) == said);
      // "yesterday" is the one day behind that is taken ahead.
      if (!has_year(text)) must(ahead ? *said >= today - std::chrono::days(1) : *said <= today);
    }
  return 0;
}
