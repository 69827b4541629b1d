// The steps that recording, amending and settling a count share.
#pragma once

#include <optional>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "logbook/record/course_rows.hpp"
#include "records/course.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

void refuse_future_count(const Entry& entry, const records::Sowing& sowing,
                         const records::Count& count);

// Where a count of that moment stands in the course, or would.
std::vector<CountRow>::iterator place_of(std::vector<CountRow>& course, const records::Moment& at);

// Sets the derived totals of the course `now` that `was` is to become, or throws Refused; writes
// nothing. `entered` as in records::explain, `came_lost` as in records::more_lost_than_stood.
void judge_course(Entry& entry, const records::Sowing& sowing, const std::vector<CountRow>& was,
                  std::vector<CountRow>& now, std::size_t entered, std::int64_t came_lost,
                  records::Figures figures = records::Figures::shown);

// The ledger's line for a count that is amended, or taken out where `after` is none.
void keep_count_change(Entry& entry, records::Id sowing, const CountRow& before,
                       const CountRow* after);

// False where the same reading by the same person is kept already.
bool keep_second_reading(Entry& entry, const records::Sowing& sowing, const records::Count& count);

}  // namespace plumule::logbook
