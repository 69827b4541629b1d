#include "analysis/rho/own_rho.hpp"

#include "analysis/course/sowing_course.hpp"
#include "analysis/rho/tray_prior.hpp"

namespace plumule::analysis {

void OwnRhoGroups::take(const records::History& history) {
  const auto& sowing = history.sowing;
  if (sowing.lot.empty()) return;
  const auto course = sowing_course(history);
  if (!course.looked || !course.units || course.units_estimated || course.stopped_early) return;
  const bool failed = sowing.ending && sowing.ending->kind == records::EndingKind::failed;
  const bool finished = sowing.ending && sowing.ending->kind == records::EndingKind::finished;
  if (failed || !(finished || at_rest(history, course))) return;
  const std::string together =
      sowing.trial.empty() ? "on " + records::to_text(sowing.sown.date) : "in " + sowing.trial;
  groups_[{sowing.treatment, together, kind_of(sowing.setting), sowing.unit, sowing.counting}]
      .push_back({course.up, *course.units});
}

void OwnRhoGroups::end_of_lot() {
  for (const auto& [key, group] : groups_)
    learned_[static_cast<std::size_t>(std::get<SettingKind>(key))].add(group);
  groups_.clear();
}

RhoChoice OwnRhoGroups::choice() const {
  RhoChoice result;
  result.own.emplace();
  for (const auto setting :
       {records::Setting::towel, records::Setting::tray, records::Setting::row}) {
    const auto kind = static_cast<std::size_t>(kind_of(setting));
    (*result.own)[kind] = {learned_[kind].groups(), learned_[kind].b(prior_of(setting).b)};
  }
  return result;
}

}  // namespace plumule::analysis
