#include "report/comparison.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "records/date.hpp"
#include "report/comparison/comparison_parts.hpp"
#include "report/comparison/comparison_words.hpp"
#include "report/comparison/trial_words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::Contrast;
using analysis::TreatmentComparison;

// Of a difference that can't be told from that of a block, a seed lot, a place or a day.
constexpr auto whatever_made_it = ", whatever made it";

std::string heading(const Style& style, const TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  std::string text = toned(style, Tone::strong, finding.subject);
  if (!finding.question.empty()) text += ": " + finding.question;
  const std::string units = counted(static_cast<std::int64_t>(layout.sowings.size()),
                                    unit_name(finding), unit_name(finding) + "s");
  std::string facts = units;
  if (finding.picked_of)
    facts = fmt::format("{} of the {} {}s of its trial", layout.sowings.size(), *finding.picked_of,
                        unit_name(finding));
  if (layout.blocks.size() > 1) facts += fmt::format(" in {} blocks", layout.blocks.size());
  return paragraph(style, text) + paragraph(style, facts + "; " + state_words(finding) + ".");
}

bool any_standing(const TreatmentComparison& finding) {
  return std::any_of(finding.stands.begin(), finding.stands.end(),
                     [](const auto& stand) { return stand.standing.has_value(); });
}

// What came up of all that was sown, where the model, which gives every treatment the same share of
// each block and weighs trays by what they tell, says another percentage.
std::string plain_shares(const Style& style, const TreatmentComparison& finding) {
  std::string plain;
  bool differs = false;
  for (std::size_t i = 0; i < finding.treatments.size(); ++i) {
    const auto& group = finding.treatments[i];
    const auto& stand = finding.stands[i].came_up;
    if (!stand || !group.stand.fraction) continue;
    differs = differs || std::abs(stand->mean - *group.stand.fraction) >= 0.005;
    plain += fmt::format("{}{} {}", plain.empty() ? "" : ", ", group.name,
                         percent(*group.stand.fraction));
  }
  if (!differs) return "";
  const std::string within = block_name(finding);
  return toned(
      style, Tone::faint,
      paragraph(style, fmt::format("{}; of all that was sown came up: {}.",
                                   within.empty() ? "Stand weighs each " + unit_name(finding) +
                                                        " by what it tells"
                                                  : "Stand gives each treatment the same share of "
                                                    "every " +
                                                        within,
                                   plain)));
}

// The stand of a treatment, what came up or what stands, by the model that its contrasts are read
// from.
std::string modelled(const std::optional<analysis::ModelledStand>& stand) {
  return stand ? percent(stand->mean) : "-";
}

std::string treatments_table(const Style& style, const TreatmentComparison& finding) {
  const std::string unit = unit_name(finding) + "s";
  const bool lost = any_standing(finding);
  std::vector<Table::Column> columns = {
      {"treatment"}, {unit, true},    {"sown", true},
      {"up", true},  {"stand", true}, {level_words(finding.level) + " range", true}};
  if (lost) columns[4].header = "came up";
  if (lost) columns.push_back({"still stand", true});
  columns.push_back({"mean days", true});
  Table table(columns);
  const std::string none = finding.state.open() ? "none yet" : "none";
  for (std::size_t i = 0; i < finding.treatments.size(); ++i) {
    const auto& group = finding.treatments[i];
    const auto& stand = group.stand;
    const auto& by_model = finding.stands[i];
    const bool unseen = group.not_looked_at == group.sowings;
    // Sown and up of the sowings in the percentage, so that the three figures agree; else of all.
    const std::int64_t up = stand.fraction ? stand.emerged : group.up_in_all();
    const std::int64_t sown = unseen ? group.seeds_not_looked_at : stand.seeds;
    const bool told = by_model.came_up && !unseen;
    std::vector<std::string> row = {
        group.name,
        whole(group.sowings),
        sown == 0 ? "?" : whole(sown),
        unseen    ? "-"
        : up == 0 ? none
                  : whole(up),
        told ? modelled(by_model.came_up) : "-",
        told ? percent_range(by_model.came_up->range.lower, by_model.came_up->range.upper) : "-"};
    if (lost) row.push_back(told ? modelled(by_model.standing) : "-");
    row.push_back(unseen || group.not_final ? "-"
                  : group.days.midway       ? days(group.days.midway)
                  : up == 0                 ? none
                                            : "-");
    table.row(row);
  }
  return table.text(style, 2) + plain_shares(style, finding);
}

