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

void take_longer(std::optional<Give_up>& best, const Give_up& other) {
  if (!best || other.days > best->days) best = other;
}

Give_up twice(const Expected_days& expected, double soil_temp_c, bool assumed) {
  Give_up give_up;
  give_up.days = std::ceil(times_expected * expected.days - 1e-9);
  give_up.basis = Give_up::Basis::twice_expected;
  give_up.soil_temp_c = soil_temp_c;
  give_up.how =
      fmt::format("twice the days expected at {:g} C ({}){}, by common practice", soil_temp_c,
                  expected.how, assumed ? ", no soil temperature being known" : "");
  give_up.origin = expected.origin;
  return give_up;
}

// The longest published days between two temperatures.
std::optional<Give_up> longest_between(const std::vector<Emergence>& table, double coldest_c,
                                       double warmest_c) {
  std::optional<Give_up> longest;
  for (const Emergence& row : table)
    if (row.days && row.temp_c >= coldest_c && row.temp_c <= warmest_c)
      take_longer(longest,
                  {*row.days, Give_up::Basis::published_days, row.temp_c,
                   fmt::format("the longest published time to emergence, at {:g} C", row.temp_c),
                   row.origin});
  return longest;
}

std::optional<Give_up> longest_without_temperature(const Crop& crop) {
  std::optional<Give_up> longest = longest_between(emergence_table(crop), cool_soil_c, warm_soil_c);
  const Expected_days usual = expected_days(crop, usual_soil_c);
  if (usual.days > 0) take_longer(longest, twice(usual, usual_soil_c, true));
  return longest;
}

// Nothing where the soil is warmer than any that has days: then it is as if it were not known.
std::optional<Give_up> longest_at(const Crop& crop, double soil_temp_c) {
  const Expected_days expected = expected_days(crop, soil_temp_c);
  if (expected.days > 0) return twice(expected, soil_temp_c, false);
  if (!expected.cold_side) return std::nullopt;
  std::optional<Give_up> longest = longest_between(emergence_table(crop), soil_temp_c, HUGE_VAL);
  if (longest) longest->how += fmt::format("; nothing is published for {:g} C", soil_temp_c);
  return longest;
}

// Sand holds a test back: what is laid on a towel is due when a test on paper is.
bool in_sand(const Test_method& method) {
  return method.substrata == "S" || method.substrata == "TS";
}

std::optional<Give_up> last_count(const Crop& crop, Sown_in sown_in) {
  std::optional<Give_up> counted;
  std::optional<Give_up> on_paper;
  for (const Test_method& method : test_methods(crop)) {
    const Give_up give_up{static_cast<double>(method.final_count_days), Give_up::Basis::final_count,
                          std::nullopt, "the last count of the laboratory test", method.origin};
    take_longer(counted, give_up);
    if (!in_sand(method)) take_longer(on_paper, give_up);
  }
  return sown_in == Sown_in::towel && on_paper ? on_paper : counted;
}

}  // namespace

std::optional<Give_up> give_up_days(const Crop& crop, std::optional<double> soil_temp_c,
                                    Sown_in sown_in) {
  if (soil_temp_c && std::isnan(*soil_temp_c))
    throw std::domain_error("give_up_days: soil_temp_c is not a number");
  std::optional<Give_up> counted = last_count(crop, sown_in);
  if (counted && sown_in == Sown_in::towel) return counted;

  static const Table slow_kinds("slow_kinds.csv");
  std::optional<Give_up> best;
  if (soil_temp_c) best = longest_at(crop, *soil_temp_c);
  const bool by_temperature = best.has_value();
  if (!best) best = longest_without_temperature(crop);
  for (const auto& row : slow_kinds.rows_of(crop.slug))
    take_longer(best, {row.number("days").value_or(0), Give_up::Basis::published_days, std::nullopt,
                       std::string(row["what"]), origin(row)});
  if (counted && !by_temperature) {
    counted->days += days_in_soil;
    counted->basis = Give_up::Basis::final_count_and_a_week;
    counted->how += " and a week more for soil, by common practice, ";
    counted->how +=
        best ? "no soil temperature being known" : "as no days to emergence in soil are published";
    take_longer(best, *counted);
  }
  return best;
}

}  // namespace plumule::crops
