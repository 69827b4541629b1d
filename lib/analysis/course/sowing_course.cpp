#include "analysis/course/sowing_course.hpp"

#include <algorithm>

#include "stats/times/quiet.hpp"

namespace plumule::analysis {

using records::CountKind;
using records::EndingKind;

double days_wetted_before(const records::Sowing& sowing,
                          std::span<const records::Treatment> treatments) {
  if (sowing.wetted) return std::max(0.0, records::days_between(*sowing.wetted, sowing.sown));
  for (const auto& treatment : treatments)
    if (treatment.label == sowing.treatment) return treatment.soak_hours.value_or(0) / 24;
  return 0;
}

namespace {

void take_seedlings(SowingCourse& result, const records::Count& count) {
  const bool only_seedlings = count.entered.kind == CountKind::seedlings;
  const auto seedlings = count.entered.seedlings;
  if (!seedlings) return;
  result.seedlings = seedlings;
  result.up_at_seedlings = count.total;
  result.seedlings_of_units = !only_seedlings;
}

double never_emergers(const records::History& history, double not_up) {
  double units = 0;
  for (const auto& assessment : history.assessments)
    if (assessment.outcome == records::Outcome::rotted ||
        assessment.outcome == records::Outcome::empty)
      units += static_cast<double>(assessment.units);
  return std::clamp(units, 0.0, std::max(0.0, not_up));
}

}  // namespace

SowingCourse sowing_course(const records::History& history, double wetted_before) {
  const auto& sowing = history.sowing;
  SowingCourse result;
  result.wetted_before = wetted_before;
  if (sowing.units_known != records::UnitsKnown::unknown) result.units = sowing.units;
  result.units_estimated = sowing.units_known == records::UnitsKnown::estimated;
  if (result.units) result.course.sown = static_cast<double>(*result.units);

  for (const auto& count : history.counts) {
    take_seedlings(result, count);
    if (count.entered.kind == CountKind::seedlings) continue;
    result.looked = true;
    result.guessed = result.guessed || count.entered.high.has_value();
    result.up = count.total;
    result.lost += count.entered.lost;
    const double day = records::days_between(sowing.sown, count.at);
    if (day <= 0) continue;  // nothing is ever up on the day of sowing
    result.course.looks.push_back({day, static_cast<double>(count.total)});
  }

  const auto& ending = sowing.ending;
  result.stopped_early = ending && ending->kind == EndingKind::accident;
  if (ending && ending->kind == EndingKind::failed && result.course.looks.empty()) {
    result.looked = true;
    const double day = records::days_between(sowing.sown, ending->at);
    if (day > 0) result.course.looks.push_back({day, 0});
  }
  if (result.course.sown && result.looked)
    result.course.never =
        never_emergers(history, *result.course.sown - static_cast<double>(result.up));
  return result;
}

namespace {

bool counts_units(const records::Count& count) {
  return count.entered.kind != CountKind::seedlings;
}

// A guess may have been settled by a count that is gone now.
void forget_after(records::History& history, records::Date day) {
  const auto gone =
      std::erase_if(history.counts, [&](const auto& count) { return count.at.date > day; });
  if (gone > 0) derive(history.sowing, history.counts);
}

}  // namespace

records::History as_of(const records::History& history, records::Date day) {
  records::History result = history;
  forget_after(result, day);
  std::erase_if(result.assessments, [&](const auto& found) { return found.on > day; });
  std::erase_if(result.temperatures, [&](const auto& reading) { return reading.at.date > day; });
  if (result.sowing.ending && result.sowing.ending->at.date > day) result.sowing.ending.reset();
  return result;
}

records::History as_closed(const records::History& history, records::Date closed_on,
                           bool finishing_look) {
  records::History result = history;
  records::Date last = closed_on;  // of what still counts
  if (finishing_look)
    for (const auto& count : history.counts)
      if (counts_units(count) && count.at.date >= closed_on) {
        last = count.at.date;
        break;
      }
  forget_after(result, last);
  auto& ending = result.sowing.ending;
  if (ending && ending->kind == EndingKind::accident && ending->at.date > last) ending.reset();
  return result;
}

std::optional<records::Date> last_counted(const records::History& history) {
  const auto last = std::find_if(history.counts.rbegin(), history.counts.rend(), counts_units);
  if (last == history.counts.rend()) return std::nullopt;
  return last->at.date;
}

double last_emergence(const stats::TimeCourse& course) {
  double day = 0;
  double before = 0;
  for (const auto& look : course.looks) {
    if (look.total > before) day = look.time;
    before = look.total;
  }
  return day;
}

bool at_rest(const records::History& history, const SowingCourse& sowing) {
  const auto& ending = history.sowing.ending;
  if (ending && ending->kind == EndingKind::failed) return true;
  if (sowing.units && sowing.up == *sowing.units) return true;
  return stats::come_to_rest(last_emergence(sowing.course), stats::last_look(sowing.course));
}

stats::TimeCourse on_clock(const SowingCourse& sowing, Clock clock) {
  if (clock == Clock::sowing || sowing.wetted_before <= 0) return sowing.course;
  stats::TimeCourse course;
  course.sown = sowing.course.sown;
  course.never = sowing.course.never;
  course.unit = sowing.course.unit;
  if (sowing.course.looks.empty()) return course;
  course.looks.push_back({sowing.wetted_before, 0});  // nothing was up when it was sown
  for (const auto& look : sowing.course.looks)
    course.looks.push_back({look.time + sowing.wetted_before, look.total});
  return course;
}

stats::FollowedSowing followed(const records::History& history, records::Date first_day) {
  const auto& sowing = history.sowing;
  const auto day_of = [&](const records::Moment& at) {
    return static_cast<int>((at.date - first_day).count());
  };
  stats::FollowedSowing result;
  result.sown_on = day_of(sowing.sown);
  std::int64_t up = 0;
  for (const auto& count : history.counts) {
    if (count.entered.kind == CountKind::seedlings) continue;
    up = count.total;
    const int day = day_of(count.at);
    if (!result.counts.empty() && result.counts.back().day == day)
      result.counts.back().up = up;
    else
      result.counts.push_back({day, up});
  }
  const bool known = sowing.units_known != records::UnitsKnown::unknown && sowing.units;
  result.sown = known ? *sowing.units : std::max<std::int64_t>(1, up);
  if (sowing.ending) result.ended_on = day_of(sowing.ending->at);
  return result;
}

}  // namespace plumule::analysis
