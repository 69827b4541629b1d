#include "analysis/summary/group_builder.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "analysis/rho/tray_prior.hpp"
#include "stats/times/speed_comparison.hpp"
#include "stats/trays/tray_aware.hpp"

namespace plumule::analysis {

namespace {

// Seeds of one sowing resemble each other, and one sowing can't tell how much. So the standard
// errors that take seeds as independent are kept, but no range is made of them.
void take_out_ranges(stats::EmergenceModel& model) {
  for (stats::Estimate* one :
       {&model.fraction, &model.shape, &model.scale, &model.t10, &model.t25, &model.t50, &model.t75,
        &model.t90, &model.up_by_last_look, &model.lag}) {
    one->lower.reset();
    one->upper.reset();
  }
}

GapDays gap_days(std::vector<stats::Span> spans) {
  GapDays result;
  result.estimate = stats::npmle(spans);
  result.estimate.emerged_mass = std::min(1.0, result.estimate.emerged_mass);  // rounding
  if (result.estimate.status == stats::NpmleStatus::no_data) return result;
  result.mean = stats::mean_days(result.estimate);
  result.t10 = stats::time_of_emerged(result.estimate, 0.10);
  result.t25 = stats::time_of_emerged(result.estimate, 0.25);
  result.t50 = stats::time_of_emerged(result.estimate, 0.50);
  result.t75 = stats::time_of_emerged(result.estimate, 0.75);
  result.t90 = stats::time_of_emerged(result.estimate, 0.90);
  result.t50_sown = stats::time_of_sown(result.estimate, 0.50);
  return result;
}

}  // namespace

GroupBuilder::GroupBuilder(std::string key, records::Counting counting, records::UnitKind unit) {
  group_.name = key;
  group_.key = std::move(key);
  group_.counting = counting;
  group_.unit = unit;
}

void GroupBuilder::Counts::add(const stats::TrayCount& count, int jar) {
  sowings.push_back(count);
  if (jar < 0) {
    alone.push_back(count);
    return;
  }
  auto& all = jars[jar];
  all.up += count.up;
  all.sown += count.sown;
}

std::int64_t GroupBuilder::Counts::up() const {
  return std::accumulate(sowings.begin(), sowings.end(), std::int64_t{0},
                         [](std::int64_t sum, const auto& count) { return sum + count.up; });
}

std::vector<stats::TrayCount> GroupBuilder::Counts::units() const {
  auto all = alone;
  for (const auto& [jar, count] : jars) all.push_back(count);
  return all;
}

void GroupBuilder::add(const records::History& history, SowingCourse sowing,
                       const std::string& name, bool keep_course, Followed followed) {
  const auto& batch = history.sowing.batch;
  if (!batch.empty()) {
    const std::string jar = history.sowing.treatment + '\n' + batch;
    const auto [at, fresh] = jars_.try_emplace(jar, static_cast<int>(jars_.size()));
    sowing.course.unit = at->second;
    group_.shared_jars = group_.shared_jars || !fresh;
  }
  ++group_.sowings;
  const auto sown = history.sowing.sown.date;
  group_.first_sown = std::min(sown, group_.first_sown.value_or(sown));
  group_.last_sown = std::max(sown, group_.last_sown.value_or(sown));
  if (history.sowing.open()) ++group_.open;
  group_.guessed = group_.guessed || sowing.guessed;
  group_.units_estimated = group_.units_estimated || sowing.units_estimated;
  if (!sowing.units) ++group_.units_unknown;
  for (const auto& assessment : history.assessments)
    group_.rest[assessment.outcome] += assessment.units;

  auto& seedlings = group_.seedlings;
  seedlings.seedlings += sowing.seedlings.value_or(0);
  if (sowing.seedlings_of_units) {
    seedlings.units_up += sowing.up_at_seedlings;
    seedlings.of_units += *sowing.seedlings;
  }
  if (!sowing.units && history.sowing.metres) {
    if (!sowing.seedlings) seedlings.seedlings += sowing.up;  // one a unit, if not said otherwise
    seedlings.metres += *history.sowing.metres;
    seedlings.in_rows += sowing.seedlings.value_or(sowing.up);
  }

  if (!sowing.looked) {
    ++group_.not_looked_at;
    group_.seeds_not_looked_at += sowing.units.value_or(0);
    return;
  }
  if (sowing.units) {
    group_.seeds += *sowing.units;
    group_.emerged += sowing.up;
    group_.lost += sowing.lost;
  } else {
    ++group_.unknown.sowings;
    group_.unknown.emerged += sowing.up;
    group_.unknown.lost += sowing.lost;
  }
  settings_.push_back(history.sowing.setting);
  if (group_.by_day) add_by_day(sowing);
  if (!sowing.course.looks.empty()) add_gaps(sowing, keep_course);
  if (followed != Followed::to_its_end) {
    const bool rest = at_rest(history, sowing);
    stopped_.push_back({name, followed == Followed::by_group, rest, std::move(sowing)});
    return;
  }
  if (sowing.stopped_early) group_.accidents_counted.push_back(name);
  add_whole(sowing);
  if (!sowing.stopped_early)
    last_emergence_ = std::max(last_emergence_, last_emergence(sowing.course));
}

void GroupBuilder::add_gaps(const SowingCourse& sowing, bool keep_course) {
  gaps_.add(sowing.course);
  if (keep_course && courses_.size() < most_modelled)
    courses_.push_back(sowing.course);
  else
    courses_whole_ = false;
}

void GroupBuilder::add_whole(const SowingCourse& sowing) {
  if (sowing.units) {
    trays_.add({sowing.up, *sowing.units}, sowing.course.unit);
    standing_.add({sowing.up - sowing.lost, *sowing.units}, sowing.course.unit);
  }
  if (sowing.course.looks.empty()) return;
  wetted_ = wetted_ || sowing.wetted_before > 0;
  since_sowing_.add(sowing.course);
  since_wetting_.add(on_clock(sowing, Clock::wetting));
  const auto mean = stats::mean_days_midway(sowing.course);
  if (!mean) {
    ++group_.days.nothing_up;
    return;
  }
  auto& jar = sowing.course.unit < 0 ? means_.emplace_back() : jar_means_[sowing.course.unit];
  jar.sum += *mean;
  jar.half += stats::median_days(sowing.course).value_or(0);
  ++jar.sowings;
}

void GroupBuilder::count_by(double day) {
  group_.by_day.emplace();
  group_.by_day->day = day;
}

void GroupBuilder::add_by_day(const SowingCourse& sowing) {
  if (!sowing.units) return;
  ByDay& by = *group_.by_day;
  const auto& looks = sowing.course.looks;
  const bool all_up = sowing.up == *sowing.units;
  if (!all_up && stats::last_look(sowing.course) < by.day) {
    ++by.not_followed;
    return;
  }
  double fewest = 0;
  double most = looks.empty() ? 0 : looks.back().total;
  for (const auto& look : looks)
    if (look.time <= by.day) fewest = look.total;
  for (auto look = looks.rbegin(); look != looks.rend() && look->time >= by.day; ++look)
    most = look->total;
  fewest_by_day_.add({std::llround(fewest), *sowing.units}, sowing.course.unit);
  most_by_day_.add({std::llround(most), *sowing.units}, sowing.course.unit);
}

void GroupBuilder::finish_by_day(const GroupOptions& options) {
  ByDay& by = *group_.by_day;
  for (std::size_t i = 0; i < fewest_by_day_.sowings.size(); ++i) {
    ++by.sowings;
    by.seeds += fewest_by_day_.sowings[i].sown;
    by.at_least += fewest_by_day_.sowings[i].up;
    by.at_most += most_by_day_.sowings[i].up;
  }
  if (by.sowings == 0) return;
  const auto prior = prior_of(settings_, options.rho);
  by.interval = stats::tray_aware_interval(fewest_by_day_.units(), prior, options.level);
  if (by.at_most > by.at_least)
    by.interval->upper =
        stats::tray_aware_interval(most_by_day_.units(), prior, options.level).upper;
  const auto seeds = static_cast<double>(by.seeds);
  const bool least_moved = hold_share(*by.interval, static_cast<double>(by.at_least) / seeds);
  const bool most_moved = hold_share(*by.interval, static_cast<double>(by.at_most) / seeds);
  by.interval_moved = least_moved || most_moved;
}

Stand GroupBuilder::stand_by(const Counts& counts, const GroupOptions& options) const {
  const auto prior = prior_of(settings_, options.rho);
  if (!options.range) return stand_without_range(counts.sowings, prior);
  const auto units = counts.units();
  Stand result = stand_of(counts.sowings, prior, options.level, units);
  if (options.detail) add_other_intervals(result, units.empty() ? counts.sowings : units);
  return result;
}

// An accident that came after everything had come up, or that is all there is, changes nothing.
void GroupBuilder::finish_stopped() {
  const bool only_stopped = trays_.sowings.empty() && since_sowing_.empty();
  for (const auto& stopped : stopped_) {
    const bool accident = stopped.sowing.stopped_early;
    const bool after_all =
        stopped.by_group &&
        (stopped.at_rest || stats::last_look(stopped.sowing.course) >= last_emergence_);
    if (only_stopped || after_all) add_whole(stopped.sowing);
    if (only_stopped) {
      group_.not_final = true;
      group_.by_accident = group_.by_accident || accident;
    } else if (after_all) {
      group_.accidents_counted.push_back(stopped.name);
    } else {
      (accident ? group_.stopped_early : group_.not_followed).push_back(stopped.name);
    }
  }
}

Group GroupBuilder::finish(const GroupOptions& options) {
  finish_stopped();
  group_.stand = stand_by(trays_, options);
  if (standing_.up() < trays_.up()) group_.standing = stand_by(standing_, options);
  group_.days.indices = stats::emergence_indices(since_sowing_.course());
  if (wetted_) group_.days.since_wetting = stats::emergence_indices(since_wetting_.course());
  for (const auto& [jar, mean] : jar_means_) means_.push_back(mean);
  std::vector<double> means;
  std::vector<double> halves;
  for (const auto& mean : means_) {
    means.push_back(mean.sum / mean.sowings);
    halves.push_back(mean.half / mean.sowings);
  }
  group_.days.between_sowings = stats::one_mean_t(means, options.level);
  group_.days.between_t50 = stats::one_mean_t(halves, options.level);
  if (!means.empty())
    group_.days.midway =
        std::accumulate(means.begin(), means.end(), 0.0) / static_cast<double>(means.size());
  group_.days.same_looks = gaps_.same_looks();

  auto& seedlings = group_.seedlings;
  if (seedlings.units_up > 0)
    seedlings.per_unit =
        static_cast<double>(seedlings.of_units) / static_cast<double>(seedlings.units_up);
  if (seedlings.metres > 0)
    seedlings.per_metre = static_cast<double>(seedlings.in_rows) / seedlings.metres;
  if (group_.by_day) finish_by_day(options);
  if (options.detail) finish_detail(options);
  return std::move(group_);
}

void GroupBuilder::finish_detail(const GroupOptions& options) {
  group_.agreement = agreement_of(trays_.sowings, options.seed);
  if (gaps_.empty()) {
    group_.modelled = Modelled::no_looks;
    return;
  }
  group_.gaps = gap_days(gaps_.spans());
  if (!options.model) return;
  if (!courses_whole_) {
    group_.modelled = Modelled::too_many_sowings;
    return;
  }
  stats::ModelOptions model;
  model.family = options.family;
  model.level = options.level;
  model.lag = options.lag;
  group_.model = stats::fit_emergence(courses_, model);
  if (group_.model->sowings < 2) take_out_ranges(*group_.model);
  group_.modelled = Modelled::yes;
}

}  // namespace plumule::analysis
