// Findings made for the tests of text and JSON: one of each kind, with everything in them.
#pragma once

#include <vector>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "analysis/summary/summary.hpp"

namespace plumule::tests {

// Daily looks to day 20, coming in over four days from `first`.
inline records::History daily_tray(const std::string& label, const std::string& treatment,
                                   const std::string& block, std::int64_t up, int first) {
  std::vector<Total> totals;
  for (int day = 1; day <= 20; ++day)
    totals.push_back(
        {day + 0.5, day < first ? 0 : std::min<std::int64_t>(up, up * (day - first + 1) / 4)});
  return in_trial(history(label, 50, totals), treatment, block);
}

// Three soaks in four blocks: 0, 8 and 24 hours.
inline std::vector<records::History> soak_trial() {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string block = "B" + std::to_string(i + 1);
    const std::string n = std::to_string(i + 1);
    trays.push_back(daily_tray("U" + n, "untreated", block, 40 + i, 9 + i % 2));
    trays.push_back(daily_tray("M" + n, "soak8", block, 42 - i, 7 + i % 2));
    trays.push_back(daily_tray("L" + n, "soak24", block, 21 + i, 6 + i % 2));
  }
  trays[0].assessments.push_back({0, on_day(25), records::Outcome::rotted, 3, ""});
  return trays;
}

inline std::vector<records::Treatment> soaks() {
  std::vector<records::Treatment> list(2);
  list[0].label = "soak8";
  list[0].soak_hours = 8;
  list[1].label = "soak24";
  list[1].soak_hours = 24;
  return list;
}

// As it stood on that day.
inline analysis::TreatmentComparison comparison(std::vector<records::History> trays, int today) {
  for (auto& tray : trays) tray = analysis::as_of(tray, on_day(today));
  analysis::ComparisonQuestion question;
  question.subject = "SOAK";
  question.trial = records::Trial{};
  question.trial->code = "SOAK";
  question.trial->question = "Does soaking help?";
  question.trial->closes_on = on_day(20);
  question.treatments = soaks();
  question.today = on_day(today);
  return analysis::compare_treatments(trays, question);
}

inline analysis::LotViability viability(std::int64_t up, std::int64_t of) {
  records::Lot lot;
  lot.code = "L7";
  lot.crop = "lettuce";
  auto test = ended(history("T1", of, {{4, up / 2}, {9, up}}), 12);
  test.sowing.setting = records::Setting::towel;
  analysis::ViabilityQuestion question;
  question.today = on_day(30);
  return analysis::lot_viability(lot, std::vector{test}, question);
}

// Towels of 50, seventy days apart, so many up in each.
inline analysis::LotViability clashing_tests(const std::vector<std::int64_t>& ups) {
  records::Lot lot;
  lot.code = "L9";
  lot.crop = "lettuce";
  std::vector<records::History> tests;
  int number = 0;
  for (const auto up : ups) {
    const std::chrono::days later(70 * number);
    auto test = ended(history("T" + std::to_string(++number), 50, {{4, up / 2}, {9, up}}), 12);
    test.sowing.setting = records::Setting::towel;
    test.sowing.sown.date += later;
    for (auto& count : test.counts) count.at.date += later;
    test.sowing.ending->at.date += later;
    tests.push_back(std::move(test));
  }
  analysis::ViabilityQuestion question;
  question.today = on_day(170);
  return analysis::lot_viability(lot, tests, question);
}

// Beans of which some are hard.
inline analysis::LotViability hard_beans(std::int64_t up, std::int64_t hard, std::int64_t of) {
  records::Lot lot;
  lot.code = "L8";
  lot.crop = "bean";
  auto test = ended(history("T1", of, {{4, up / 2}, {9, up}}), 12);
  test.sowing.setting = records::Setting::towel;
  test.assessments.resize(1);
  test.assessments[0].on = on_day(12);
  test.assessments[0].outcome = records::Outcome::hard;
  test.assessments[0].units = hard;
  analysis::ViabilityQuestion question;
  question.today = on_day(30);
  return analysis::lot_viability(lot, std::vector{test}, question);
}

inline std::vector<analysis::Group> groups(const std::vector<records::History>& histories,
                                           analysis::SummaryBy by) {
  std::vector<analysis::Group> list;
  analysis::SummaryQuestion question;
  question.by = by;
  question.treatments = soaks();
  analysis::SummaryStream stream(question,
                                 [&](const analysis::Group& group) { list.push_back(group); });
  for (const auto& history : histories) stream.take(history);
  stream.finish();
  return list;
}

}  // namespace plumule::tests
