#include "report/summary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "records/words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/summary/gaps_text.hpp"

namespace plumule::report {

namespace {

constexpr int key_width = 21;
constexpr int line_width = 78;  // of a line of summary in columns, without its marks

bool looked(const analysis::Group& group) { return group.not_looked_at < group.sowings; }

bool nothing_up(const analysis::Group& group) { return looked(group) && group.emerged == 0; }

// Something may still come: some sowing is open, and not all that was sown is up.
bool may_rise(const analysis::Group& group) {
  return group.open > 0 && !(group.stand.fraction && group.stand.emerged == group.stand.seeds &&
                             group.stand.seeds == group.seeds);
}

// "none yet" while something may still come, "none" where it can't.
std::string none(const analysis::Group& group) { return group.open > 0 ? "none yet" : "none"; }

std::string heading(const analysis::Group& group) {
  std::string text = group.key;
  if (group.sowings > 1) text += fmt::format(", {} sowings", whole(group.sowings));
  if (group.first_sown) {
    text += (group.sowings > 1 ? " sown " : ", sown ") + records::spoken(*group.first_sown, true);
    if (group.last_sown != group.first_sown)
      text += " to " + records::spoken(*group.last_sown, true);
  }
  return text;
}

// Of a group of which no units were counted yet.
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
    if (group.emerged == 0)
      return fmt::format("{} up; how many were sown is not known.",
                         none(group) == "none" ? "None" : "None yet");
    return fmt::format("{} up ({}); how many were sown is not known, so there is no percentage.",
                       whole(group.emerged), what);
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

std::string day_name(double day) { return fmt::format("day {:g}", day); }

// "45 %", or "45 % to 52 %" where nobody looked on the day itself.
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
      percent(by.interval->upper), level_words(by.interval->level), left);
}

// Where half were up by the first look that found any, the reading between it and day 0 means
// little: all that is known is that they were up by then.
std::string half_up(const std::optional<double>& day, const std::optional<double>& first) {
  return day && first && *day < *first ? "by " + days(first) : days(day);
}

std::vector<Figure> indices(const analysis::Group& group) {
  const auto& x = group.days.indices;
  std::vector<Figure> list = {
      {"first up, day", days(x.first)},
      {"last up, day", days(x.last)},
      {"spread, days", days(x.spread)},
      {"mean days", days(x.mean)},
      {"half up, day (N+1)/2", half_up(x.t50_coolbear, x.first)},
      {"half up, day N/2", half_up(x.t50_farooq, x.first)},
      {"variance, days^2", figure(x.variance)},
      {"variation, %", figure(x.cv)},
      {"velocity, % a day", figure(x.velocity)},
      {"speed, a day", figure(x.speed)},
      {"uncertainty, bits", figure(x.uncertainty_bits)},
      {"synchrony", figure(x.synchrony)},
      {"peak value, % a day", figure(x.peak_value)},
      {"mean daily, % a day", figure(x.mean_daily)},
      {"germination value", figure(x.germination_value)},
      {"cumulative sum, %", figure(x.timson_sum)},
  };
  return list;
}

// What became of sowings that were stopped, by an accident or by looking no more.
std::vector<std::string> stopped_words(const analysis::Group& group) {
  std::vector<std::string> list;
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
  return list;
}

constexpr std::string_view uneven_words =
    "sowings of very different size: the stand goes by seeds, the range rather by sowings";

// The pooled share and that of the sowings, each counting once, are far apart.
bool uneven(const analysis::Stand& stand) {
  constexpr double far = 0.05;
  return stand.sowings > 1 && stand.fraction && stand.mean_of_sowings &&
         std::abs(*stand.fraction - *stand.mean_of_sowings) >= far;
}

std::string marks(const Style& style, const analysis::Group& group) {
  std::string text;
  if (may_rise(group) && group.emerged > 0) text += '*';
  if (group.not_final) text += 'x';
  if (uneven(group.stand)) text += '~';
  return text.empty() ? "" : toned(style, Tone::faint, " " + text);
}

