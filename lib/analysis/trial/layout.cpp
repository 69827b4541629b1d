#include "analysis/trial/layout.hpp"
#include "analysis/course/stopped_sowings.hpp"
#include "records/label.hpp"
#include "records/words.hpp"
#include "stats/trials/within_blocks.hpp"

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
  for (const auto& [trial, block] : blocks) layout.blocks.push_back(block);
  layout.several_lots = lots.size() > 1;
  layout.several_trials = trials.size() > 1;
  trials.erase("");
  layout.trials.assign(trials.begin(), trials.end());
  std::sort(layout.trials.begin(), layout.trials.end(),
            [](const std::string& a, const std::string& b) { return records::label_before(a, b); });
}

using Levels = std::array<std::string, every_factor.size()>;

constexpr auto of(Factor factor) { return static_cast<std::size_t>(factor); }

// The first day of each round of sowing.
std::set<records::Date> rounds(const TrialLayout& layout,
                               std::span<const records::History> histories) {
  constexpr std::chrono::days one_round{3};
  std::set<records::Date> days;
  for (const auto& one : layout.sowings) days.insert(histories[one.place].sowing.sown.date);
  std::set<records::Date> first;
  for (const auto day : days)
    if (first.empty() || day - *first.rbegin() > one_round) first.insert(day);
  return first;
}

// Of each sowing of the layout.
std::vector<Levels> levels_of(const TrialLayout& layout,
                              std::span<const records::History> histories) {
  const auto begun = rounds(layout, histories);
  std::vector<Levels> levels;
  for (const auto& one : layout.sowings) {
    const auto& sowing = histories[one.place].sowing;
    auto& made = levels.emplace_back();
    made[of(Factor::block)] = sowing.block;
    made[of(Factor::lot)] = sowing.lot;
    made[of(Factor::trial)] = sowing.trial;
    made[of(Factor::place)] = sowing.place;
    made[of(Factor::day)] = records::to_text(*std::prev(begun.upper_bound(sowing.sown.date)));
    made[of(Factor::setting)] = records::word(sowing.setting);
  }
  return levels;
}

void make_units(TrialLayout& layout, std::span<const records::History> histories) {
  std::map<std::pair<std::size_t, std::string>, Unit> batches;
  for (std::size_t i = 0; i < layout.sowings.size(); ++i) {
    const auto& sowing = histories[layout.sowings[i].place].sowing;
    Unit unit;
    unit.code = layout.sowings[i].name;
    unit.treatment = index_of(layout.treatments, sowing.treatment);
    unit.sowings = {i};
    if (sowing.batch.empty()) {
      layout.units.push_back(std::move(unit));
      continue;
    }
    unit.code = sowing.batch;
    unit.batch = true;
    const auto [at, fresh] = batches.try_emplace({unit.treatment, sowing.batch}, std::move(unit));
    if (!fresh) at->second.sowings.push_back(i);
  }
  for (auto& [key, unit] : batches) layout.units.push_back(std::move(unit));
  std::sort(layout.units.begin(), layout.units.end(),
            [](const Unit& a, const Unit& b) { return records::label_before(a.code, b.code); });
}

// Whether the factor makes strata: several levels, no jar across them.
bool is_kept_apart(TrialLayout& layout, const std::vector<Levels>& levels, Factor factor) {
  std::map<std::string, int> units;  // of each level
  for (const auto& unit : layout.units) {
    const auto& level = levels[unit.sowings.front()][of(factor)];
    for (const std::size_t i : unit.sowings)
      if (levels[i][of(factor)] != level) {
        layout.jar_across.push_back(factor);
        for (std::size_t sowing = 0; sowing < levels.size(); ++sowing)
          layout.sowings[sowing].across.push_back(levels[sowing][of(factor)]);
        return false;
      }
    ++units[level];
  }
  if (units.size() < 2) return false;
  if (factor != Factor::place && factor != Factor::day) return true;
  return std::any_of(units.begin(), units.end(), [](const auto& one) { return one.second > 1; });
}

