// See the header.
#include "stats/trials/global_test.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <tuple>

#include "stats/numeric/random.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-9;

struct Block {
  std::vector<double> values;       // centred
  std::vector<std::size_t> labels;  // treatments as 0, 1, ...; in the end in any order
};

double between(const std::vector<double>& sums, const std::vector<double>& counts) {
  double total = 0;
  for (std::size_t t = 0; t < sums.size(); ++t)
    if (counts[t] > 0) total += sums[t] * sums[t] / counts[t];
  return total;
}

void add(const Block& block, std::vector<double>& sums) {
  for (std::size_t i = 0; i < block.values.size(); ++i) sums[block.labels[i]] += block.values[i];
}

// Number of labellings of blocks b, b + 1, ... at least as far out as `seen`.
double count_far(std::vector<Block>& blocks, std::size_t b, const std::vector<double>& sums,
                 const std::vector<double>& counts, double seen) {
  if (b == blocks.size()) return between(sums, counts) >= seen - tie ? 1 : 0;
  Block& block = blocks[b];
  std::sort(block.labels.begin(), block.labels.end());
  double far = 0;
  do {
    std::vector<double> with = sums;
    add(block, with);
    far += count_far(blocks, b + 1, with, counts, seen);
  } while (std::next_permutation(block.labels.begin(), block.labels.end()));
  return far;
}

// Ways to exchange whole treatments without changing how many of each a block holds: each leaves
// the statistic as it is, so no p can be less than their number over the arrangements.
double exchanges(const std::vector<Block>& blocks, std::size_t treatments) {
  std::map<std::vector<double>, double> alike;
  for (std::size_t t = 0; t < treatments; ++t) {
    std::vector<double> counts;
    for (const Block& block : blocks)
      counts.push_back(
          static_cast<double>(std::count(block.labels.begin(), block.labels.end(), t)));
    ++alike[counts];
  }
  double ways = 1;
  for (const auto& [counts, number] : alike)
    if (std::any_of(counts.begin(), counts.end(), [](double n) { return n > 0; }))
      ways *= std::tgamma(number + 1);
  return std::round(ways);
}

// Distinct labellings of one block.
double labellings(const Block& block, std::size_t treatments) {
  double ways = 1, placed = 0;
  for (std::size_t t = 0; t < treatments; ++t) {
    const auto n = std::count(block.labels.begin(), block.labels.end(), t);
    for (std::ptrdiff_t i = 1; i <= n; ++i)
      ways = std::round(ways * ++placed / static_cast<double>(i));
  }
  return ways;
}

double drawn_p(std::vector<Block>& blocks, const std::vector<double>& counts, double seen,
               std::uint64_t seed, std::int64_t draws) {
  Random random(seed);
  std::vector<double> sums(counts.size());
  std::int64_t far = 1;
  for (std::int64_t draw = 0; draw < draws; ++draw) {
    std::fill(sums.begin(), sums.end(), 0.0);
    for (Block& block : blocks) {
      random.shuffle(std::span(block.labels));
      add(block, sums);
    }
    if (between(sums, counts) >= seen - tie) ++far;
  }
  return static_cast<double>(far) / static_cast<double>(draws + 1);
}

}  // namespace

GlobalTest global_randomisation_test(std::span<const TreatedUnit> given, std::uint64_t seed,
                                     std::int64_t draws) {
  if (draws < 1) throw std::domain_error("a randomisation test needs at least one draw");
  std::vector<TreatedUnit> units(given.begin(), given.end());
  std::map<int, std::size_t> numbers;
  for (const TreatedUnit& unit : units) {
    if (!std::isfinite(unit.value))
      throw std::domain_error("a unit's value must be a finite number");
    numbers.emplace(unit.treatment, 0);
  }
  std::size_t next = 0;
  for (auto& [treatment, number] : numbers) number = next++;
  std::sort(units.begin(), units.end(), [](const TreatedUnit& a, const TreatedUnit& b) {
    return std::tie(a.block, a.code, a.value, a.treatment) <
           std::tie(b.block, b.code, b.value, b.treatment);
  });

  GlobalTest result;
  std::vector<Block> blocks;
  std::vector<double> sums(numbers.size()), counts(numbers.size());
  for (std::size_t from = 0, past = 0; from < units.size(); from = past) {
    Block block;
    double mean = 0;
    for (; past < units.size() && units[past].block == units[from].block; ++past) {
      block.values.push_back(units[past].value);
      block.labels.push_back(numbers[units[past].treatment]);
      mean += units[past].value;
    }
    mean /= static_cast<double>(past - from);
    if (std::all_of(block.labels.begin(), block.labels.end(),
                    [&](std::size_t label) { return label == block.labels.front(); })) {
      result.blocks_left_out.push_back(units[from].block);
      continue;
    }
    for (double& value : block.values) value -= mean;
    for (const std::size_t label : block.labels) counts[label] += 1;
    add(block, sums);
    blocks.push_back(std::move(block));
  }
  if (blocks.empty()) return result;

  result.status = RandomisationStatus::ok;
  result.between = between(sums, counts);
  result.arrangements = 1;
  for (const Block& block : blocks) result.arrangements *= labellings(block, numbers.size());
  result.smallest_p = exchanges(blocks, numbers.size()) / result.arrangements;
  result.exact = result.arrangements <= most_enumerated;
  if (result.exact) {
    const std::vector<double> none(numbers.size());
    result.p = count_far(blocks, 0, none, counts, result.between) / result.arrangements;
  } else {
    result.draws = draws;
    result.seed = seed;
    result.p = drawn_p(blocks, counts, result.between, seed, draws);
  }
  return result;
}

}  // namespace plumule::stats