std::vector<std::string> remarks(const analysis::Group& group) {
  std::vector<std::string> list;
  const auto add = [&](std::string text) { list.push_back(std::move(text)); };
  if (looked(group) && group.not_looked_at > 0)
    add(fmt::format("{} not looked at yet: in no figure.",
                    counted(group.not_looked_at, "sowing", "sowings")));
  if (group.units_unknown > 0 && group.units_unknown < group.sowings)
    add(fmt::format("{} of an unknown number sown: in the days, not in the percentage.",
                    counted(group.units_unknown, "sowing", "sowings")));
  for (auto& text : stopped_words(group)) add(std::move(text));
  if (group.not_final)
    add(group.by_accident
            ? "Stopped by an accident: these are the figures of the last good look, and more might "
              "have come."
            : "Looked at no more while others in its trial still came up: these are the figures of "
              "the last look, and more might have come.");
  if (group.shared_jars)
    add("Sowings whose seed was treated in one jar count as one in the range of the percentage and "
        "of the mean days.");
  if (uneven(group.stand))
    add(fmt::format(
        "Sowings of very different size: the percentage goes by seeds, the range rather "
        "by sowings ({} up in the mean of them).",
        percent(group.stand.mean_of_sowings)));
  if (group.emerged > 0 && group.days.nothing_up > 0)
    add(fmt::format("{} nothing up: in the percentage, not in the mean days over sowings.",
                    group.days.nothing_up == 1 ? std::string("1 sowing has")
                                               : whole(group.days.nothing_up) + " sowings have"));
  const auto& x = group.days.indices;
  if (group.emerged > 1 && x.first && x.last && *x.first == *x.last)
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

}  // namespace

std::string summary_header(const Style& style, std::string_view grouped_by, double level,
                           const std::optional<analysis::ByDay>& by) {
  if (style.width < line_width) return "";  // each line names its figures
  const std::string line = left(grouped_by, key_width) + right("sown", 7) + right("up", 7) +
                           right("stand", 8) + right(level_words(level) + " range", 16) +
                           (by ? right("by " + day_name(by->day), 19)
                               : right("first", 7) + right("last", 6) + right("mean", 6));
  return toned(style, Tone::faint, line) + '\n';
}

std::string summary_line(const Style& style, const analysis::Group& group) {
  const auto& stand = group.stand;
  std::string key = group.key;
  if (group.counting != records::Counting::shoot_up)
    key += " (" + std::string(records::word(group.counting)) + ")";
  if (group.unit != records::UnitKind::seed)
    key += " (" + std::string(unit_word(group.unit, 2)) + ")";
  // Of those in the percentage, so that the three figures agree.
  const std::int64_t sown_in = stand.fraction ? stand.seeds : group.seeds;
  const std::int64_t up_of = stand.fraction ? stand.emerged : group.emerged;
  const std::string sown = group.units_unknown == group.sowings ? "?" : whole(sown_in);
  const std::string up = up_of == 0 ? "none" : whole(up_of);
  const std::string range = stand.interval ? fmt::format("{} to {}", percent(stand.interval->lower),
                                                         percent(stand.interval->upper))
                                           : "";
  const auto& x = group.days.indices;
  if (style.width < line_width) {
    if (!looked(group)) return folded_row(style, {"", "sown", ""}, {key, sown, unlooked(group)}, 0);
    std::vector<std::string> headers = {"", "sown", "up", "stand", "range"};
    std::vector<std::string> cells = {key, sown, up, percent(stand.fraction, "?"), range};
    if (nothing_up(group)) {
      headers.emplace_back();
      cells.push_back(none(group));
    } else if (group.by_day) {
      headers.push_back("by " + day_name(group.by_day->day));
      cells.push_back(share_by(*group.by_day));
    } else {
      headers.insert(headers.end(), {"first", "last", "mean"});
      cells.insert(cells.end(), {days(x.first), days(x.last), days(x.mean)});
    }
    cells.back() += marks(style, group);
    return folded_row(style, headers, cells, 0);
  }
  std::string line;
  if (columns(key) > key_width) {
    line = key + '\n';
    key.clear();
  }
  line += left(key, key_width) + right(sown, 7);
  if (!looked(group)) return line + right(unlooked(group), 22) + '\n';
  line += right(up, 7) + right(percent(stand.fraction, "?"), 8) + right(range, 16);
  if (nothing_up(group)) return line + right(none(group), 11) + marks(style, group) + '\n';
  if (group.by_day) return line + right(share_by(*group.by_day), 19) + marks(style, group) + '\n';
  line += right(days(x.first), 7) + right(days(x.last), 6) + right(days(x.mean), 6);
  return line + marks(style, group) + '\n';
}