// A difference in days, with its range and p once the trial is closed.
std::string days_words(const TreatmentComparison& finding, const Contrast& contrast,
                       const stats::SpeedDifference& x) {
  if (!x.difference) return "-";
  std::string text = signed_days(*x.difference);
  if (!contrast.speed.parted_by.empty()) return text + whatever_made_it;
  if (finding.state.open()) return text;
  if (x.lower && x.upper)
    text += fmt::format(" ({}: {} to {})", level_words(x.level), signed_days(*x.lower),
                        signed_days(*x.upper));
  if (x.status == stats::SpeedStatus::no_variance)
    return text + fmt::format(" (the {}s of each do not vary: no range, no p)", unit_name(finding));
  if (x.status == stats::SpeedStatus::too_few) return text + " (no range, no p)";
  return x.p ? text + "; " + p_words(*x.p) : text;
}

// The ratio of times, which allows for gaps between looks.
std::string ratio_words(const Contrast& contrast) {
  const auto& gaps = contrast.speed.gaps;
  if (!gaps || !gaps->ratio) return "can't be fitted to these";
  const auto& ratio = *gaps->ratio;
  std::string text = figure(ratio.ratio) + " of that of " + contrast.against;
  if (ratio.lower && ratio.upper)
    text += fmt::format(" ({}: {} to {})", level_words(ratio.level), figure(*ratio.lower),
                        figure(*ratio.upper));
  else
    text += " (no range)";
  return text;
}

// A difference of the stand with its range; within what it is reckoned, if not over all units.
std::string stand_difference(const TreatmentComparison& finding,
                             const analysis::StandFinding& stand) {
  const std::string within = block_name(finding);
  std::string text = points(stand.difference());
  if (!stand.told) return text + whatever_made_it;
  const auto& range = stand.by_model.range;
  if (!finding.state.open())
    text += fmt::format(" ({}: {})", level_words(finding.level),
                        points_range(range.lower, range.upper));
  return within.empty() ? text : text + ", within each " + within;
}

std::string lots_words(const TreatmentComparison& finding,
                       const std::optional<stats::Randomisation>& test) {
  if (!test || test->status != stats::RandomisationStatus::ok)
    return "no " + factor_words(finding.layout.kept_apart) + " holds both";
  return fmt::format("{} (least possible {})", p_words(test->p),
                     chance_of_layout(test->smallest_p, test->arrangements));
}

// The chance of what it looks like: of a difference below 0 that it is worse.
std::string chance_name(const analysis::StandContrast& stand) {
  const bool worse = stand.came_up->by_model.estimate < 0;
  if (stand.standing) return worse ? "chance fewer come up" : "chance more come up";
  return worse ? "chance it is worse" : "chance it is better";
}

std::string chance_words(const TreatmentComparison& finding, const stats::StandContrast& model) {
  const bool worse = model.estimate < 0;
  return fmt::format("{}; {} by {} points or more: {}",
                     percent(worse ? 1 - model.p_better : model.p_better),
                     worse ? "worse" : "better", std::lround(100 * finding.worth),
                     percent(worse ? model.p_worth_less : model.p_worth));
}

