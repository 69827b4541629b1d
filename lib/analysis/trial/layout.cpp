#include "analysis/trial/layout.hpp"
#include "analysis/course/stopped_sowings.hpp"
#include "records/label.hpp"
#include "stats/trials/block_evidence.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace plumule::analysis {

namespace {

using Kind = std::pair<records::Counting, records::UnitKind>;

Kind commonest(std::span<const records::History> histories) {
  std::map<Kind, int> times;
  for (const auto& history : histories) ++times[{history.sowing.counting, history.sowing.unit}];
  Kind best{};
  int most = 0;
  for (const auto& [kind, number] : times)
    if (number > most) {
      most = number;
      best = kind;
    }
  return best;
}

std::string joined(const std::string& a, const std::string& b) {
  return a + (a.empty() || b.empty() ? "" : ", ") + b;
}

std::string source_of(const TrialLayout& layout, const records::Sowing& sowing) {
  return joined(layout.several_lots ? sowing.lot : "", layout.several_trials ? sowing.trial : "");
}

template <class T>
std::size_t index_of(std::vector<T>& all, const T& value) {
  const auto at = std::find(all.begin(), all.end(), value);
  if (at != all.end()) return static_cast<std::size_t>(at - all.begin());
  all.push_back(value);
  return all.size() - 1;
}

void take_sowings(TrialLayout& layout, std::span<const records::History> histories,
                  std::span<const records::Treatment> treatments) {
  const Kind kind = commonest(histories);
  std::map<std::string, int> labels;
  for (const auto& history : histories) ++labels[history.sowing.label];
  for (std::size_t i = 0; i < histories.size(); ++i) {
    const auto& history = histories[i];
    const auto& sowing = history.sowing;
    TrialSowing taken;
    taken.place = i;
    taken.setting = sowing.setting;
    taken.name = labels[sowing.label] > 1 ? sowing.label + "@" + records::to_text(sowing.sown.date)
                                          : sowing.label;
    if (sowing.counting != kind.first) {
      layout.left_out.push_back({taken.name, LeftOutWhy::counts_otherwise});
      continue;
    }
    if (sowing.unit != kind.second) {
      layout.left_out.push_back({taken.name, LeftOutWhy::other_unit});
      continue;
    }
    taken.course = sowing_course(history, days_wetted_before(sowing, treatments));
    taken.last_counted = last_counted(history);
    layout.sowings.push_back(std::move(taken));
  }
  std::sort(layout.sowings.begin(), layout.sowings.end(),
            [](const TrialSowing& a, const TrialSowing& b) {
              return records::label_before(a.name, b.name);
            });
}

// Whether each has a final stand, by rules that do not see the treatment.
void mark_stands(TrialLayout& layout, std::span<const records::History> histories) {
  StoppedSowings stopped;
  for (const auto& sowing : layout.sowings) stopped.take(histories[sowing.place], sowing.course);
  for (auto& sowing : layout.sowings) {
    const auto& course = sowing.course;
    sowing.at_rest = at_rest(histories[sowing.place], course);
    sowing.stopped = stopped.holds(histories[sowing.place], course);
    if (!course.looked)
      layout.left_out.push_back({sowing.name, LeftOutWhy::not_looked_at});
    else if (!course.units)
      layout.left_out.push_back({sowing.name, LeftOutWhy::units_unknown});
    else if (sowing.stopped)
      layout.left_out.push_back({sowing.name, course.stopped_early ? LeftOutWhy::stopped_early
                                                                   : LeftOutWhy::not_followed});
    else
      sowing.in_stand = true;
  }
}

void name_strata(TrialLayout& layout, std::span<const records::History> histories) {
  std::set<std::string> lots;
  std::set<std::string> trials;
  std::set<std::pair<std::string, std::string>> blocks;  // trial and block
  for (const auto& one : layout.sowings) {
    const records::Sowing& sowing = histories[one.place].sowing;
    lots.insert(sowing.lot);
    trials.insert(sowing.trial);
    if (!sowing.block.empty()) blocks.emplace(sowing.trial, sowing.block);
    if (!sowing.batch.empty()) layout.batches_recorded = true;
  }
  layout.blocks = static_cast<int>(blocks.size());
  layout.blocks_recorded = layout.blocks > 0;
  layout.several_lots = lots.size() > 1;
  layout.several_trials = trials.size() > 1;
  trials.erase("");
  layout.trials.assign(trials.begin(), trials.end());
  std::sort(layout.trials.begin(), layout.trials.end(),
            [](const std::string& a, const std::string& b) { return records::label_before(a, b); });
}

// Lots are drawn within blocks, seed lots and trials, unless a jar lies across two of them.
void find_jars_across(TrialLayout& layout, std::span<const records::History> histories) {
  std::map<std::pair<std::string, std::string>, const records::Sowing*> first;
  for (const auto& one : layout.sowings) {
    const auto& sowing = histories[one.place].sowing;
    if (sowing.batch.empty()) continue;
    const auto* same = first.try_emplace({sowing.treatment, sowing.batch}, &sowing).first->second;
    layout.jar_across_blocks = layout.jar_across_blocks || same->block != sowing.block;
    layout.jar_across_lots =
        layout.jar_across_lots || source_of(layout, *same) != source_of(layout, sowing);
  }
}

void make_units(TrialLayout& layout, std::span<const records::History> histories) {
  find_jars_across(layout, histories);
  std::map<std::pair<std::size_t, std::string>, Unit> batches;
  for (std::size_t i = 0; i < layout.sowings.size(); ++i) {
    const auto& sowing = histories[layout.sowings[i].place].sowing;
    const std::size_t treatment = index_of(layout.treatments, sowing.treatment);
    const std::string source = layout.jar_across_lots ? "" : source_of(layout, sowing);
    const std::string stratum = joined(layout.jar_across_blocks ? "" : sowing.block, source);
    Unit unit{layout.sowings[i].name,
              false,
              treatment,
              static_cast<int>(index_of(layout.strata, stratum)),
              static_cast<int>(index_of(layout.sources, source)),
              {i}};
    if (sowing.batch.empty()) {
      layout.units.push_back(std::move(unit));
      continue;
    }
    unit.code = sowing.batch;
    unit.batch = true;
    const auto [at, fresh] = batches.try_emplace({treatment, sowing.batch}, std::move(unit));
    if (!fresh) at->second.sowings.push_back(i);
  }
  for (auto& [key, unit] : batches) layout.units.push_back(std::move(unit));
  std::sort(layout.units.begin(), layout.units.end(),
            [](const Unit& a, const Unit& b) { return records::label_before(a.code, b.code); });
}

void count_jars(TrialLayout& layout, std::span<const records::History> histories) {
  layout.jars.resize(layout.treatments.size());
  for (const auto& one : layout.sowings) {
    const auto& sowing = histories[one.place].sowing;
    auto& jars = layout.jars[index_of(layout.treatments, sowing.treatment)];
    if (sowing.batch.empty())
      jars.not_recorded_of.push_back(one.name);
    else
      ++jars.recorded;
  }
}

// Puts the treatments in order of name, and renumbers those of the units to match.
void order_treatments(TrialLayout& layout) {
  auto sorted = layout.treatments;
  std::sort(sorted.begin(), sorted.end(),
            [](const std::string& a, const std::string& b) { return records::label_before(a, b); });
  for (auto& unit : layout.units)
    unit.treatment = index_of(sorted, layout.treatments[unit.treatment]);
  layout.treatments = std::move(sorted);
}

}  // namespace

