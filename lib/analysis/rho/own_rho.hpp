// The prior of rho from the grower's own replicated sowings: gathers the groups that should agree,
// lot after lot, and keeps no more than one lot's.
#pragma once

#include <array>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "analysis/rho/rho_choice.hpp"
#include "records/course.hpp"
#include "stats/trays/learned_rho.hpp"

namespace plumule::analysis {

// Sowings of one lot make a group if they are of one treatment, trial (outside a trial: one day of
// sowing, for seed ages), kind of setting, unit and thing counted. Those count that were seen to
// their end (finished, all up, or nothing new for max(5 days, half the days to the last emergence))
// and whose number sown was counted; not those that failed or met an accident.
class OwnRhoGroups {
 public:
  void take(const records::History& history);  // of no lot: passed over
  void end_of_lot();                           // the groups taken since the last are whole
  RhoChoice choice() const;

 private:
  using Key =
      std::tuple<std::string, std::string, SettingKind, records::UnitKind, records::Counting>;
  std::map<Key, std::vector<stats::TrayCount>> groups_;
  std::array<stats::LearnedRho, setting_kinds> learned_;
};

}  // namespace plumule::analysis
