// Blocks of four rows and eight columns are summed in registers; what is left over, one by one.
#include "stats/numeric/small_product.hpp"

#include "stats/numeric/wide.hpp"

namespace plumule::stats {
namespace {

struct Row {
  Four a = {0, 0, 0, 0}, b = {0, 0, 0, 0};

  [[gnu::always_inline]] void add(double times, const Four& c, const Four& d) {
    a += times * c;
    b += times * d;
  }
  [[gnu::always_inline]] void put(double* to) const {
    store(to, a);
    store(to + 4, b);
  }
};

}  // namespace

PLUMULE_WIDE
void small_product(const MatrixView& left, std::size_t rows, std::size_t inner, const double* right,
                   std::size_t columns, double* out) {
  const std::size_t whole = columns - columns % 8;
  const auto row_of = [&](std::size_t i) { return left.data + i * left.across; };
  for (std::size_t i = 0; i < rows; i += 4) {
    // The last block repeats the last row where fewer than four are left.
    const auto at = [&](std::size_t r) { return i + r < rows ? i + r : rows - 1; };
    const double *one = row_of(at(0)), *two = row_of(at(1)), *three = row_of(at(2)),
                 *four = row_of(at(3));
    for (std::size_t j = 0; j < whole; j += 8) {
      Row first, second, third, fourth;
      for (std::size_t k = 0; k < inner; ++k) {
        Four c, d;
        load(c, right + k * columns + j);
        load(d, right + k * columns + j + 4);
        const std::size_t along = k * left.along;
        first.add(one[along], c, d);
        second.add(two[along], c, d);
        third.add(three[along], c, d);
        fourth.add(four[along], c, d);
      }
      first.put(out + at(0) * columns + j);
      second.put(out + at(1) * columns + j);
      third.put(out + at(2) * columns + j);
      fourth.put(out + at(3) * columns + j);
    }
    for (std::size_t j = whole; j < columns; ++j)
      for (std::size_t r = i; r < i + 4 && r < rows; ++r) {
        double sum = 0;
        for (std::size_t k = 0; k < inner; ++k)
          sum += row_of(r)[k * left.along] * right[k * columns + j];
        out[r * columns + j] = sum;
      }
  }
}

}  // namespace plumule::stats