TrialLayout trial_layout(std::span<const records::History> histories,
                         std::span<const records::Treatment> treatments) {
  TrialLayout layout;
  take_sowings(layout, histories, treatments);
  mark_stands(layout, histories);
  name_strata(layout, histories);
  make_units(layout, histories);
  order_treatments(layout);
  count_jars(layout, histories);
  return layout;
}

std::vector<bool> sources_of_both(const TrialLayout& layout, std::size_t treatment,
                                  std::size_t against) {
  std::vector<bool> has[2] = {std::vector<bool>(layout.sources.size()),
                              std::vector<bool>(layout.sources.size())};
  for (const auto& unit : layout.units)
    for (const std::size_t side : {treatment, against})
      for (const std::size_t i : unit.sowings)
        if (unit.treatment == side && layout.sowings[i].course.looked && !layout.sowings[i].stopped)
          has[side == treatment ? 0 : 1][static_cast<std::size_t>(unit.source)] = true;
  for (std::size_t i = 0; i < has[0].size(); ++i) has[0][i] = has[0][i] && has[1][i];
  return has[0];
}

BlockChoice block_choice(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                         Compared what) {
  std::vector<stats::BlockLayout> blocks(layout.strata.size(), {0, 0});
  const auto has = [&](std::size_t i) {
    const auto& sowing = layout.sowings[i];
    return what == Compared::stand ? sowing.in_stand : sowing.course.looked && !sowing.stopped;
  };
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (!std::any_of(unit.sowings.begin(), unit.sowings.end(), has)) continue;
    auto& block = blocks[static_cast<std::size_t>(unit.stratum)];
    ++(unit.treatment == treatment ? block.treated : block.control);
  }
  BlockChoice choice;
  choice.judged = stats::judged_within_blocks(blocks);
  for (const auto& block : blocks) choice.both.push_back(block.treated > 0 && block.control > 0);
  return choice;
}

}  // namespace plumule::analysis
