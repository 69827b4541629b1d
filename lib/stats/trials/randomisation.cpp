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

// Block by block, each in an order that does not depend on the one given.
std::vector<std::vector<RandomisedUnit>> blocks_of(std::span<const RandomisedUnit> given) {
  std::vector<RandomisedUnit> units(given.begin(), given.end());
  std::sort(units.begin(), units.end(), [](const RandomisedUnit& a, const RandomisedUnit& b) {
    return std::tie(a.block, a.code, a.value, a.treated) <
           std::tie(b.block, b.code, b.value, b.treated);
  });
  std::vector<std::vector<RandomisedUnit>> blocks;
  for (auto& unit : units) {
    if (blocks.empty() || blocks.back().front().block != unit.block) blocks.emplace_back();
    blocks.back().push_back(std::move(unit));
  }
  return blocks;
}

// What the layout gives, and the blocks that hold both.
struct LaidOut {
  Randomisation test;
  std::vector<std::vector<RandomisedUnit>> used;
};

LaidOut laid_out(std::vector<std::vector<RandomisedUnit>> blocks, std::int64_t draws) {
  LaidOut result;
  std::vector<BlockLayout> layout;
  for (auto& units : blocks) {
    BlockLayout sizes{0, 0};
    for (const RandomisedUnit& unit : units) ++(unit.treated ? sizes.treated : sizes.control);
    if (sizes.treated == 0 || sizes.control == 0) {
      result.test.blocks_left_out.push_back(units.front().block);
      continue;
    }
    layout.push_back(sizes);
    result.test.treated += sizes.treated;
    result.test.control += sizes.control;
    result.used.push_back(std::move(units));
  }
  if (result.used.empty()) return result;
  result.test.status = RandomisationStatus::layout_only;
  result.test.arrangements = arrangements(layout);
  result.test.smallest_p = smallest_randomisation_p(layout);
  result.test.exact = result.test.arrangements <= most_enumerated;
  if (!result.test.exact) result.test.draws = draws;
  return result;
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

Randomisation randomisation_layout(std::span<const RandomisedUnit> given, std::int64_t draws) {
  return laid_out(blocks_of(given), draws).test;
}

Randomisation randomisation_test(std::span<const RandomisedUnit> given, std::uint64_t seed,
                                 std::int64_t draws) {
  if (draws < 1) throw std::domain_error("a randomisation test needs at least one draw");
  for (const RandomisedUnit& unit : given)
    if (!std::isfinite(unit.value))
      throw std::domain_error("a unit's value must be a finite number");
  auto [result, used] = laid_out(blocks_of(given), draws);
  if (used.empty()) return result;
  result.status = RandomisationStatus::ok;
  std::vector<Block> blocks;
  for (const auto& units : used) {
    const auto treated = std::count_if(units.begin(), units.end(),
                                       [](const RandomisedUnit& unit) { return unit.treated; });
    blocks.push_back(ready(units, result.treated + result.control, static_cast<int>(treated)));
    result.difference += blocks.back().seen;
  }
  if (result.exact) {
    result.p = enumerated(blocks, result.difference, result.arrangements);
  } else {
    result.seed = seed;
    result.p = drawn_p(blocks, result.difference, seed, draws);
  }
  return result;
}

}  // namespace plumule::stats
