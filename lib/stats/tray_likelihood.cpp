// Two roads to one likelihood: running products shared by sorted sowings for the sizes growers
// have, log Gamma differences by Stirling's series for the rest.
#include "stats/tray_likelihood.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>

namespace plumule::stats {
namespace {

constexpr std::int64_t longest_product = 300;       // beyond it a partial product could underflow
constexpr std::int64_t most_seeds_unlogged = 1500;  // beyond it the total product could overflow
constexpr std::size_t lanes = 12;

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

// About 1 / the geometric mean of p0 + j theta, j < length: factors times this have products
// near 1.
double product_scale(double p0, double theta, std::int64_t length) {
  if (length == 0 || p0 <= 0) return 1;
  const double rise = static_cast<double>(length) * theta;
  if (rise < 1e-3 * p0) return 1 / p0;
  return std::exp(1 - ((p0 + rise) * std::log(p0 + rise) - p0 * std::log(p0)) / rise);
}

// Twelve points at a time, as six of the compilers' own pairs (twelve registers of sixteen): loops
// over an array stay scalar at -O2, and a single wider vector lives in memory.
using Pair = double __attribute__((vector_size(2 * sizeof(double))));

struct Lanes {
  Pair a, b, c, d, e, f;

  static Lanes filled(double value) {
    const Pair both = {value, value};
    return {both, both, both, both, both, both};
  }
  static Lanes from(const std::array<double, lanes>& x, double times) {
    return {Pair{x[0], x[1]} * times, Pair{x[2], x[3]} * times, Pair{x[4], x[5]} * times,
            Pair{x[6], x[7]} * times, Pair{x[8], x[9]} * times, Pair{x[10], x[11]} * times};
  }
  std::array<double, lanes> values() const {
    return {a[0], a[1], b[0], b[1], c[0], c[1], d[0], d[1], e[0], e[1], f[0], f[1]};
  }
  void multiply(const Lanes& by) {
    a *= by.a;
    b *= by.b;
    c *= by.c;
    d *= by.d;
    e *= by.e;
    f *= by.f;
  }
  void add(const Pair& step) {
    a += step;
    b += step;
    c += step;
    d += step;
    e += step;
    f += step;
  }
};

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
  std::map<std::int64_t, int> ups, downs, sowns;
  std::map<std::pair<std::int64_t, std::int64_t>, int> alike;
  for (const auto& t : trays) {
    if (t.up > 0) ++ups[t.up];
    if (t.up < t.sown) ++downs[t.sown - t.up];
    ++sowns[t.sown];
    ++alike[{t.up, t.sown}];
    largest_ = std::max(largest_, t.sown);
    up_ += t.up;
    sown_ += t.sown;
  }
  for (const auto& [length, times] : ups) up_runs_.push_back({length, times});
  for (const auto& [length, times] : downs) down_runs_.push_back({length, times});
  for (const auto& [length, times] : sowns) sown_runs_.push_back({length, times});
  for (const auto& [count, times] : alike)
    groups_.push_back({static_cast<double>(count.first), static_cast<double>(count.second),
                       static_cast<double>(times)});
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

TrayLikelihood::Prepared TrayLikelihood::prepare(double theta, double p0) const {
  Prepared made;
  made.theta = theta;
  made.p0 = p0;
  made.by_products = largest_ <= longest_product;
  if (!made.by_products) {
    made.log_reference = log_at(p0, 1 - p0, theta);
    return made;
  }
  // Products at p0 itself: their inverses scale each run to 1 there, their logs add to log L.
  const auto rise = [theta, &made](double start, std::span<const Run> runs, double sign,
                                   double& scale, bool kept) {
    if (runs.empty()) return;
    scale = product_scale(start, theta, runs.back().length);
    double factor = start * scale, product = 1, gathered = 1;
    const double step = theta * scale, log_scale = std::log(scale);
    std::int64_t j = 0;
    for (const auto& run : runs) {
      for (; j < run.length; ++j) {
        product *= factor;
        factor += step;
      }
      made.log_reference -= sign * static_cast<double>(run.times * run.length) * log_scale;
      if (kept) made.inverse.push_back(1 / product);
      for (int t = 0; t < run.times; ++t) {
        gathered *= product;
        if (gathered < 1e-100) {
          made.log_reference += sign * std::log(gathered);
          gathered = 1;
        }
      }
    }
    made.log_reference += sign * std::log(gathered);
  };
  made.inverse.reserve(up_runs_.size() + down_runs_.size());
  double unused = 1;
  rise(p0, up_runs_, 1, made.scale_up, true);
  rise(1 - p0, down_runs_, 1, made.scale_down, true);
  rise(1, sown_runs_, -1, unused, false);
  return made;
}

void TrayLikelihood::relative(const Prepared& at, std::span<const double> p,
                              std::span<const double> q, std::span<double> out) const {
  if (!at.by_products) {
    for (std::size_t i = 0; i < p.size(); ++i)
      out[i] = std::exp(log_at(p[i], q[i], at.theta) - at.log_reference);
    return;
  }
  const bool logged = sown_ > most_seeds_unlogged;
  for (std::size_t first = 0; first < p.size(); first += lanes) {
    const std::size_t here = std::min(lanes, p.size() - first);
    Lanes total = Lanes::filled(1);
    std::array<double, lanes> logs{};
    const double* inverse = at.inverse.data();
    const auto rise = [&](std::span<const double> from, double scale, std::span<const Run> runs) {
      std::array<double, lanes> start;
      for (std::size_t l = 0; l < lanes; ++l) start[l] = from[first + (l < here ? l : 0)];
      Lanes factor = Lanes::from(start, scale), product = Lanes::filled(1);
      const Pair step = {at.theta * scale, at.theta * scale};
      std::int64_t j = 0;
      for (const auto& run : runs) {
        for (; j < run.length; ++j) {
          product.multiply(factor);
          factor.add(step);
        }
        Lanes scaled = Lanes::filled(*inverse++);
        scaled.multiply(product);
        if (logged) {
          const auto each = scaled.values();
          for (std::size_t l = 0; l < lanes; ++l) logs[l] += run.times * std::log(each[l]);
        } else {
          for (int t = 0; t < run.times; ++t) total.multiply(scaled);
        }
      }
    };
    rise(p, at.scale_up, up_runs_);
    rise(q, at.scale_down, down_runs_);
    const auto each = total.values();
    for (std::size_t l = 0; l < here; ++l) out[first + l] = logged ? std::exp(logs[l]) : each[l];
  }
}

}  // namespace plumule::stats
