// The give-up day: the longest of the figures that apply.
#include "crops/give_up.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "crops/emergence.hpp"
#include "crops/table.hpp"
#include "crops/test_method.hpp"

namespace plumule::crops {
namespace {

constexpr double usual_soil_c = 20;  // where no temperature is known: a tray indoors, late spring
constexpr double cool_soil_c = 15;   // and the coolest and warmest that are then allowed for
constexpr double warm_soil_c = 25;
constexpr double times_expected = 2;  // stragglers: common practice, no source
constexpr double days_in_soil = 7;  // beyond a laboratory's last count: common practice, no source

void take_longer(std::optional<GiveUp>& best, const GiveUp& other) {
  if (!best || other.days > best->days) best = other;
}

GiveUp twice(const ExpectedDays& expected, double soil_temp_c, bool assumed) {
  GiveUp give_up;
  give_up.days = std::ceil(times_expected * expected.days - 1e-9);
  give_up.basis = GiveUp::Basis::twice_expected;
  give_up.soil_temp_c = soil_temp_c;
  give_up.how =
      fmt::format("twice the days expected at {:g} C ({}){}, by common practice", soil_temp_c,
                  expected.how, assumed ? ", no soil temperature being known" : "");
  give_up.origin = expected.origin;
  return give_up;
}

// The longest published days between two temperatures.
std::optional<GiveUp> longest_between(const std::vector<Emergence>& table, double coldest_c,
                                      double warmest_c) {
  std::optional<GiveUp> longest;
  for (const Emergence& row : table)
    if (row.days && row.temp_c >= coldest_c && row.temp_c <= warmest_c)
      take_longer(longest,
                  {*row.days, GiveUp::Basis::published_days, row.temp_c,
                   fmt::format("the longest published time to emergence, at {:g} C", row.temp_c),
                   row.origin});
  return longest;
}

std::optional<GiveUp> longest_without_temperature(const Crop& crop) {
  std::optional<GiveUp> longest = longest_between(emergence_table(crop), cool_soil_c, warm_soil_c);
  const ExpectedDays usual = expected_days(crop, usual_soil_c);
  if (usual.days > 0) take_longer(longest, twice(usual, usual_soil_c, true));
  return longest;
}

// Nothing where the soil is warmer than any that has days: then it is as if it were not known.
std::optional<GiveUp> longest_at(const Crop& crop, double soil_temp_c) {
  const ExpectedDays expected = expected_days(crop, soil_temp_c);
  if (expected.days > 0) return twice(expected, soil_temp_c, false);
  if (!expected.cold_side) return std::nullopt;
  std::optional<GiveUp> longest = longest_between(emergence_table(crop), soil_temp_c, HUGE_VAL);
  if (longest) longest->how += fmt::format("; nothing is published for {:g} C", soil_temp_c);
  return longest;
}

// Sand holds a test back: what is laid on a towel is due when a test on paper is.
bool in_sand(const TestMethod& method) {
  return method.substrata == "S" || method.substrata == "TS";
}

std::optional<GiveUp> last_count(const Crop& crop, SownIn sown_in) {
  std::optional<GiveUp> counted;
  std::optional<GiveUp> on_paper;
  for (const TestMethod& method : test_methods(crop)) {
    const GiveUp give_up{static_cast<double>(method.final_count_days), GiveUp::Basis::final_count,
                         std::nullopt, "the last count of the laboratory test", method.origin};
    take_longer(counted, give_up);
    if (!in_sand(method)) take_longer(on_paper, give_up);
  }
  return sown_in == SownIn::towel && on_paper ? on_paper : counted;
}

}  // namespace

std::optional<GiveUp> give_up_days(const Crop& crop, std::optional<double> soil_temp_c,
                                   SownIn sown_in) {
  if (soil_temp_c && std::isnan(*soil_temp_c))
    throw std::domain_error("give_up_days: soil_temp_c is not a number");
  std::optional<GiveUp> counted = last_count(crop, sown_in);
  if (counted && sown_in == SownIn::towel) return counted;

  static const Table slow_kinds("slow_kinds.csv");
  std::optional<GiveUp> best;
  if (soil_temp_c) best = longest_at(crop, *soil_temp_c);
  const bool by_temperature = best.has_value();
  if (!best) best = longest_without_temperature(crop);
  for (const auto& row : slow_kinds.rows_of(crop.slug))
    take_longer(best, {row.number("days").value_or(0), GiveUp::Basis::published_days, std::nullopt,
                       std::string(row["what"]), origin(row)});
  if (counted && !by_temperature) {
    counted->days += days_in_soil;
    counted->basis = GiveUp::Basis::final_count_and_a_week;
    counted->how += " and a week more for soil, by common practice, ";
    counted->how +=
        best ? "no soil temperature being known" : "as no days to emergence in soil are published";
    take_longer(best, *counted);
  }
  return best;
}

}  // namespace plumule::crops
