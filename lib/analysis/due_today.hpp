// What the day asks for: which sowings to count, in walking order; which were missed, are done,
// should have been up, or are past hope.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "records/course.hpp"
#include "records/trial.hpp"

namespace plumule::analysis {

struct OpenSowing {
  std::string name;
  std::string crop;
  std::string place;
  int day = 0;  // since sowing, on the day asked
  std::optional<std::int64_t> units;
  std::optional<records::Date> last_on;  // last look
  std::int64_t up = 0;
  bool hidden = false;  // of a blind trial: the walk hides earlier figures
};

struct Due {
  OpenSowing sowing;
  bool planned = false;               // a planned inspection; else looked at daily
  std::vector<records::Date> missed;  // days since the last look on which it was due
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
};

struct NotDue {
  std::string name;
  std::optional<records::Date> next;  // planned inspection; none where no more is planned
};

struct DueToday {
  records::Date today{};
  std::vector<Due> due;             // in walking order
  std::vector<OpenSowing> counted;  // already today
  std::vector<Done> done;           // nothing new for long enough, or all up: to be ended
  std::vector<Late> should_be_up;   // nothing up though the crop's days are over
  std::vector<Late> past_give_up;   // past its give-up day
  std::vector<NotDue> not_due;      // sown today, or no look planned today
};

// `open`: open sowings in walking order, as they were on `today` (later counts are passed over, as
// are sowings sown later). A sowing that is done is not due. In a trial with planned inspections a
// sowing is due on those days, and on any later one until the missed look is made up.
DueToday due_today(std::span<const records::History> open, std::span<const records::Trial> trials,
                   records::Date today,
                   const std::function<bool(const std::string&)>& label_shared);

}  // namespace plumule::analysis
