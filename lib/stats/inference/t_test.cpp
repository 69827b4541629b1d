// See the header.
#include "stats/inference/t_test.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>
#include <vector>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

struct Moments {
  double n = 0, mean = 0, squares = 0;  // squares about the mean
  double largest = 0;                   // of the absolute values
};

Moments moments(std::span<const double> values) {
  Moments m;
  for (const double v : values) {
    if (!std::isfinite(v)) throw std::domain_error("a t test needs finite values");
    m.n += 1;
    m.mean += v;
    m.largest = std::max(m.largest, std::fabs(v));
  }
  if (m.n == 0) return m;
  m.mean /= m.n;
  double slip = 0;  // what rounding left of the mean
  for (const double v : values) slip += v - m.mean;
  m.mean += slip / m.n;
  for (const double v : values) m.squares += (v - m.mean) * (v - m.mean);
  return m;
}

bool flat(double squares, double df, double largest) {
  return std::sqrt(squares / df) <= 1e-12 * largest;
}

TTest finish(double difference, double se, double df, double level, std::string_view name) {
  const double t = difference / se;
  const double reach = student_t_quantile_upper(tail_probability(level, Side::both), df) * se;
  return {TStatus::ok,
          difference,
          se,
          df,
          t,
          2 * student_t_upper(std::fabs(t), df),
          {name, level, difference - reach, difference + reach}};
}

}  // namespace

TTest pooled_t(std::span<const double> first, std::span<const double> second, double level) {
  tail_probability(level, Side::both);  // checks the level
  const Moments a = moments(first), b = moments(second);
  TTest result;
  if (a.n == 0 || b.n == 0) return result;
  result.difference = a.mean - b.mean;
  const double df = a.n + b.n - 2, squares = a.squares + b.squares;
  if (df < 1) return result;
  result.status = TStatus::no_variance;
  result.df = df;
  if (flat(squares, df, std::max(a.largest, b.largest))) return result;
  return finish(result.difference, std::sqrt(squares / df * (1 / a.n + 1 / b.n)), df, level,
                method::student_t);
}

TTest welch_t(std::span<const double> first, std::span<const double> second, double level) {
  tail_probability(level, Side::both);  // checks the level
  const Moments a = moments(first), b = moments(second);
  TTest result;
  if (a.n == 0 || b.n == 0) return result;
  result.difference = a.mean - b.mean;
  if (a.n < 2 || b.n < 2) return result;
  result.status = TStatus::no_variance;
  if (flat(a.squares + b.squares, a.n + b.n - 2, std::max(a.largest, b.largest))) return result;
  const double va = a.squares / (a.n - 1) / a.n, vb = b.squares / (b.n - 1) / b.n, v = va + vb;
  const double df = v * v / (va * va / (a.n - 1) + vb * vb / (b.n - 1));
  return finish(result.difference, std::sqrt(v), df, level, method::welch_t);
}

bool spread_unevenly(std::span<const StratumValue> first, std::span<const StratumValue> second) {
  std::map<int, std::pair<std::size_t, std::size_t>> values;
  for (const auto& one : first) ++values[one.stratum].first;
  for (const auto& one : second) ++values[one.stratum].second;
  return std::any_of(values.begin(), values.end(), [&](const auto& stratum) {
    return stratum.second.first * second.size() != stratum.second.second * first.size();
  });
}

TTest t_within_strata(std::span<const StratumValue> first, std::span<const StratumValue> second,
                      double level) {
  tail_probability(level, Side::both);  // checks the level
  std::map<int, std::pair<std::vector<double>, std::vector<double>>> strata;
  for (const auto& [value, stratum] : first) strata[stratum].first.push_back(value);
  for (const auto& [value, stratum] : second) strata[stratum].second.push_back(value);
  double weight = 0, weighted = 0, squares = 0, largest = 0;
  std::vector<std::pair<double, double>> apart;  // weight and difference of each that has both
  for (const auto& [stratum, values] : strata) {
    const Moments a = moments(values.first), b = moments(values.second);
    squares += a.squares + b.squares;
    largest = std::max({largest, a.largest, b.largest});
    if (a.n == 0 || b.n == 0) continue;
    apart.emplace_back(a.n * b.n / (a.n + b.n), a.mean - b.mean);
    weight += apart.back().first;
    weighted += apart.back().first * apart.back().second;
  }
  TTest result;
  if (apart.empty()) return result;
  result.difference = weighted / weight;
  for (const auto& [w, difference] : apart)  // the strata's differences do not all agree
    squares += w * (difference - result.difference) * (difference - result.difference);
  const double df =
      static_cast<double>(first.size() + second.size()) - static_cast<double>(strata.size()) - 1;
  if (df < 1) return result;
  result.status = TStatus::no_variance;
  result.df = df;
  if (flat(squares, df, largest)) return result;
  return finish(result.difference, std::sqrt(squares / df / weight), df, level, method::student_t);
}

TTest one_mean_t(std::span<const double> values, double level) {
  tail_probability(level, Side::both);  // checks the level
  const Moments a = moments(values);
  TTest result;
  result.difference = a.mean;
  if (a.n < 2) return result;
  result.status = TStatus::no_variance;
  result.df = a.n - 1;
  if (flat(a.squares, a.n - 1, a.largest)) return result;
  return finish(a.mean, std::sqrt(a.squares / (a.n - 1) / a.n), a.n - 1, level, method::student_t);
}

}  // namespace plumule::stats
