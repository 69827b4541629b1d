// Histories for analysis: every sowing that a question is about, with all that was seen of it,
// one at a time, so that memory does not grow with the logbook.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/course.hpp"

namespace plumule::logbook {

// What a question is about; every part that is set must hold. Nothing set: the whole logbook. A
// lot or trial set to the empty text: the sowings of none.
struct Selection {
  std::vector<records::Id> sowings;
  std::optional<std::string> lot;
  std::optional<std::string> treatment;
  std::optional<std::string> trial;
  std::optional<std::string> crop;  // case-blind
  bool whole_trials = false;        // instead of these, every sowing of the trials they are in
};

// In order of sown date, then label. A history's counts do not say who counted. Its temperatures
// are the sowing's own and those of the place where it stood on that day, from its sowing to its
// ending.
void each_history(Logbook& logbook, const Selection& selection,
                  const std::function<void(const records::History&)>& take);
std::vector<records::History> histories(Logbook& logbook, const Selection& selection);

}  // namespace plumule::logbook