// The five figures that carry a verdict.
std::string contrast_figures(const Style& style, const TreatmentComparison& finding,
                             const Contrast& contrast) {
  const auto& stand = contrast.stand;
  const auto& speed = contrast.speed;
  std::string text;
  const auto line = [&](const std::string& name, const std::string& value) {
    text += entry(style, name, value, 20, 4);
  };
  const bool open = finding.state.open();
  if (stand.came_up)
    line(stand.standing ? "difference, came up" : "difference in stand",
         stand_difference(finding, *stand.came_up));
  if (stand.standing) line("difference, standing", stand_difference(finding, *stand.standing));
  if (stand.came_up && stand.came_up->told && !open &&
      contrast.joint != analysis::Joint::several_trials)
    line(chance_name(stand), chance_words(finding, stand.came_up->by_model));
  if (!open && stand.came_up) line("drawing lots anew", lots_words(finding, stand.randomisation));
  if (speed.looks.uneven) line("time, by the model", ratio_words(contrast));
  line("days, from sowing", days_words(finding, contrast, speed.mean_days.difference));
  if (speed.mean_days_wetted)
    line("days, from wetting", days_words(finding, contrast, speed.mean_days_wetted->difference));
  if (contrast.holm)
    line(fmt::format("p over all {} (Holm)", contrast.holm->comparisons),
         holm_words(*contrast.holm));
  return text;
}

// Each contrast with what has to be said of it; what has to be said of all of them once, below.
std::string contrasts_text(const Style& style, const TreatmentComparison& finding) {
  std::vector<std::vector<std::string>> remarks;
  for (const auto& contrast : finding.contrasts)
    remarks.push_back(verdict_remarks(finding, contrast, style.hints));
  std::vector<std::string> of_all;
  if (remarks.size() > 1)
    for (const auto& remark : remarks.front())
      if (std::ranges::all_of(remarks, [&](const auto& list) {
            return std::ranges::find(list, remark) != list.end();
          }))
        of_all.push_back(remark);
  std::string text;
  for (std::size_t i = 0; i < remarks.size(); ++i) {
    const auto& contrast = finding.contrasts[i];
    text += toned(style, Tone::strong, paragraph(style, verdict_words(finding, contrast), 2, 0));
    text += contrast_figures(style, finding, contrast);
    for (const auto& remark : remarks[i])
      if (std::ranges::find(of_all, remark) == of_all.end()) text += paragraph(style, remark, 2);
    text += '\n';
  }
  for (const auto& remark : of_all) text += paragraph(style, remark);
  return of_all.empty() ? text : text + '\n';
}

// Why, said of one sowing and of several.
std::pair<std::string_view, std::string_view> left_out_words(analysis::LeftOutWhy why) {
  using analysis::LeftOutWhy;
  switch (why) {
    case LeftOutWhy::counts_otherwise:
      return {"counts another thing: left out", "count another thing: left out"};
    case LeftOutWhy::other_unit:
      return {"is sown in other units: left out", "are sown in other units: left out"};
    case LeftOutWhy::not_looked_at:
      return {"not looked at yet", "not looked at yet"};
    case LeftOutWhy::stopped_early:
      return {"stopped by an accident before others had done: in neither stand nor mean days",
              "stopped by an accident before others had done: in neither stand nor mean days"};
    case LeftOutWhy::not_followed:
      return {"was looked at no more while others still came up: in neither stand nor mean days",
              "were looked at no more while others still came up: in neither stand nor mean days"};
    case LeftOutWhy::units_unknown:
      break;
  }
  return {"number sown unknown: in the days, not in the stand",
          "number sown unknown: in the days, not in the stand"};
}