namespace {

// A t interval may reach below 0 days, which cannot be: it then gives no lower limit.
std::string range_of_days(const stats::Interval& interval) {
  if (interval.lower <= 0) return "below " + days(interval.upper);
  return days(interval.lower) + " to " + days(interval.upper);
}

// Why mean days have no range.
std::string no_range_words(const analysis::Group& group) {
  const std::string mean =
      fmt::format("Mean days by the middle of the count intervals: {}; ", days(group.days.midway));
  return mean + (group.days.between_sowings.status == stats::TStatus::no_variance
                     ? "the sowings do not vary, so there is no range."
                     : "one sowing or jar alone gives no range for its days.");
}

}  // namespace

std::string summary_detail(const Style& style, const analysis::Group& group, bool full) {
  std::string text = toned(style, Tone::strong, heading(group)) + '\n';
  text += paragraph(style, came_up(group) + " " + likely(group), 2);
  if (group.by_day && looked(group)) text += paragraph(style, by_day_words(*group.by_day), 2);
  if (looked(group) && group.emerged > 0) {
    text += '\n' + figures(style, indices(group));
    const auto& between = group.days.between_sowings;
    if (between.status == stats::TStatus::ok)
      text += paragraph(
          style,
          fmt::format("Mean days over sowings (middle of the count intervals): {} ({} {}, by the "
                      "spread between sowings).",
                      days(between.difference), level_words(between.interval.level),
                      range_of_days(between.interval)),
          2);
    else if (full && group.days.midway)
      text += paragraph(style, no_range_words(group), 2);
    const auto& t50 = group.days.between_t50;
    if (full && t50.status == stats::TStatus::ok)
      text += paragraph(style,
                        fmt::format("Half of those up, over sowings: day {} ({} {}, likewise).",
                                    days(t50.difference), level_words(t50.interval.level),
                                    range_of_days(t50.interval)),
                        2);
    if (const auto& wetted = group.days.since_wetting; wetted && wetted->mean)
      text += paragraph(style,
                        fmt::format("Counted from when the seed was wetted: first {}, last {}, "
                                    "mean {} days.",
                                    days(wetted->first), days(wetted->last), days(wetted->mean)),
                        2);
  }
  for (const auto& remark : remarks(group)) text += paragraph(style, "- " + remark, 4, 2);
  if (full && !group.days.same_looks && group.emerged > 0)
    text += paragraph(style,
                      "- Its sowings were looked at on different days: uncertainty, synchrony and "
                      "cumulative sum hang on the days of looking, and can't be held against those "
                      "of others.",
                      4, 2);
  if (full) text += gaps_text(style, group);
  return text;
}

void SummaryNotes::take(const analysis::Group& group) {
  any_ = true;
  open_ = open_ || (may_rise(group) && group.emerged > 0);
  not_final_ = not_final_ || group.not_final;
  uneven_ = uneven_ || uneven(group.stand);
  for (const auto& note : stopped_words(group)) {
    if (stopped_.size() < 10)
      stopped_.push_back(group.key + ": " + note);
    else
      ++more_stopped_;
  }
  if (!group.stand.interval) return;
  const std::string prior = prior_words(group.stand.prior, group.stand.rho90);
  if (std::find(priors_.begin(), priors_.end(), prior) == priors_.end()) priors_.push_back(prior);
}

std::string SummaryNotes::text(const Style& style, bool list) const {
  std::string text;
  if (list) {
    if (open_) text += "* still open: more may come\n";
    if (not_final_)
      text += paragraph(style,
                        "x no final figure (stopped by an accident, or looked at no more while "
                        "others came up): as of the last good look, more might have come",
                        2, 0);
    if (uneven_) text += paragraph(style, std::string("~ ") + std::string(uneven_words), 2, 0);
    for (const auto& note : stopped_) text += paragraph(style, note, 2, 0);
    if (more_stopped_ > 0)
      text += fmt::format("and {} more so\n", whole(static_cast<std::int64_t>(more_stopped_)));
  }
  if (!any_) return text;
  std::string method = "Days are dated by the day of count, from sowing.";
  if (priors_.size() == 1)
    method = fmt::format("Interval: tray-aware ({}). {}", priors_.front(), method);
  if (priors_.size() > 1) {
    std::string each;
    for (const auto& prior : priors_)
      each += (each.empty() ? "" : "; ") + prior.substr(prior.find("rho"));
    method =
        fmt::format("Interval: tray-aware, each line by its own setting ({}). {}", each, method);
  }
  return text + toned(style, Tone::faint, paragraph(style, method));
}

}  // namespace plumule::report
