// Four factors at a time: (a + jt)(a + (j+3)t) = w and (a + (j+1)t)(a + (j+2)t) = w + 2 t^2, where
// w = a^2 + (2j+3) t a + j (j+3) t^2. All terms are positive, so no digits are lost.
#include "stats/numeric/rising_products.hpp"

#include "stats/numeric/wide.hpp"

namespace plumule::stats {
namespace {

template <class Number>
struct Rise {
  Number start, square, product;

  [[gnu::always_inline]] Rise(const Number& from, const Number& one)
      : start(from), square(from * from), product(one) {}
  [[gnu::always_inline]] void by_four(double slope, double shift, double apart) {
    const Number w = start * slope + square + shift;
    product *= w * (w + apart);
  }
  [[gnu::always_inline]] void by_one(double shift) { product *= start + shift; }
};

// Calls four(slope, shift, apart) and one(shift) for the factors of each run, then done(run).
template <class ByFour, class ByOne, class Done>
[[gnu::always_inline]] inline void walk(double step, std::span<const RisingRun> runs,
                                        ByFour&& by_four, ByOne&& by_one, Done&& done) {
  const double apart = 2 * step * step;
  std::int64_t j = 0;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    for (; j + 4 <= runs[r].length; j += 4) {
      const double at = static_cast<double>(j) * step, end = at + 3 * step;
      by_four(at + end, at * end, apart);
    }
    for (; j < runs[r].length; ++j) by_one(static_cast<double>(j) * step);
    done(r);
  }
}

}  // namespace

PLUMULE_WIDE
void rising_products(const RisingLanes& start, double step, std::span<const RisingRun> runs,
                     RisingLanes* out) {
  Four a_start, b_start, c_start;
  load(a_start, start.data());
  load(b_start, start.data() + 4);
  load(c_start, start.data() + 8);
  const Four one = {1, 1, 1, 1};
  Rise<Four> a(a_start, one), b(b_start, one), c(c_start, one);
  walk(
      step, runs,
      [&](double slope, double shift, double apart) __attribute__((always_inline)) {
        a.by_four(slope, shift, apart);
        b.by_four(slope, shift, apart);
        c.by_four(slope, shift, apart);
      },
      [&](double shift) __attribute__((always_inline)) {
        a.by_one(shift);
        b.by_one(shift);
        c.by_one(shift);
      },
      [&](std::size_t r) __attribute__((always_inline)) {
        store(out[r].data(), a.product);
        store(out[r].data() + 4, b.product);
        store(out[r].data() + 8, c.product);
      });
}

PLUMULE_WIDE
void multiply_rising(const RisingLanes& start, double step, std::span<const RisingRun> runs,
                     const double* inverse, RisingLanes& total) {
  Four a_start, b_start, c_start, all_a, all_b, all_c;
  load(a_start, start.data());
  load(b_start, start.data() + 4);
  load(c_start, start.data() + 8);
  load(all_a, total.data());
  load(all_b, total.data() + 4);
  load(all_c, total.data() + 8);
  const Four one = {1, 1, 1, 1};
  Rise<Four> a(a_start, one), b(b_start, one), c(c_start, one);
  walk(
      step, runs,
      [&](double slope, double shift, double apart) __attribute__((always_inline)) {
        a.by_four(slope, shift, apart);
        b.by_four(slope, shift, apart);
        c.by_four(slope, shift, apart);
      },
      [&](double shift) __attribute__((always_inline)) {
        a.by_one(shift);
        b.by_one(shift);
        c.by_one(shift);
      },
      [&](std::size_t r) __attribute__((always_inline)) {
        for (int t = 0; t < runs[r].times; ++t) {
          all_a *= a.product * inverse[r];
          all_b *= b.product * inverse[r];
          all_c *= c.product * inverse[r];
        }
      });
  store(total.data(), all_a);
  store(total.data() + 4, all_b);
  store(total.data() + 8, all_c);
}

void rising_products(double start, double step, std::span<const RisingRun> runs, double* out) {
  Rise<double> rise(start, 1);
  walk(
      step, runs,
      [&](double slope, double shift, double apart) { rise.by_four(slope, shift, apart); },
      [&](double shift) { rise.by_one(shift); }, [&](std::size_t r) { out[r] = rise.product; });
}

}  // namespace plumule::stats
