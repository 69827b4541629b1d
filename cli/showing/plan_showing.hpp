// A trial's plan and a treatment's facts: on the screen and as JSON.
#pragma once

#include <optional>
#include <string>

#include "analysis/trial/last_day.hpp"
#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"

namespace plumule::cli {

using analysis::LastDay;

// The day up to which the trial is followed; none where it has no sowings.
std::optional<LastDay> last_day_of(logbook::Logbook& logbook, const std::string& trial,
                                   records::Date today);
// "Last day of SOAK: Fri 24 Apr 2026, as planned. ..."; empty without a day.
std::string last_day_words(const std::string& trial, const std::optional<LastDay>& last);
// The same where a sowing was added just now to a trial that had sowings, as it stood `before`.
std::string last_day_words(const std::string& trial, const std::optional<LastDay>& before,
                           const std::optional<LastDay>& last);
// The planned last day was changed after the first count: what compare goes by all the same.
std::string day_moved_words(const LastDay& last);

void show_trial(const Context& context, logbook::Logbook& logbook, const std::string& code);
Json trial_answer(const Context& context, logbook::Logbook& logbook, const std::string& code);

void show_treatment(const Context& context, logbook::Logbook& logbook, const std::string& label);
Json treatment_answer(logbook::Logbook& logbook, const std::string& label);

}  // namespace plumule::cli
