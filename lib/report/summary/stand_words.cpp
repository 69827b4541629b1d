#include "report/summary/stand_words.hpp"

#include <fmt/format.h>

#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

bool looked(const analysis::Group& group) { return group.not_looked_at < group.sowings; }

bool nothing_up(const analysis::Group& group) { return looked(group) && group.up_in_all() == 0; }

bool may_rise(const analysis::Group& group) {
  return group.open > 0 && !(group.stand.fraction && group.stand.emerged == group.stand.seeds &&
                             group.stand.seeds == group.seeds + group.seeds_not_looked_at);
}

std::string none(const analysis::Group& group) { return group.open > 0 ? "none yet" : "none"; }

std::string unlooked(const analysis::Group& group) {
  return group.seedlings.seedlings > 0 ? counted(group.seedlings.seedlings, "seedling", "seedlings")
                                       : "not looked at yet";
}

std::string came_up(const analysis::Group& group) {
  if (!looked(group))
    return group.seedlings.seedlings > 0
               ? fmt::format("{} up; the {} they came from were not counted.",
                             counted(group.seedlings.seedlings, "seedling", "seedlings"),
                             unit_word(group.unit, 2))
               : "Not looked at yet.";
  const auto& stand = group.stand;
  const std::string what(counting_words(group.counting));
  if (!stand.fraction) {
    if (group.up_in_all() == 0)
      return fmt::format("{} up; how many were sown is not known.",
                         none(group) == "none" ? "None" : "None yet");
    return fmt::format("{} up ({}); how many were sown is not known, so there is no percentage.",
                       whole(group.up_in_all()), what);
  }
  const std::string units(unit_word(group.unit, stand.seeds));
  if (nothing_up(group))
    return fmt::format("{} of {} {} up ({}).", group.open > 0 ? "None yet" : "None",
                       whole(stand.seeds), units, what);
  return fmt::format("{} of {} {} up ({}): {}.", whole(stand.emerged), whole(stand.seeds), units,
                     what, percent(*stand.fraction));
}

std::string likely(const analysis::Group& group) {
  const auto& stand = group.stand;
  if (!stand.interval) return "";
  const std::string still = may_rise(group) ? " More may still come: it is the share so far." : "";
  return fmt::format("The true percentage lies between {} and {} ({}).{}",
                     percent(stand.interval->lower), percent(stand.interval->upper),
                     level_words(stand.interval->level), still);
}

std::optional<Standing> standing_of(const analysis::Group& group) {
  if (const auto& standing = group.standing)
    return Standing{standing->emerged, group.stand.emerged - standing->emerged};
  if (group.lost_in_all() == 0 || group.stand.fraction) return std::nullopt;
  return Standing{group.up_in_all() - group.lost_in_all(), group.lost_in_all()};
}

std::string standing_words(const analysis::Group& group) {
  const auto units = standing_of(group);
  if (!units) return "";
  std::string text = units->left > 0 ? whole(units->left) : "None";
  if (units->left > 0 && group.unit != records::UnitKind::seed)
    text += fmt::format(" {}", unit_word(group.unit, units->left));
  text += fmt::format(" {}, {} lost", units->left == 1 ? "stands" : "stand", whole(units->lost));
  if (!group.standing) return text + ".";
  const auto& range = *group.standing->interval;
  return text + fmt::format(": {} ({}: {}).", percent(*group.standing->fraction),
                            level_words(range.level), percent_range(range.lower, range.upper));
}

std::string moved_words(const analysis::Stand& stand) {
  if (!stand.interval_moved) return "";
  return fmt::format("would leave the percentage out: its {} end was moved to it.",
                     stand.interval->lower == *stand.fraction ? "lower" : "upper");
}

std::string day_name(double day) { return fmt::format("day {:g}", day); }

std::string share_by(const analysis::ByDay& by) {
  if (by.seeds == 0) return "-";
  const auto seeds = static_cast<double>(by.seeds);
  const std::string least = percent(static_cast<double>(by.at_least) / seeds);
  const std::string most = percent(static_cast<double>(by.at_most) / seeds);
  return by.at_least == by.at_most ? least : least + " to " + most;
}

std::string by_day_words(const analysis::ByDay& by) {
  std::string left;
  if (by.not_followed > 0)
    left = fmt::format(" {} last looked at before that: left out.",
                       counted(by.not_followed, "sowing was", "sowings were"));
  if (by.sowings == 0) return fmt::format("By {}: not known.{}", day_name(by.day), left);
  const bool known = by.at_least == by.at_most;
  return fmt::format(
      "By {}: {} of {} up, {}{}. The true percentage by then lies between {} and {} ({}).{}",
      day_name(by.day),
      known ? whole(by.at_least) : whole(by.at_least) + " to " + whole(by.at_most), whole(by.seeds),
      share_by(by), known ? "" : " (not looked at that day)", percent(by.interval->lower),
      percent(by.interval->upper), level_words(by.interval->level),
      (by.interval_moved ? " The range would leave that share out: its end was moved to it." : "") +
          left);
}

}  // namespace plumule::report
