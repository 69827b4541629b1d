// Histories made for tests: a sowing and its totals by day, as records.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "records/course.hpp"
#include "stats/times/time_course.hpp"

namespace plumule::tests {

struct Total {
  double day = 0;  // since sowing; fractions to the minute
  std::int64_t up = 0;
};

// Sown on 1 April 2026 at midnight, so that fractions of days come out whole in minutes.
inline const records::Date sown_on = std::chrono::year(2026) / 4 / 1;

records::History history(const std::string& label, std::int64_t units,
                         const std::vector<Total>& totals);

// The same of a public dish whose times are in `unit` days (hours: 1 / 24.0).
records::History history(const std::string& label, const stats::TimeCourse& course,
                         double unit = 1);

records::History in_trial(records::History history, const std::string& treatment,
                          const std::string& block = "", const std::string& batch = "");

// Ended on that day after sowing.
records::History ended(records::History history, int day,
                       records::EndingKind kind = records::EndingKind::finished);

inline records::Date on_day(int day) { return sown_on + std::chrono::days(day); }

}  // namespace plumule::tests
