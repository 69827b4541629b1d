// Two roads to one likelihood: running products shared by sorted sowings for the sizes growers
// have, log Gamma differences by Stirling's series for the rest.
#include "stats/trays/tray_likelihood.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <utility>

namespace plumule::stats {
namespace {

constexpr std::int64_t longest_product = 300;       // beyond it a partial product could underflow
constexpr std::int64_t most_seeds_unlogged = 1500;  // beyond it the total product could overflow

// log(1 + e) - e without cancellation, e > -1.
double log1p_minus(double e) {
  if (std::fabs(e) > 0.1) return std::log1p(e) - e;
  const double r = e / (2 + e), r2 = r * r;
  const double tail =
      r2 * (1.0 / 3 + r2 * (1.0 / 5 + r2 * (1.0 / 7 + r2 * (1.0 / 9 + r2 * (1.0 / 11)))));
  return 2 * r * tail - e * r;
}

// log Gamma(z) - ((z - 1/2) log z - z + log(2 pi) / 2), z > 0: Stirling's remainder
// (Abramowitz & Stegun 6.1.41), small z raised by eight first.
double stirling_remainder(double z) {
  if (z < 8) {
    double product = z;
    for (int i = 1; i < 8; ++i) product *= z + i;
    return (z + 7.5) * std::log(z + 8) - 8 + stirling_remainder(z + 8) - std::log(product) -
           (z - 0.5) * std::log(z);
  }
  const double w = 1 / (z * z);
  return (1.0 / 12 - w * (1.0 / 360 - w * (1.0 / 1260 - w * (1.0 / 1680 - w / 1188)))) / z;
}

// log of one sowing's likelihood. With f = x / n the first-order terms of every logarithm cancel
// between ups and downs, so only log1p_minus is summed: exact to rounding even at n = 1e9.
double log_of_one(double x, double n, double p, double q, double theta) {
  constexpr double impossible = -std::numeric_limits<double>::infinity();
  const double y = n - x;
  if (p <= 0) return x > 0 ? impossible : 0;
  if (q <= 0) return y > 0 ? impossible : 0;
  const double f = x / n, g = y / n, spread = 1 + n * theta;
  // p - f, from the side that keeps its digits
  const double ahead = f <= 0.5 ? p - f : g - q;
  double sum = 0;
  if (x > 0 && y > 0) {
    sum = x * (std::log(f) + log1p_minus(ahead / (f * spread))) +
          y * (std::log(g) + log1p_minus(-ahead / (g * spread)));
  } else {
    sum = n * std::log1p(-(x > 0 ? q : p) / spread);
  }
  if (theta <= 0) return sum;
  const double shift = n * theta * ahead / spread;
  sum += (p * log1p_minus(-shift / p) + q * log1p_minus(shift / q)) / theta;
  sum -= 0.5 * (std::log1p(x * theta / p) + std::log1p(y * theta / q) - std::log1p(n * theta));
  const double a = p / theta, b = q / theta, c = 1 / theta;
  if (x > 0) sum += stirling_remainder(a + x) - stirling_remainder(a);
  if (y > 0) sum += stirling_remainder(b + y) - stirling_remainder(b);
  return sum - stirling_remainder(c + n) + stirling_remainder(c);
}

// 1 / the mean of p0 + j theta, j < length: factors times this have products that stay within
// range, for the mean of `longest_product` of them is under 1.4 times their geometric mean.
double product_scale(double p0, double theta, std::int64_t length) {
  const double mean = p0 + 0.5 * static_cast<double>(length - 1) * theta;
  return mean > 0 ? 1 / mean : 1;
}

// Sowings gathered by length, ascending.
std::vector<RisingRun> runs_of(std::vector<std::int64_t>& lengths) {
  std::sort(lengths.begin(), lengths.end());
  std::vector<RisingRun> runs;
  for (const auto length : lengths) {
    if (runs.empty() || runs.back().length != length) runs.push_back({length, 0});
    ++runs.back().times;
  }
  return runs;
}

// The values times the scale; lanes left over repeat the first, so that none runs out of range.
RisingLanes scaled_lanes(std::span<const double> values, double scale) {
  RisingLanes lanes;
  if (values.size() < rising_lanes) {
    lanes.fill(values[0] * scale);
    for (std::size_t l = 0; l < values.size(); ++l) lanes[l] = values[l] * scale;
  } else {
    for (std::size_t l = 0; l < rising_lanes; ++l) lanes[l] = values[l] * scale;
  }
  return lanes;
}

// As multiply_rising, in logarithms, for more seeds than a product has room for.
void add_log_rising(const RisingLanes& start, double step, std::span<const RisingRun> runs,
                    const double* inverse, RisingLanes& total) {
  std::array<RisingLanes, longest_product> products;
  rising_products(start, step, runs, products.data());
  for (std::size_t r = 0; r < runs.size(); ++r)
    for (std::size_t l = 0; l < rising_lanes; ++l)
      total[l] += runs[r].times * std::log(products[r][l] * inverse[r]);
}

}  // namespace

void check_trays(std::span<const TrayCount> trays) {
  for (std::size_t i = 0; i < trays.size(); ++i) {
    const auto& t = trays[i];
    if (t.sown < 1 || t.sown > 1'000'000'000)
      throw std::domain_error("sowing " + std::to_string(i + 1) +
                              ": units sown must be 1 to 1000000000");
    if (t.up < 0 || t.up > t.sown)
      throw std::domain_error("sowing " + std::to_string(i + 1) +
                              ": units up must be 0 to the units sown");
  }
}

TrayLikelihood::TrayLikelihood(std::span<const TrayCount> trays) {
  check_trays(trays);
  std::vector<std::int64_t> ups, downs, sowns;
  std::vector<TrayCount> sorted(trays.begin(), trays.end());
  for (const auto& t : trays) {
    if (t.up > 0) ups.push_back(t.up);
    if (t.up < t.sown) downs.push_back(t.sown - t.up);
    sowns.push_back(t.sown);
    largest_ = std::max(largest_, t.sown);
    up_ += t.up;
    sown_ += t.sown;
  }
  up_runs_ = runs_of(ups);
  down_runs_ = runs_of(downs);
  sown_runs_ = runs_of(sowns);
  const auto count = [](const TrayCount& t) { return std::pair(t.up, t.sown); };
  std::sort(sorted.begin(), sorted.end(),
            [&](const auto& a, const auto& b) { return count(a) < count(b); });
  for (std::size_t i = 0; i < sorted.size(); ++i)
    if (i > 0 && count(sorted[i]) == count(sorted[i - 1]))
      ++groups_.back().times;
    else
      groups_.push_back(
          {static_cast<double>(sorted[i].up), static_cast<double>(sorted[i].sown), 1});
}

double TrayLikelihood::effective_seeds(double rho) const {
  double sum = 0;
  for (const auto& g : groups_) sum += g.times * g.sown / (1 + (g.sown - 1) * rho);
  return sum;
}

double TrayLikelihood::weighted_fraction(double rho) const {
  if (groups_.empty()) return 0.5;
  double sum = 0;
  for (const auto& g : groups_) sum += g.times * g.up / (1 + (g.sown - 1) * rho);
  return sum / effective_seeds(rho);
}

double TrayLikelihood::likely_fraction(double rho) const {
  const double start = weighted_fraction(rho);
  if (largest_ <= longest_product || rho <= 0) return start;
  // log L has one top in p: climb in the angle by steps that double, then close in.
  const double theta = rho / (1 - rho), right_angle = 2 * std::atan(1.0);
  const auto height = [&](double phi) {
    const double s = std::sin(phi), c = std::cos(phi);
    return log_at(s * s, c * c, theta);
  };
  const double width = 0.5 / std::sqrt(std::max(effective_seeds(rho), 0.25));
  const auto beside = [&](double phi, double step) {
    return std::clamp(phi + step, 0.0, right_angle);
  };
  double step = width, at = std::asin(std::sqrt(start)), top = height(at);
  if (height(beside(at, step)) < top && height(beside(at, -step)) < top) return start;
  if (height(beside(at, -step)) > top) step = -step;
  for (double next; (next = height(beside(at, step))) > top; step *= 2) {
    top = next;
    at = beside(at, step);
  }
  for (; std::fabs(step) > 0.2 * width; step *= 0.5)
    for (const double side : {step, -step})
      if (const double next = height(beside(at, side)); next > top) {
        top = next;
        at = beside(at, side);
      }
  return std::sin(at) * std::sin(at);
}

double TrayLikelihood::log_at(double p, double q, double theta) const {
  double sum = 0;
  for (const auto& g : groups_) sum += g.times * log_of_one(g.up, g.sown, p, q, theta);
  return sum;
}

void TrayLikelihood::prepare(double theta, double p0, Ready& ready) const {
  auto& made = ready.at.emplace_back();
  made.theta = theta;
  made.p0 = p0;
  made.by_products = largest_ <= longest_product;
  if (!made.by_products) {
    made.log_reference = log_at(p0, 1 - p0, theta);
    return;
  }
  // Products at p0 itself: their inverses scale each run to 1 there, their logs add to log L.
  std::array<double, longest_product> products;
  const auto rise = [&](double start, double scale, std::span<const RisingRun> runs, double sign) {
    rising_products(start * scale, theta * scale, runs, products.data());
    double gathered = 1;
    for (std::size_t r = 0; r < runs.size(); ++r)
      for (int t = 0; t < runs[r].times; ++t) {
        gathered *= products[r];
        if (gathered < 1e-100) {
          made.log_reference += sign * std::log(gathered);
          gathered = 1;
        }
      }
    return gathered;
  };
  const auto kept = [&](double start, double& scale, std::span<const RisingRun> runs) {
    if (runs.empty()) return 1.0;
    scale = product_scale(start, theta, runs.back().length);
    const double gathered = rise(start, scale, runs, 1);
    for (std::size_t r = 0; r < runs.size(); ++r) ready.inverse.push_back(1 / products[r]);
    return gathered;
  };
  made.first_inverse = ready.inverse.size();
  const double up = kept(p0, made.scale_up, up_runs_);
  const double down = kept(1 - p0, made.scale_down, down_runs_);
  double scale = 1, sown = 1;
  if (!sown_runs_.empty()) {
    scale = product_scale(1, theta, sown_runs_.back().length);
    sown = rise(1, scale, sown_runs_, -1);
  }
  const auto seeds = [](std::int64_t count) { return static_cast<double>(count); };
  made.log_reference += std::log(up * down / sown) - seeds(up_) * std::log(made.scale_up / scale) -
                        seeds(sown_ - up_) * std::log(made.scale_down / scale);
}

void TrayLikelihood::relative(const Ready& ready, std::size_t which, std::span<const double> p,
                              std::span<const double> q, std::span<double> out) const {
  const auto& at = ready.at[which];
  if (!at.by_products) {
    for (std::size_t i = 0; i < p.size(); ++i)
      out[i] = std::exp(log_at(p[i], q[i], at.theta) - at.log_reference);
    return;
  }
  const double* const inverse_up = ready.inverse.data() + at.first_inverse;
  const double* const inverse_down = inverse_up + up_runs_.size();
  for (std::size_t first = 0; first < p.size(); first += rising_lanes) {
    const std::size_t here = std::min(rising_lanes, p.size() - first);
    const auto up = scaled_lanes(p.subspan(first, here), at.scale_up);
    const auto down = scaled_lanes(q.subspan(first, here), at.scale_down);
    RisingLanes total;
    if (sown_ <= most_seeds_unlogged) {
      total.fill(1);
      multiply_rising(up, at.theta * at.scale_up, up_runs_, inverse_up, total);
      multiply_rising(down, at.theta * at.scale_down, down_runs_, inverse_down, total);
    } else {
      total.fill(0);
      add_log_rising(up, at.theta * at.scale_up, up_runs_, inverse_up, total);
      add_log_rising(down, at.theta * at.scale_down, down_runs_, inverse_down, total);
      for (auto& value : total) value = std::exp(value);
    }
    std::copy_n(total.begin(), here, out.begin() + static_cast<std::ptrdiff_t>(first));
  }
}

}  // namespace plumule::stats
