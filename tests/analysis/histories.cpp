#include "analysis/histories.hpp"

#include <cmath>

namespace plumule::tests {

records::History history(const std::string& label, std::int64_t units,
                         const std::vector<Total>& totals) {
  records::History result;
  auto& sowing = result.sowing;
  sowing.label = label;
  sowing.sown = {sown_on, 0};
  sowing.units = units;
  for (const auto& total : totals) {
    records::Count count;
    const auto minutes = sowing.sown.minutes() + std::llround(total.day * 1440);
    count.at = records::Moment::from_minutes(minutes, true);
    count.entered.value = total.up;
    count.total = total.up;
    result.counts.push_back(count);
  }
  return result;
}

records::History history(const std::string& label, const stats::TimeCourse& course, double unit) {
  std::vector<Total> totals;
  for (const auto& look : course.looks)
    totals.push_back({look.time * unit, std::llround(look.total)});
  return history(label, std::llround(*course.sown), totals);
}

records::History in_trial(records::History history, const std::string& treatment,
                          const std::string& block, const std::string& batch) {
  const std::string trial = "T";
  history.sowing.trial = trial;
  history.sowing.treatment = treatment;
  history.sowing.block = block;
  history.sowing.batch = batch;
  return history;
}

records::History ended(records::History history, int day, records::EndingKind kind) {
  history.sowing.ending = records::Ending{kind, {on_day(day), std::nullopt}, ""};
  return history;
}

}  // namespace plumule::tests
