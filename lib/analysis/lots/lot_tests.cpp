#include "analysis/lots/lot_tests.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "analysis/course/sowing_course.hpp"
#include "analysis/course/sown_in.hpp"
#include "records/label.hpp"
#include "records/treatment.hpp"
#include "stats/times/quiet.hpp"

namespace plumule::analysis {

namespace {

constexpr int same_time_days = 183;
constexpr int unknown_give_up_days = 28;

struct Candidate {
  const records::History* history;
  SowingCourse course;
  LotTest test;
};

bool towel(const records::Sowing& sowing) {
  return sown_in(sowing.setting) == crops::SownIn::towel;
}

// Assessed hard, and not come up since.
std::int64_t hard_of(const records::History& history, const SowingCourse& course) {
  std::int64_t hard = 0;
  for (const auto& assessment : history.assessments)
    if (assessment.outcome == records::Outcome::hard) hard += assessment.units;
  return course.units ? std::min(hard, *course.units - course.up) : hard;
}

// In soil a test past its give-up day is not over while its looks still find new ones: until
// nothing came for five days, or nobody has looked for as long.
void run_on(LotTest& test, const SowingCourse& course, records::Date today) {
  const double newest = last_emergence(course.course);
  const double quiet = stats::fewest_quiet_days;
  const auto unseen = static_cast<double>((today - *test.last_look).count());
  if (newest <= 0 || stats::last_look(course.course) - newest >= quiet || unseen > quiet) return;
  test.running = true;
  test.give_up_day = static_cast<int>(std::ceil(newest + quiet));
  test.give_up_how = "new ones came up to day " + std::to_string(std::lround(newest)) +
                     ", and five days without any end it";
}

LotTest shown(const records::History& history, const SowingCourse& course, std::string name,
              records::Date today) {
  const auto& sowing = history.sowing;
  LotTest test;
  test.name = std::move(name);
  test.sown = sowing.sown.date;
  test.setting = sowing.setting;
  test.counting = sowing.counting;
  test.treatment = sowing.treatment;
  test.seeds = course.units;
  if (course.looked && !history.counts.empty()) test.emerged = course.up;
  test.hard = hard_of(history, course);
  if (!history.counts.empty()) test.last_look = history.counts.back().at.date;
  if (const auto& ending = sowing.ending) {
    test.ended_on = ending->at.date;
    if (ending->kind == records::EndingKind::failed) test.failed_why = ending->why;
  }
  const auto give_up = give_up_of(history);
  test.give_up_day = give_up ? static_cast<int>(std::lround(give_up->days)) : unknown_give_up_days;
  if (give_up) test.give_up_how = give_up->how;
  const bool all_up = course.units && course.up == *course.units;
  const bool seen_to_the_end =
      test.last_look && (*test.last_look - test.sown).count() >= test.give_up_day;
  const bool may_come = !all_up && !seen_to_the_end;
  test.running = sowing.open() && may_come;
  if (sowing.open() && !all_up && seen_to_the_end && !towel(sowing)) run_on(test, course, today);
  test.cut_short =
      !sowing.open() && may_come && test.last_look &&
      !stats::come_to_rest(last_emergence(course.course), stats::last_look(course.course));
  return test;
}

// What keeps a test out, whatever the others are.
TestUse own_use(const Candidate& candidate) {
  const auto& ending = candidate.history->sowing.ending;
  if (ending && ending->kind == records::EndingKind::failed) return TestUse::failed;
  if (candidate.history->sowing.treatment != records::untreated) return TestUse::treated;
  if (!candidate.course.looked) return TestUse::not_looked_at;
  if (!candidate.course.units) return TestUse::units_unknown;
  if (candidate.course.stopped_early) return TestUse::stopped_early;
  return TestUse::counted;
}

std::vector<Candidate> candidates(std::span<const records::History> histories,
                                  records::Date today) {
  std::map<std::string, int> labels;
  for (const auto& history : histories) ++labels[history.sowing.label];
  std::vector<Candidate> all;
  for (const auto& history : histories) {
    const auto& sowing = history.sowing;
    const auto name = labels[sowing.label] > 1
                          ? sowing.label + "@" + records::to_text(sowing.sown.date)
                          : sowing.label;
    Candidate candidate{&history, sowing_course(history), {}};
    candidate.test = shown(history, candidate.course, name, today);
    candidate.test.use = own_use(candidate);
    all.push_back(std::move(candidate));
  }
  std::stable_sort(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
    if (a.test.sown != b.test.sown) return a.test.sown < b.test.sown;
    return records::label_before(a.test.name, b.test.name);
  });
  return all;
}

void use_latest_kind(std::vector<Candidate>& all, bool any_towel) {
  const Candidate* latest = nullptr;
  for (auto& candidate : all) {
    if (candidate.test.use != TestUse::counted) continue;
    if (any_towel && !towel(candidate.history->sowing))
      candidate.test.use = TestUse::in_soil;
    else
      latest = &candidate;
  }
  if (!latest) return;
  for (auto& candidate : all) {
    if (candidate.test.use != TestUse::counted) continue;
    const auto& sowing = candidate.history->sowing;
    if (sowing.counting != latest->history->sowing.counting ||
        sowing.unit != latest->history->sowing.unit)
      candidate.test.use = TestUse::counts_otherwise;
    else if ((latest->test.sown - candidate.test.sown).count() > same_time_days)
      candidate.test.use = TestUse::older;
  }
}

}  // namespace

LotTests lot_tests(std::span<const records::History> histories, records::Date today) {
  auto all = candidates(histories, today);
  bool any_towel = false;
  for (const auto& candidate : all)
    any_towel =
        any_towel || (candidate.test.use == TestUse::counted && towel(candidate.history->sowing));
  use_latest_kind(all, any_towel);

  LotTests result;
  for (auto& candidate : all) {
    if (candidate.test.use == TestUse::counted) {
      result.unit = candidate.history->sowing.unit;
      result.from_soil = !any_towel;
    }
    const auto& test = candidate.test;
    result.awaited = result.awaited || (test.use == TestUse::not_looked_at && test.running);
    result.tests.push_back(std::move(candidate.test));
  }
  take_counted(result);
  return result;
}

void take_counted(LotTests& tests) {
  tests.counted.clear();
  tests.alive.clear();
  tests.settings.clear();
  tests.running = false;
  tests.hard = 0;
  for (const auto& test : tests.tests) {
    if (test.use != TestUse::counted) continue;
    tests.counted.push_back({*test.emerged, *test.seeds});
    tests.alive.push_back({*test.emerged + test.hard, *test.seeds});
    tests.settings.push_back(test.setting);
    tests.running = tests.running || test.running;
    tests.hard += test.hard;
  }
}

}  // namespace plumule::analysis
