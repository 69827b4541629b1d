// One sowing's history as numbers: days since sowing (or since the seed was wetted) and running
// totals. The only place where dates become days.
#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "records/course.hpp"
#include "records/treatment.hpp"
#include "stats/times/time_course.hpp"
#include "stats/trials/followed_sowing.hpp"

namespace plumule::analysis {

// What the days are counted from. A soak of 24 hours that shows "one day sooner after sowing" has
// gained nothing: both clocks are kept.
enum class Clock { sowing, wetting };

// Days from wetting to sowing: by the recorded wetting, else by the soak hours of the sowing's
// treatment; 0 where neither is known.
double days_wetted_before(const records::Sowing& sowing,
                          std::span<const records::Treatment> treatments);

struct SowingCourse {
  stats::TimeCourse course;  // on the sowing's clock; fractions of a day are kept
  double wetted_before = 0;  // days from wetting to sowing
  std::optional<std::int64_t> units;
  std::int64_t up = 0;           // ever up at the last good look
  std::int64_t lost = 0;         // of those up, by that look, as recorded: counts of those standing
  bool looked = false;           // something is known of how many came up
  bool stopped_early = false;    // ended by an accident: the total may not be the final one
  bool guessed = false;          // some figure was a guess; its middle is used
  bool units_estimated = false;  // the number sown was not counted
  std::optional<std::int64_t> seedlings;  // in all, by the last look that counted them
  std::int64_t up_at_seedlings = 0;       // units up by that look
  bool seedlings_of_units = false;        // that look knew both
};

// Looks that counted only seedlings say nothing of units and are passed over; a look on the sowing
// day that found nothing adds nothing. A guess counts by its middle, rounded down. A sowing that
// failed before any look came to 0 on the day it failed. Units assessed rotted or empty are
// never-emergers, as many as did not come up; hard, firm and not found ones are not among them.
SowingCourse sowing_course(const records::History& history, double wetted_before = 0);

// The sowing as it was known at the end of that day: later counts, assessments, temperatures and a
// later ending are left out. The sowing itself stays, also one sown later.
records::History as_of(const records::History& history, records::Date day);

// As a trial that closed on that day knew it: counts up to that day, or with a finishing look up to
// the first on or after it, and no later accident. Assessments stay.
records::History as_closed(const records::History& history, records::Date closed_on,
                           bool finishing_look);

// The day of the last look that counted units; none where there is none.
std::optional<records::Date> last_counted(const records::History& history);

// The last look that found something new; 0 where none did.
double last_emergence(const stats::TimeCourse& course);

// Whether it had come to rest by itself: all up, failed, or nothing new for as long as closes a
// trial, max(5 days, half the days to its last emergence).
bool at_rest(const records::History& history, const SowingCourse& sowing);

// The course on that clock; the sowing's own where the seed was not wetted before.
stats::TimeCourse on_clock(const SowingCourse& sowing, Clock clock);

// Calendar days since `first_day`, one count a day (the day's last), for what is read every day.
// Units unknown: as many as came up, and at least one. `treated`, block and unit are the caller's.
stats::FollowedSowing followed(const records::History& history, records::Date first_day);

}  // namespace plumule::analysis
