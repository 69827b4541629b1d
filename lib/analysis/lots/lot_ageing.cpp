#include "analysis/lots/lot_ageing.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/course/sown_in.hpp"
#include "crops/names.hpp"
#include "crops/seed_life.hpp"

namespace plumule::analysis {
namespace {

constexpr double unknown_years = 3, unknown_log_sd = 1;  // of a crop that no list has
constexpr double apart_days = 183;                       // so far apart, tests show the ageing
constexpr double sure = 0.90;

std::optional<double> listed_years(const records::Lot& lot) {
  const auto match = crops::find_crop(lot.crop);
  if (!match.crop) return std::nullopt;
  const auto life = crops::seed_life_summary(*match.crop);
  return life ? std::optional(life->middle) : std::nullopt;
}

stats::Ground ground_of(records::Setting setting) {
  if (sown_in(setting) == crops::SownIn::towel) return stats::Ground::towel;
  return setting == records::Setting::row ? stats::Ground::outdoors : stats::Ground::under_cover;
}

std::optional<records::Date> harvest_of(const records::Lot& lot) {
  using namespace std::chrono;
  if (lot.harvest_year) return sys_days(year(*lot.harvest_year) / October / 1);
  if (lot.packed_year) return sys_days(year(*lot.packed_year) / January / 1);
  return std::nullopt;
}

std::optional<records::Date> date_of(std::optional<double> day) {
  if (!day) return std::nullopt;
  return records::Date(std::chrono::days(std::lround(std::floor(*day))));
}

}  // namespace

double day_number(records::Date date) {
  return static_cast<double>(date.time_since_epoch().count());
}

stats::AgeingRate ageing_rate(const records::Lot& lot) {
  if (const auto years = listed_years(lot)) return stats::ageing_by_lists(*years);
  auto rate = stats::ageing_by_lists(unknown_years);
  rate.log_sd = unknown_log_sd;
  return rate;
}

std::vector<stats::AgedTest> aged_tests(const LotTests& tests, bool hard_too) {
  std::vector<stats::AgedTest> list;
  for (const auto& test : tests.tests) {
    if (test.use != TestUse::counted && test.use != TestUse::older) continue;
    const auto up = *test.emerged + (hard_too ? test.hard : 0);
    list.push_back({day_number(test.sown), ground_of(test.setting), {up, *test.seeds}});
  }
  return list;
}

std::optional<stats::AgedLot> aged_lot(const records::Lot& lot,
                                       const std::vector<stats::AgedTest>& tests,
                                       const stats::RhoPrior& prior) {
  const auto rate = ageing_rate(lot);
  if (tests.empty()) {
    const auto harvest = harvest_of(lot);
    if (!harvest) return std::nullopt;
    return stats::AgedLot::untested(day_number(*harvest), rate, prior);
  }
  return stats::AgedLot::tested(tests, rate, prior);
}

LotAgeing ageing_of(const stats::AgedLot& aged, const records::Lot& lot,
                    const std::vector<stats::AgedTest>& tests, std::optional<double> standard,
                    records::Date as_of, double level) {
  LotAgeing made;
  made.listed_years = listed_years(lot);
  made.method = made.listed_years ? AgeingMethod::seed_life : AgeingMethod::none;
  if (!tests.empty()) {
    if (tests.back().day - tests.front().day >= apart_days) made.method = AgeingMethod::own_tests;
    made.newest_test_on = date_of(aged.reference_day());
  }
  made.as_of = as_of;
  const double day = day_number(as_of);
  made.expected = aged.mean(day);
  made.now = aged.interval(level, day);
  if (!standard) return made;
  made.falls_p05 = date_of(aged.falls_below(*standard, 0.05));
  made.falls_p50 = date_of(aged.falls_below(*standard, 0.50));
  made.falls_p95 = date_of(aged.falls_below(*standard, 0.95));
  made.retest_by = date_of(aged.falls_below(*standard, 1 - sure));
  return made;
}

}  // namespace plumule::analysis
