#include "report/summary/group_remarks.hpp"

#include <fmt/format.h>

#include <cmath>

#include "records/words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/summary/stand_words.hpp"

namespace plumule::report {

std::vector<std::string> left_out_words(const analysis::Group& group) {
  std::vector<std::string> list;
  if (group.stand.fraction && group.unknown.sowings > 0)
    list.push_back(
        fmt::format("{} up in {} of an unknown number sown: in the days, not in the percentage.",
                    group.unknown.emerged == 0 ? "None" : whole(group.unknown.emerged),
                    counted(group.unknown.sowings, "sowing", "sowings")));
  for (const auto& name : group.stopped_early)
    list.push_back(name +
                   " was stopped by an accident before the others had done: in neither percentage "
                   "nor days.");
  for (const auto& name : group.not_followed)
    list.push_back(name +
                   " was looked at no more while others in its trial still came up: in neither "
                   "percentage nor days.");
  for (const auto& name : group.accidents_counted)
    list.push_back(name +
                   " was stopped by an accident, after the last had come up elsewhere: "
                   "counted.");
  const auto standing = standing_of(group);
  if (const std::int64_t told = standing ? standing->lost : 0; group.lost_in_all() > told)
    list.push_back(whole(group.lost_in_all() - told) +
                   " lost in sowings that are not in the percentage.");
  return list;
}

bool uneven(const analysis::Stand& stand) {
  constexpr double far = 0.05;
  return stand.sowings > 1 && stand.fraction && stand.mean_of_sowings &&
         std::abs(*stand.fraction - *stand.mean_of_sowings) >= far;
}

std::vector<std::string> remarks(const analysis::Group& group) {
  std::vector<std::string> list;
  const auto add = [&](std::string text) { list.push_back(std::move(text)); };
  if (looked(group) && group.not_looked_at > 0)
    add(fmt::format("{} not looked at yet: in no figure.",
                    counted(group.not_looked_at, "sowing", "sowings")));
  for (auto& text : left_out_words(group)) add(std::move(text));
  if (group.not_final)
    add(group.by_accident
            ? "Stopped by an accident: these are the figures of the last good look, and more might "
              "have come."
            : "Looked at no more while others in its trial still came up: these are the figures of "
              "the last look, and more might have come.");
  if (group.shared_jars)
    add("Sowings whose seed was treated in one jar count as one in the range of the percentage and "
        "of the mean days.");
  if (uneven(group.stand) || (group.standing && uneven(*group.standing)))
    add(fmt::format(
        "Sowings of very different size: the percentage goes by seeds, the range rather "
        "by sowings ({} up{} in the mean of them).",
        percent(group.stand.mean_of_sowings),
        group.standing ? ", " + percent(group.standing->mean_of_sowings) + " standing" : ""));
  if (group.stand.interval_moved) add("The range " + moved_words(group.stand));
  if (group.standing && group.standing->interval_moved)
    add("The range of what stands " + moved_words(*group.standing));
  if (group.up_in_all() > 0 && group.days.nothing_up > 0)
    add(fmt::format("{} nothing up: in the percentage, not in the mean days over sowings.",
                    group.days.nothing_up == 1 ? std::string("1 sowing has")
                                               : whole(group.days.nothing_up) + " sowings have"));
  const auto& x = group.days.indices;
  if (group.up_in_all() > 1 && x.first && x.last && *x.first == *x.last)
    add(fmt::format(
        "All were first seen at one look, on day {}: they were up by then, and how far apart they "
        "came (spread, variance, uncertainty, synchrony) can't be told from it.",
        days(x.first)));
  if (group.guessed) add("Some counts were guesses: their middle is used.");
  if (group.units_estimated) add("The number sown was estimated.");
  if (group.seedlings.per_unit)
    add(fmt::format("{} seedlings from {} {} that came up: {:.2f} each.",
                    whole(group.seedlings.of_units), whole(group.seedlings.units_up),
                    unit_word(group.unit, group.seedlings.units_up), *group.seedlings.per_unit));
  if (group.seedlings.per_metre)
    add(fmt::format("{} seedlings to a metre ({} on {:g} m).", figure(group.seedlings.per_metre),
                    whole(group.seedlings.in_rows), group.seedlings.metres));
  if (!group.rest.empty()) {
    std::string text = "Of those that did not come up:";
    for (const auto& [outcome, units] : group.rest)
      text += fmt::format(" {} {},", whole(units), records::word(outcome));
    text.back() = '.';
    add(std::move(text));
  }
  return list;
}

}  // namespace plumule::report
