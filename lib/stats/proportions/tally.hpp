// How many of how many: x units up of n sown. Checked once, when it is made.
#pragma once

#include <type_traits>

namespace plumule::stats {

// Any number type is taken: counts are whole in practice, but expected and effective numbers of
// seeds are fractions, so both are held as double (exact to 2^53). Throws std::domain_error unless
// 0 <= x <= n and both are finite; n = 0 is allowed and means that nothing is known.
class Tally {
 public:
  template <class X, class N>
  Tally(X x, N n) : Tally(Checked{}, real(x), real(n)) {}

  double x() const { return x_; }
  double n() const { return n_; }
  double failures() const { return n_ - x_; }
  double fraction() const { return x_ / n_; }  // NaN where n = 0
  bool whole() const;                          // both are whole numbers

 private:
  struct Checked {};
  Tally(Checked, double x, double n);

  template <class T>
  static constexpr double real(T value) {
    static_assert(std::is_arithmetic_v<T>);
    if constexpr (std::is_same_v<T, double>)
      return value;
    else
      return static_cast<double>(value);
  }

  double x_, n_;
};

}  // namespace plumule::stats
