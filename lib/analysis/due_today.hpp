// What the day asks for: which sowings to count, in walking order; which were missed, are done,
// should have been up, or are past hope.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "records/course.hpp"
#include "records/trial.hpp"

namespace plumule::analysis {

struct OpenSowing {
  std::string name;  // its label: no other open sowing has it
  std::string crop;
  std::string place;
  int day = 0;  // since sowing, on the day asked
  std::optional<std::int64_t> units;
  std::optional<records::Date> last_on;  // last look
  std::int64_t up = 0;
  std::optional<std::int64_t> seedlings;  // where only seedlings were counted: `up` says nothing
  bool hidden = false;                    // of a blind trial: the walk hides earlier figures
};

struct Due {
  OpenSowing sowing;
  bool planned = false;               // a planned inspection; else looked at daily
  std::vector<records::Date> missed;  // days since the last look on which it was due
  // Its give-up day is past, and it was not looked at since: the day after sowing.
  std::optional<int> last_count_day;
};

struct Done {
  OpenSowing sowing;
  bool all_up = false;
  records::Date last_new{};  // last day with something new
  int quiet_days = 0;        // shown by looks
  int needed = 0;            // max(5, half the days to the last emergence)
};

struct Late {
  OpenSowing sowing;
  int expected_day = 0;  // or the give-up day
  std::string how;       // a sentence without a full stop
  bool due = false;      // to be counted today
};

struct NotDue {
  std::string name;
  std::optional<records::Date> next;  // the next look; none where no more is planned
};

// Each sowing stands in one list, the first that it fits of those in the order done, past_give_up,
// should_be_up, counted, due, not_due.
struct DueToday {
  records::Date today{};
  std::vector<Due> due;             // in walking order
  std::vector<OpenSowing> counted;  // already today
  std::vector<Done> done;           // nothing new for long enough, or all up: to be ended
  std::vector<Late> should_be_up;   // nothing up though the crop's days are over
  std::vector<Late> past_give_up;   // looked at on its give-up day or later, with nothing new
  std::vector<NotDue> not_due;      // too early, or no look planned today
};

// `open`: open sowings in walking order, as they were on `today` (later counts are passed over, as
// are sowings sown later). With nothing up yet a sowing is due daily from the day on which looking
// is worth it, and from then on daily; in a trial with planned inspections on those days, and on
// any later one until the missed look is made up. In a blind trial nothing is told of what is up.
DueToday due_today(std::span<const records::History> open, std::span<const records::Trial> trials,
                   records::Date today);

}  // namespace plumule::analysis
