// A trial: a question, its blocks, and the days on which it is to be looked at.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "records/date.hpp"
#include "records/lot.hpp"

namespace plumule::records {

// The planned last day is what it was when the first count was entered: moving it later, with the
// counts in sight, would let anybody stop when it looks good.
struct LastDayMoved {
  std::optional<Date> fixed;  // as it stood before the first count; none where none was planned
  Date on{};  // the day on which it was changed: the grower's, in old entries that of UTC
};

// What was done to its sowings after its first count, by their labels. Taken out, put in or put to
// another treatment then, they may have been picked for what was seen of them.
struct SowingsChanged {
  struct Change {
    std::string label;
    std::vector<std::string> fields;  // in a grower's words: "treatment", "number sown"
  };
  std::vector<std::string> left;
  std::vector<std::string> joined;
  std::vector<Change> changed;
};

struct Trial {
  Id id = 0;
  std::string code = {};
  std::string question = {};
  std::vector<std::string> blocks = {};    // in bench order
  std::vector<Date> inspections = {};      // planned days, ascending
  std::optional<Date> closes_on = {};      // the planned last day, fixed before the first count
  std::optional<LastDayMoved> moved = {};  // closes_on or inspections, after the first count
  std::optional<SowingsChanged> sowings_changed = {};
  std::optional<double> worth = {};  // smallest difference in stand worth having, fraction 0 to 1
  bool blind = false;                // the walk hides earlier figures
};

void check(const Trial& trial);

}  // namespace plumule::records