void lay_strata(TrialLayout& layout, std::span<const records::History> histories) {
  const auto levels = levels_of(layout, histories);
  for (const Factor factor : every_factor) {
    if (!is_kept_apart(layout, levels, factor)) continue;
    layout.kept_apart.push_back(factor);
    if (std::any_of(levels.begin(), levels.end(),
                    [&](const Levels& one) { return one[of(factor)].empty(); }))
      layout.partly_recorded.push_back(factor);
  }
  std::vector<Unit*> of_sowing(layout.sowings.size());
  for (auto& unit : layout.units)
    for (const std::size_t i : unit.sowings) of_sowing[i] = &unit;
  std::vector<std::vector<std::string>> known(layout.kept_apart.size());
  std::vector<Levels> strata;
  for (std::size_t i = 0; i < of_sowing.size(); ++i) {
    Unit& unit = *of_sowing[i];
    if (!unit.levels.empty() || unit.sowings.front() != i) continue;
    Levels stratum;
    for (std::size_t f = 0; f < known.size(); ++f) {
      const auto& level = levels[i][of(layout.kept_apart[f])];
      unit.levels.push_back(static_cast<int>(index_of(known[f], level)));
      stratum[f] = level;
    }
    unit.stratum = static_cast<int>(index_of(strata, stratum));
  }
  for (const auto& stratum : strata) {
    std::string name;
    for (std::size_t f = 0; f < layout.kept_apart.size(); ++f)
      name = joined(name, stratum[f].empty() ? "(none)" : stratum[f]);
    layout.strata.push_back(name);
  }
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
  lay_strata(layout, histories);
  order_treatments(layout);
  count_jars(layout, histories);
  return layout;
}

bool has(const TrialLayout& layout, const Unit& unit, Compared what) {
  return std::any_of(unit.sowings.begin(), unit.sowings.end(), [&](std::size_t i) {
    const auto& sowing = layout.sowings[i];
    return what == Compared::stand ? sowing.in_stand : sowing.course.looked && !sowing.stopped;
  });
}

std::optional<UnitStand> unit_stand(const TrialLayout& layout, const Unit& unit) {
  UnitStand all;
  int sowings = 0;
  for (const std::size_t i : unit.sowings) {
    if (!layout.sowings[i].in_stand) continue;
    const auto& course = layout.sowings[i].course;
    all.up += course.up;
    all.lost += course.lost;
    all.sown += *course.units;
    all.fraction += static_cast<double>(course.up) / static_cast<double>(*course.units);
    ++sowings;
  }
  if (sowings == 0) return std::nullopt;
  all.fraction /= sowings;
  return all;
}

StrataOfTwo strata_of_two(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                          Compared what) {
  std::vector<stats::BlockLayout> counts(layout.strata.size(), {0, 0});
  for (const auto& unit : layout.units) {
    if (unit.treatment != treatment && unit.treatment != against) continue;
    if (!has(layout, unit, what)) continue;
    auto& stratum = counts[static_cast<std::size_t>(unit.stratum)];
    ++(unit.treatment == treatment ? stratum.treated : stratum.control);
  }
  StrataOfTwo result;
  result.judged_within = stats::judged_within_blocks(counts);
  for (const auto& stratum : counts) {
    result.both.push_back(stratum.treated > 0 && stratum.control > 0);
    result.any = result.any || result.both.back();
  }
  return result;
}

namespace {

// Of those that a jar lies across: whether its levels hold different shares of the two.
bool shares_differ(const TrialLayout& layout, std::size_t factor, std::size_t treatment,
                   std::size_t against, Compared what) {
  std::map<std::string, std::array<std::int64_t, 2>> levels;
  std::array<std::int64_t, 2> all{};
  for (const auto& unit : layout.units) {
    if ((unit.treatment != treatment && unit.treatment != against) || !has(layout, unit, what))
      continue;
    const std::size_t side = unit.treatment == treatment ? 0 : 1;
    for (const std::size_t i : unit.sowings) {
      ++levels[layout.sowings[i].across[factor]][side];
      ++all[side];
    }
  }
  return std::any_of(levels.begin(), levels.end(), [&](const auto& one) {
    return one.second[0] * all[1] != one.second[1] * all[0];
  });
}

}  // namespace

std::vector<Factor> parted_by(const TrialLayout& layout, std::size_t treatment, std::size_t against,
                              Compared what) {
  std::vector<Factor> across;
  for (std::size_t f = 0; f < layout.jar_across.size(); ++f)
    if (shares_differ(layout, f, treatment, against, what)) across.push_back(layout.jar_across[f]);
  if (!across.empty() || strata_of_two(layout, treatment, against, what).any) return across;
  const auto parts = [&](std::size_t factor) {
    std::set<int> levels;
    for (const auto& unit : layout.units)
      if (unit.treatment == treatment && has(layout, unit, what))
        levels.insert(unit.levels[factor]);
    return std::none_of(layout.units.begin(), layout.units.end(), [&](const Unit& unit) {
      return unit.treatment == against && has(layout, unit, what) &&
             levels.contains(unit.levels[factor]);
    });
  };
  // A seed lot or a trial goes first: blocks are often no more than names of these.
  for (const Factor factor :
       {Factor::lot, Factor::trial, Factor::block, Factor::place, Factor::day, Factor::setting})
    for (std::size_t f = 0; f < layout.kept_apart.size(); ++f)
      if (layout.kept_apart[f] == factor && parts(f)) return {factor};
  return layout.kept_apart;
}

}  // namespace plumule::analysis
