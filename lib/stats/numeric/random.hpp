// A small seeded generator with draws of our own, so that every answer drawn by lot can be had
// again on any machine: xoshiro256++ (Blackman & Vigna 2019, public domain), state filled by
// splitmix64. The standard library's distributions draw otherwise on every platform.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <utility>

namespace plumule::stats {

// Whole-number draws are the same everywhere; those through log or sqrt are the same to the last
// digits of the machine's own log.
class Random {
 public:
  explicit Random(std::uint64_t seed);
  explicit Random(const std::array<std::uint64_t, 4>& state) : state_(state) {}  // not all 0

  std::uint64_t next() {
    const std::uint64_t result = rotate(state_[0] + state_[3], 23) + state_[0];
    const std::uint64_t t = state_[1] << 17;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= t;
    state_[3] = rotate(state_[3], 45);
    return result;
  }

  // 0 <= result < bound, each equally likely (Lemire 2019, with rejection); bound 1 to 2^32 - 1.
  std::uint32_t below(std::uint32_t bound) {
    std::uint64_t product = (next() >> 32) * bound;
    if (static_cast<std::uint32_t>(product) < bound) {
      const std::uint32_t floor = (0U - bound) % bound;
      while (static_cast<std::uint32_t>(product) < floor) product = (next() >> 32) * bound;
    }
    return static_cast<std::uint32_t>(product >> 32);
  }

  double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }               // [0, 1)
  double open_unit() { return (static_cast<double>(next() >> 12) + 0.5) * 0x1p-52; }  // (0, 1)

  double normal();                                  // mean 0, sd 1 (Marsaglia's polar method)
  double exponential();                             // mean 1
  double gamma(double shape);                       // scale 1, shape > 0 (Marsaglia & Tsang 2000)
  double beta(double a, double b);                  // a, b > 0
  std::int64_t binomial(std::int64_t n, double p);  // by halving with beta medians: exact, log n
  // Marked among `drawn` of `total` of which `marked` are: by inversion from the mode.
  std::int64_t hypergeometric(std::int64_t total, std::int64_t marked, std::int64_t drawn);
  // Binomial with p drawn from the beta of mean p and intraclass correlation rho (0: binomial;
  // 1: all or nothing).
  std::int64_t beta_binomial(std::int64_t n, double p, double rho);

  template <class T>
  void shuffle(std::span<T> items) {
    for (std::size_t i = items.size(); i > 1; --i)
      std::swap(items[i - 1], items[below(static_cast<std::uint32_t>(i))]);
  }

  // Draws out of range throw std::domain_error.

 private:
  static std::uint64_t rotate(std::uint64_t x, int k) { return (x << k) | (x >> (64 - k)); }
  std::array<std::uint64_t, 4> state_;
};

}  // namespace plumule::stats
