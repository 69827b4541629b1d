#include "report/summary.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "records/words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/summary/gaps_text.hpp"
#include "report/summary/group_remarks.hpp"
#include "report/summary/stand_words.hpp"

namespace plumule::report {

namespace {

constexpr int key_width = 21;
constexpr int line_width = 78;  // of a line of summary in columns, without its marks

std::string heading(const analysis::Group& group) {
  std::string text = group.name;
  if (group.sowings > 1) text += fmt::format(", {} sowings", whole(group.sowings));
  if (group.first_sown) {
    text += (group.sowings > 1 ? " sown " : ", sown ") + records::spoken(*group.first_sown, true);
    if (group.last_sown != group.first_sown)
      text += " to " + records::spoken(*group.last_sown, true);
  }
  return text;
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

constexpr std::string_view uneven_words =
    "sowings of very different size: the stand goes by seeds, the range rather by sowings";
constexpr std::string_view moved_note =
    "the range would leave the stand out: its nearer end was moved to it";

// Of what came up, or of what stands.
std::string range_marks(const analysis::Stand& stand) {
  return std::string(uneven(stand) ? "~" : "") + (stand.interval_moved ? "=" : "");
}

std::string marked(const Style& style, const std::string& marks) {
  return marks.empty() ? "" : toned(style, Tone::faint, " " + marks);
}

std::string marks(const Style& style, const analysis::Group& group) {
  std::string text;
  if (may_rise(group) && group.up_in_all() > 0) text += '*';
  if (group.not_final) text += 'x';
  return marked(style, text + range_marks(group.stand));
}

std::string range_of(const analysis::Stand& stand) {
  return stand.interval ? percent_range(stand.interval->lower, stand.interval->upper) : "";
}

// The line below that of a group in which a loss was recorded.
std::string standing_line(const Style& style, const analysis::Group& group) {
  const auto units = standing_of(group);
  if (!units) return "";
  const analysis::Stand standing = group.standing.value_or(analysis::Stand{});
  const std::string left_up = units->left == 0 ? "none" : whole(units->left);
  const std::string share = percent(standing.fraction, "?");
  const std::string range = range_of(standing);
  const std::string signs = marked(style, range_marks(standing));
  if (style.width < line_width)
    return folded_row(style, {"", "", "", "range", "lost"},
                      {"standing", left_up, share, range, whole(units->lost) + signs}, 2);
  return left("  standing", key_width) + right(left_up, 14) + right(share, 8) + right(range, 16) +
         right(whole(units->lost) + " lost", 11) + signs + '\n';
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

namespace {

std::string line_of(const Style& style, const analysis::Group& group) {
  const auto& stand = group.stand;
  std::string key = group.name;
  if (group.counting != records::Counting::shoot_up)
    key += " (" + std::string(records::word(group.counting)) + ")";
  if (group.unit != records::UnitKind::seed)
    key += " (" + std::string(unit_word(group.unit, 2)) + ")";
  // Of those in the percentage, so that the three figures agree.
  const std::int64_t sown_in = looked(group) ? stand.seeds : group.seeds_not_looked_at;
  const std::int64_t up_of = stand.fraction ? stand.emerged : group.up_in_all();
  const std::string sown = sown_in == 0 ? "?" : whole(sown_in);
  const std::string up = up_of == 0 ? "none" : whole(up_of);
  const std::string range = range_of(stand);
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

}  // namespace

std::string summary_line(const Style& style, const analysis::Group& group) {
  return line_of(style, group) + standing_line(style, group);
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
  text += paragraph(style, standing_words(group), 2);
  if (group.by_day && looked(group)) text += paragraph(style, by_day_words(*group.by_day), 2);
  if (looked(group) && group.up_in_all() > 0) {
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
  if (full && !group.days.same_looks && group.up_in_all() > 0)
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
  open_ = open_ || (may_rise(group) && group.up_in_all() > 0);
  not_final_ = not_final_ || group.not_final;
  for (const auto* stand : {&group.stand, group.standing ? &*group.standing : nullptr}) {
    if (!stand) continue;
    uneven_ = uneven_ || uneven(*stand);
    moved_ = moved_ || stand->interval_moved;
  }
  for (const auto& note : left_out_words(group)) {
    if (stopped_.size() < 10)
      stopped_.push_back(group.name + ": " + note);
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
    if (moved_) text += paragraph(style, std::string("= ") + std::string(moved_note), 2, 0);
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