std::string left_out_text(const Style& style, const TreatmentComparison& finding) {
  std::vector<std::pair<analysis::LeftOutWhy, std::vector<std::string>>> reasons;
  for (const auto& out : finding.layout.left_out) {
    auto same = std::find_if(reasons.begin(), reasons.end(),
                             [&](const auto& reason) { return reason.first == out.why; });
    if (same == reasons.end()) same = reasons.insert(reasons.end(), {out.why, {}});
    same->second.push_back(out.sowing);
  }
  std::string text;
  for (const auto& [why, names] : reasons) {
    const auto words = left_out_words(why);
    text += fmt::format("{}{} {}", text.empty() ? "" : "; ", some_of(names),
                        names.size() == 1 ? words.first : words.second);
  }
  if (!text.empty()) text = paragraph(style, text + ".");
  if (!finding.lost_after_close.empty())
    text += paragraph(
        style, hinted(style.hints,
                      fmt::format("Seedlings were lost after the close in {}. Those losses are in "
                                  "no figure here",
                                  some_of(finding.lost_after_close)),
                      {records::Advice::show_late_counts}, "."));
  std::string late;
  for (const auto& name : finding.more_after_close) late += (late.empty() ? "" : ", ") + name;
  if (!late.empty())
    text += paragraph(
        style, hinted(style.hints,
                      fmt::format("More came up after the close in {}. Those counts are in no "
                                  "figure here",
                                  late),
                      {records::Advice::show_late_counts}, "."));
  return text;
}

// Which seed was treated together, where that is not recorded.
std::string jars_text(const TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  std::string of;
  for (std::size_t i = 0; i < layout.jars.size(); ++i)
    if (layout.batches_recorded && layout.jars[i].recorded == 0 &&
        layout.treatments[i] != records::untreated)
      of += (of.empty() ? " of " : ", ") + layout.treatments[i];
  std::string text;
  if (!layout.batches_recorded || !of.empty())
    text = fmt::format("No jar or mat is recorded{}, so each {} is taken as treated by itself. ",
                       of, unit_name(finding));
  const bool shared = std::any_of(layout.units.begin(), layout.units.end(),
                                  [](const auto& unit) { return unit.sowings.size() > 1; });
  if (shared) text += "What was treated in one jar counts as one. ";
  return text;
}

std::string method_text(const Style& style, const TreatmentComparison& finding) {
  const auto& layout = finding.layout;
  std::string text;
  const std::string prior = prior_words(finding.prior, finding.rho90);
  text = finding.state.open()
             ? fmt::format(
                   "Stand by one model of all {}s ({}); days by the middle of the count "
                   "interval. ",
                   unit_name(finding), prior)
             : fmt::format(
                   "Stand by one model of all {}s ({}); days by the middle of the count "
                   "interval; worth having: {} points. ",
                   unit_name(finding), prior, std::lround(100 * finding.worth));
  if (analysis::out_of_reach(finding.worth))
    text += "So small a difference is out of reach of any trial a grower can sow. ";
  text += jars_text(finding);
  for (const auto factor : layout.jar_across) {
    const std::string name = factor_words({factor});
    text += fmt::format("A jar lies across several {0}s, so {0}s are not kept apart. ", name);
  }
  if (!layout.kept_apart.empty())
    text += fmt::format("Lots are drawn anew within each {}. ", factor_words(layout.kept_apart));
  if (const auto& moved = finding.state.moved)
    text += fmt::format(
        "Its last day was changed on {}, after counting had begun; what was planned before that "
        "stands: {}. ",
        records::spoken(moved->on, true),
        moved->fixed ? records::spoken(*moved->fixed, true) : "none");
  if (finding.state.plan_too_early)
    text += "Its planned last day lies before its last sowing and was passed over. ";
  return toned(style, Tone::faint, paragraph(style, text));
}

}  // namespace

std::string comparison_text(const Style& style, const TreatmentComparison& finding, bool full) {
  std::string text = heading(style, finding) + '\n';
  text += contrasts_text(style, finding);
  if (const std::string looks = looks_words(finding.contrasts); !looks.empty())
    text += paragraph(style, looks) + '\n';
  text += treatments_table(style, finding);
  if (finding.dose) text += dose_text(style, *finding.dose);
  text += left_out_text(style, finding);
  text += method_text(style, finding);
  if (full) text += comparison_full(style, finding);
  return text;
}

}  // namespace plumule::report
