// Days as spreadsheets write them. What can be read in one way only is read; what has two readings
// is neither, until it is known whether the sheet puts the day or the month first.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/cells.hpp"
#include "logbook/flat/log.hpp"
#include "records/date.hpp"

namespace plumule::logbook {

struct SheetDate {
  std::optional<records::Moment> moment;
  Reason reason;              // where there is none: a clause
  bool two_readings = false;  // the order of day and month would settle it
};

// 2026-04-14, 2026/4/14, 14.4.2026, 13/4/2026, 4/13/2026, 14 Apr 2026, each with a time behind it
// or without (7:30, 07:30, 07:30:00, 7:30 PM). `order` settles 4/5/2026, and refuses what
// contradicts it.
SheetDate read_sheet_date(std::string_view cell, DateOrder order);

// How what has two readings is settled, for an error.
std::vector<records::Hint> order_hints(const SheetDate& date);

// The same as read_cell, first as it is kept and then as above.
SheetDate read_moment(std::string_view cell, DateOrder order);

// A cell of a column of days, or of several days, in the form that is kept; none where it cannot be
// read, and then `trouble` is set.
std::optional<std::string> days_as_kept(std::string_view cell, bool several, DateOrder order,
                                        SheetDate& trouble);

}  // namespace plumule::logbook
