// log(2^k m) = k log 2 + log m with m between sqrt(1/2) and sqrt(2), and log m = 2 artanh(s) as a
// series in s = (m - 1) / (m + 1), s^2 < 0.0295: what follows s^19 is under 3e-17.
#include "stats/numeric/log_sum.hpp"

#include <cstdint>

#include "stats/numeric/wide.hpp"

namespace plumule::stats {
namespace {

constexpr std::uint64_t one = 0x3ff0000000000000, half_root = 0x3fe6a09e667f3bcd;  // 1, sqrt(1/2)
constexpr std::uint64_t two52 = 0x4330000000000000;  // 2^52: its low bits count by one

PLUMULE_WIDE
double sum_of(const double* weights, const double* values, std::size_t n) {
  Four sum = {0, 0, 0, 0};
  for (std::size_t i = 0; i < n; i += 4) {
    Four weight, value;
    load(weight, weights + i);
    load(value, values + i);
    FourBits bits;
    std::memcpy(&bits, &value, sizeof bits);
    const FourBits power = (bits + (one - half_root)) >> 52;  // k + 1023
    const FourBits counted = power | two52, scaled = bits - (power << 52) + one;
    Four k, m;
    std::memcpy(&k, &counted, sizeof k);
    std::memcpy(&m, &scaled, sizeof m);
    k -= 4503599627370496.0 + 1023;
    const Four s = (m - 1) / (m + 1), z = s * s, zz = z * z;
    const Four even =
        2.0 / 3 + zz * (2.0 / 7 + zz * (2.0 / 11 + zz * (2.0 / 15 + zz * (2.0 / 19))));
    const Four odd = 2.0 / 5 + zz * (2.0 / 9 + zz * (2.0 / 13 + zz * (2.0 / 17)));
    sum += weight * (k * 0.69314718055994530942 + (2 * s + s * z * (even + z * odd)));
  }
  return total(sum);
}

}  // namespace

double LogSum::sum() {
  while (values_.size() % 4 != 0) add(0, 1);
  return sum_of(weights_.data(), values_.data(), values_.size());
}

}  // namespace plumule::stats
