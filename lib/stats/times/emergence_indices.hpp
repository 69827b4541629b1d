// The handbook indices of emergence, dated by the day of count as the literature dates them. They
// ignore that a seedling came up between two looks, so they shift with the days of looking.
#pragma once

#include <optional>
#include <span>

#include "stats/times/time_course.hpp"

namespace plumule::stats {

// t_i looks (days), n_i newly up at t_i, c_i running total, N = sum n_i, n = units sown, t_k last
// look. None where nothing emerged; where n is unknown, those with n in the formula are none.
// "from memory": formula of the cited paper as remembered, paper not seen.
struct EmergenceIndices {
  std::optional<double> first;   // day: first t_i with n_i > 0
  std::optional<double> last;    // day: last t_i with n_i > 0
  std::optional<double> spread;  // days: last - first
  // days: T = sum n_i t_i / N. Ellis & Roberts 1980; Labouriau 1983; Ranal & Santana 2006.
  std::optional<double> mean;
  // days^2: sum n_i (t_i - T)^2 / (N - 1), none for N <= 1. Labouriau 1983; Ranal & Santana 2006.
  std::optional<double> variance;
  // percent: 100 sqrt(variance) / T, none for N <= 1. Ranal & Santana 2006.
  std::optional<double> cv;
  // percent a day: 100 N / sum n_i t_i. Kotowski 1926; Nichols & Heydecker 1968.
  std::optional<double> velocity;
  // units a day: sum n_i / t_i. Maguire 1962. Scales with 1 / time.
  std::optional<double> speed;
  // bits: -sum f_i log2 f_i, f_i = n_i / N. Labouriau & Valadares 1976. Depends on days of looking.
  std::optional<double> uncertainty_bits;
  // Z = sum n_i (n_i - 1) / (N (N - 1)), none for N <= 1. Primack 1980; Ranal & Santana 2006.
  // Depends on days of looking.
  std::optional<double> synchrony;
  // days: running total interpolated from (0, 0) at (N + 1)/2. Coolbear, Francis & Grierson 1984,
  // J. Exp. Bot. 35:1609-1617. None where (N + 1)/2 > N.
  std::optional<double> t50_coolbear;
  // days: the same at N/2. Farooq, Basra, Ahmad & Hafeez 2005, J. Integr. Plant Biol. 47:187-193.
  std::optional<double> t50_farooq;
  // percent a day: max over looks of (100 c_i / n) / t_i, and its first day. Czabator 1962,
  // Forest Sci. 8:386-396 (likewise the next two). Scales with 1 / time.
  std::optional<double> peak_value;
  std::optional<double> peak_day;
  std::optional<double> mean_daily;         // percent a day: (100 N / n) / t_k
  std::optional<double> germination_value;  // percent^2 a day^2: peak_value * mean_daily
  // percent: sum over the looks made of 100 c_i / n. Timson 1965, Nature 207:216-217 (looks every
  // day there). Depends on days of looking; unchanged by the unit of time.
  std::optional<double> timson_sum;
};

// Day by which the running total reached `total`, straight between looks and from (0, 0); a total
// equal to it gives that day itself. None where it was not reached.
std::optional<double> day_by_which(std::span<const Look> looks, double total);

// Of one sowing. Throws std::domain_error as check(TimeCourse) does.
EmergenceIndices emergence_indices(const TimeCourse& course);

// Of several sowings counted as one: new counts of the same day added, each sowing's last total
// carried forward between its looks, n the sum (unknown if any is), t_k the latest look.
EmergenceIndices emergence_indices(std::span<const TimeCourse> courses);

}  // namespace plumule::stats
