// The trial that a sowing belongs to, and a trial's plan: its last day, its looks, the difference
// worth having. None joins a trial by itself.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/course.hpp"
#include "records/trial.hpp"

namespace plumule::bench {

// What is given of a plan; the rest of a trial stays as it is.
struct TrialPlan {
  std::optional<std::string> question = {};
  std::optional<records::Date> until = {};  // its last day
  std::optional<std::int64_t> every =
      {};                            // looks every so many days from the sowing to the last day
  std::optional<double> worth = {};  // fraction 0 to 1
  std::optional<bool> blind = {};

  bool given() const { return question || until || every || worth || blind; }
};

// Lays the plan over the trial; planned looks run from the day after `sown` to its last day.
// Refused where looks are planned and no last day is given or it is not after the sowing.
void lay_plan(const TrialPlan& plan, records::Date sown, records::Trial& trial);

struct TrialAsked {
  std::optional<std::string> name;  // none: no trial, or one is forgotten; empty: none is meant
  TrialPlan plan;
  bool in_block = false;    // a block is named, which is part of a trial
  bool may_be_new = false;  // made without a plan, where there is none of the name
};

struct ChosenTrial {
  std::string code;  // empty: none
  bool made = false;
  std::vector<std::string> open_with_lot;  // none was named: open trials that may have been meant
};

// The trial of a sowing of these lots on that day. A name that is not there is made where its plan
// is given or it may be new, else Refused with the nearest; so is a block without a trial.
ChosenTrial choose_trial(logbook::Entry& entry, const TrialAsked& asked,
                         const std::vector<std::string>& lots, records::Date sown);

// A trial with all its sowings, as what was planned and done is judged: what was moved or changed
// after its first count is filled in. None where there is no such trial or it has no sowings.
struct TrialSowings {
  records::Trial trial;
  std::vector<records::History> histories;
};
std::optional<TrialSowings> trial_sowings(logbook::Logbook& logbook, const std::string& code);

// The trials, of those that these sowings were in and are in now, that had been counted before what
// was changed of one of them: a comparison will say so.
std::vector<std::string> changed_after_counts(logbook::Logbook& logbook,
                                              const std::vector<records::Sowing>& amended);

struct PlanAmended {
  records::Trial before;
  records::Trial after;
};
// The day that planned looks count from: that of the trial's first sowing that is open, else today.
records::Date looks_from(logbook::Logbook& logbook, const std::string& code, records::Date today);
PlanAmended amend_plan(logbook::Entry& entry, const std::string& code, const TrialPlan& plan);

}  // namespace plumule::bench
