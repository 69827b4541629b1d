// See the header. Values are centred in their block and scaled, so that the weighted difference is
// one sum over the units of one arm, and its mean over all re-labellings is 0.
#include "stats/trials/randomisation.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <tuple>
#include <utility>

#include "stats/numeric/random.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-9;

double choose(int n, int k) {
  double result = 1;
  for (int i = 1; i <= std::min(k, n - k); ++i) result = std::round(result * (n + 1 - i) / i);
  return result;
}

// One block, ready to be re-labelled: the difference it adds is the sum of the values of `drawn` of
// its units. The arm that is drawn is the smaller, or the first unit's where they are equal, so
// that exchanging the labels only turns the sign of every sum.
struct Block {
  std::vector<double> values;
  std::size_t drawn = 0;
  double seen = 0;  // the sum as it was
};

Block ready(std::span<const RandomisedUnit> units, double all_units, int treated) {
  const double n = static_cast<double>(units.size()), k = treated, c = n - k;
  const bool draws_treated = k == c ? units.front().treated : k < c;
  double mean = 0;
  for (const RandomisedUnit& unit : units) mean += unit.value / n;
  const double scale = n / all_units * (1 / k + 1 / c) * (draws_treated ? 1 : -1);
  Block block;
  for (const RandomisedUnit& unit : units) {
    block.values.push_back((unit.value - mean) * scale);
    if (unit.treated == draws_treated) block.seen += block.values.back();
  }
  block.drawn = static_cast<std::size_t>(draws_treated ? k : c);
  return block;
}

// Every sum of `drawn` of the values.
std::vector<double> all_sums(const Block& block) {
  const std::size_t n = block.values.size(), k = block.drawn;
  std::vector<std::size_t> pick(k);
  for (std::size_t i = 0; i < k; ++i) pick[i] = i;
  std::vector<double> sums;
  for (;;) {
    double sum = 0;
    for (const std::size_t i : pick) sum += block.values[i];
    sums.push_back(sum);
    std::size_t i = k;
    while (i > 0 && pick[i - 1] == n - k + i - 1) --i;
    if (i == 0) return sums;
    ++pick[i - 1];
    for (; i < k; ++i) pick[i] = pick[i - 1] + 1;
  }
}

double enumerated(const std::vector<Block>& blocks, double seen, double total) {
  std::vector<double> sums{0.0};
  for (const Block& block : blocks) {
    const std::vector<double> own = all_sums(block);
    std::vector<double> next;
    next.reserve(sums.size() * own.size());
    for (const double a : sums)
      for (const double b : own) next.push_back(a + b);
    sums = std::move(next);
  }
  const auto far = std::count_if(sums.begin(), sums.end(),
                                 [&](double s) { return std::fabs(s) >= std::fabs(seen) - tie; });
  return static_cast<double>(far) / total;
}

double drawn_p(std::vector<Block>& blocks, double seen, std::uint64_t seed, std::int64_t draws) {
  Random random(seed);
  std::int64_t far = 1;  // the actual labelling
  for (std::int64_t draw = 0; draw < draws; ++draw) {
    double sum = 0;
    for (Block& block : blocks) {
      double* const values = block.values.data();
      const std::size_t n = block.values.size();
      for (std::size_t i = 0; i < block.drawn; ++i) {  // shuffles on from the last shuffle
        const std::size_t j = i + random.below(static_cast<std::uint32_t>(n - i));
        std::swap(values[i], values[j]);
        sum += values[i];
      }
    }
    if (std::fabs(sum) >= std::fabs(seen) - tie) ++far;
  }
  return static_cast<double>(far) / static_cast<double>(draws + 1);
}

}  // namespace

double arrangements(std::span<const BlockLayout> blocks) {
  double product = 1;
  for (const BlockLayout& block : blocks) {
    if (block.treated < 0 || block.control < 0)
      throw std::domain_error("a block cannot hold fewer than no units");
    product *= choose(block.treated + block.control, block.treated);
  }
  return product;
}

double smallest_randomisation_p(std::span<const BlockLayout> blocks) {
  bool both = false, even = true;
  for (const BlockLayout& block : blocks) {
    if (block.treated == 0 || block.control == 0) continue;
    both = true;
    even = even && block.treated == block.control;
  }
  return both ? (even ? 2 : 1) / arrangements(blocks) : 1;
}

Randomisation randomisation_test(std::span<const RandomisedUnit> given, std::uint64_t seed,
                                 std::int64_t draws) {
  if (draws < 1) throw std::domain_error("a randomisation test needs at least one draw");
  std::vector<RandomisedUnit> units(given.begin(), given.end());
  for (const RandomisedUnit& unit : units)
    if (!std::isfinite(unit.value))
      throw std::domain_error("a unit's value must be a finite number");
  std::sort(units.begin(), units.end(), [](const RandomisedUnit& a, const RandomisedUnit& b) {
    return std::tie(a.block, a.code, a.value, a.treated) <
           std::tie(b.block, b.code, b.value, b.treated);
  });

  Randomisation result;
  std::vector<std::span<const RandomisedUnit>> used;
  std::vector<BlockLayout> layout;
  for (std::size_t from = 0, past = 0; from < units.size(); from = past) {
    BlockLayout sizes{0, 0};
    for (; past < units.size() && units[past].block == units[from].block; ++past)
      ++(units[past].treated ? sizes.treated : sizes.control);
    if (sizes.treated == 0 || sizes.control == 0) {
      result.blocks_left_out.push_back(units[from].block);
      continue;
    }
    used.push_back(std::span(units).subspan(from, past - from));
    layout.push_back(sizes);
    result.treated += sizes.treated;
    result.control += sizes.control;
  }
  if (used.empty()) return result;

  result.status = RandomisationStatus::ok;
  result.arrangements = arrangements(layout);
  result.smallest_p = smallest_randomisation_p(layout);
  std::vector<Block> blocks;
  for (std::size_t b = 0; b < used.size(); ++b) {
    blocks.push_back(ready(used[b], result.treated + result.control, layout[b].treated));
    result.difference += blocks.back().seen;
  }
  result.exact = result.arrangements <= most_enumerated;
  if (result.exact) {
    result.p = enumerated(blocks, result.difference, result.arrangements);
  } else {
    result.draws = draws;
    result.seed = seed;
    result.p = drawn_p(blocks, result.difference, seed, draws);
  }
  return result;
}

}  // namespace plumule::stats
