// All re-labellings laid out once; at each look their distances, and the boundary set C grown by
// what the spending allows.
#include "stats/trials/sequential_randomisation.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "stats/numeric/random.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::stats {
namespace {

constexpr double tie = 1e-9;
constexpr std::size_t drawn_in_all = 100000;  // with the actual labelling

struct Unit {
  std::vector<std::size_t> sowings;
  int block = 0;
  bool treated = false;
};

struct Block {
  std::vector<std::size_t> units;
  std::size_t treated = 0;
  double share = 0;  // of all units kept
};

std::vector<Unit> gather_units(std::span<const FollowedSowing> sowings) {
  std::vector<Unit> units;
  std::map<int, std::size_t> place;
  for (std::size_t i = 0; i < sowings.size(); ++i) {
    const auto& s = sowings[i];
    const auto found = s.unit >= 0 ? place.find(s.unit) : place.end();
    if (found == place.end()) {
      if (s.unit >= 0) place[s.unit] = units.size();
      units.push_back({{i}, s.block, s.treated});
      continue;
    }
    Unit& unit = units[found->second];
    if (unit.block != s.block || unit.treated != s.treated)
      throw std::domain_error("sowings treated together cannot lie in two treatments or blocks");
    unit.sowings.push_back(i);
  }
  return units;
}

// Blocks that hold both treatments; the others are named in `left_out`.
std::vector<Block> gather_blocks(std::span<const Unit> units, std::vector<int>& left_out) {
  std::map<int, Block> by_number;
  for (std::size_t u = 0; u < units.size(); ++u) {
    Block& block = by_number[units[u].block];
    block.units.push_back(u);
    if (units[u].treated) ++block.treated;
  }
  std::vector<Block> kept;
  double all = 0;
  for (auto& [number, block] : by_number) {
    if (block.treated == 0 || block.treated == block.units.size()) {
      left_out.push_back(number);
      continue;
    }
    all += static_cast<double>(block.units.size());
    kept.push_back(std::move(block));
  }
  for (auto& block : kept) block.share = static_cast<double>(block.units.size()) / all;
  return kept;
}

// Labels of the kept units, one row a re-labelling; the actual one is row `actual`.
struct Relabellings {
  std::size_t columns = 0, actual = 0;
  std::vector<char> labels;
  std::size_t count() const { return labels.size() / columns; }
};

Relabellings enumerate(std::span<const Block> blocks, const std::vector<char>& actual) {
  Relabellings made;
  made.columns = actual.size();
  std::vector<char> row(actual);
  // Each block's labels begin at their first arrangement and are stepped like an odometer.
  auto begin = row.begin();
  for (const auto& block : blocks) {
    const auto end = begin + static_cast<std::ptrdiff_t>(block.units.size());
    std::sort(begin, end);
    begin = end;
  }
  for (bool more = true; more;) {
    if (row == actual) made.actual = made.count();
    made.labels.insert(made.labels.end(), row.begin(), row.end());
    more = false;
    auto from = row.begin();
    for (const auto& block : blocks) {
      const auto to = from + static_cast<std::ptrdiff_t>(block.units.size());
      if (std::next_permutation(from, to)) {
        more = true;
        break;
      }
      from = to;
    }
  }
  return made;
}

Relabellings draw(std::span<const Block> blocks, const std::vector<char>& actual,
                  std::uint64_t seed) {
  Relabellings made;
  made.columns = actual.size();
  made.labels.reserve(drawn_in_all * actual.size());
  made.labels = actual;
  Random random(seed);
  std::vector<char> row(actual);
  for (std::size_t i = 1; i < drawn_in_all; ++i) {
    std::size_t from = 0;
    for (const auto& block : blocks) {
      random.shuffle(std::span<char>(row.data() + from, block.units.size()));
      from += block.units.size();
    }
    made.labels.insert(made.labels.end(), row.begin(), row.end());
  }
  return made;
}

double area(const FollowedSowing& sowing, int day) {
  double sum = 0;
  for (std::size_t i = 0; i < sowing.counts.size(); ++i) {
    const int from = sowing.counts[i].day;
    if (from > day) break;
    const int to = i + 1 < sowing.counts.size() ? std::min(sowing.counts[i + 1].day - 1, day) : day;
    sum += static_cast<double>(to - from + 1) * static_cast<double>(sowing.counts[i].up);
  }
  return sum / static_cast<double>(sowing.sown);
}

// Adds to C the `allowed` labellings farthest out, whole groups of ties or none.
void grow(std::span<const double> distance, std::size_t allowed, std::vector<char>& in_c,
          std::size_t& size) {
  std::vector<std::pair<double, std::size_t>> outside;
  for (std::size_t z = 0; z < distance.size(); ++z)
    if (in_c[z] == 0) outside.emplace_back(distance[z], z);
  const std::size_t ranked = std::min(allowed + 1, outside.size());
  const auto last = outside.begin() + static_cast<std::ptrdiff_t>(ranked);
  std::partial_sort(outside.begin(), last, outside.end(), std::greater<>());
  std::size_t take = std::min(allowed, outside.size());
  while (take > 0 && take < ranked && outside[take - 1].first - outside[take].first <= tie) --take;
  for (std::size_t i = 0; i < take; ++i) in_c[outside[i].second] = 1;
  size += take;
}

}  // namespace

SequentialRandomisation sequential_randomisation(std::span<const FollowedSowing> sowings,
                                                 int planned_last_day, int until,
                                                 std::uint64_t seed, double alpha) {
  check_followed(sowings);
  if (planned_last_day < 1) throw std::domain_error("the planned last day must be day 1 or later");
  if (!(alpha > 0 && alpha < 1)) throw std::domain_error("the error allowed must lie in (0, 1)");
  SequentialRandomisation made;
  const auto units = gather_units(sowings);
  const auto blocks = gather_blocks(units, made.blocks_left_out);
  if (blocks.empty()) {
    made.status = SequentialStatus::one_treatment;
    made.can_claim = false;
    made.arrangements = 1;
    return made;
  }
  std::vector<BlockLayout> layout;
  std::vector<std::size_t> order;  // units by column
  std::vector<char> actual;
  for (const auto& block : blocks) {
    layout.push_back(
        {static_cast<int>(block.treated), static_cast<int>(block.units.size() - block.treated)});
    for (const std::size_t u : block.units) {
      order.push_back(u);
      actual.push_back(units[u].treated ? 1 : 0);
    }
  }
  made.smallest_p = smallest_randomisation_p(layout);
  made.can_claim = made.smallest_p <= alpha;
  made.exact = arrangements(layout) <= most_enumerated;
  const auto relabellings = made.exact ? enumerate(blocks, actual) : draw(blocks, actual, seed);
  const std::size_t count = relabellings.count();
  made.arrangements = count;

  std::vector<char> in_c(count, 0);
  std::vector<double> distance(count), treated(order.size()), control(order.size());
  std::size_t size = 0;
  for (const int day : trial_looks(sowings, until)) {
    std::size_t column = 0;
    for (const auto& block : blocks) {
      const double yes = static_cast<double>(block.treated);
      const double no = static_cast<double>(block.units.size()) - yes;
      for (const std::size_t u : block.units) {
        double score = 0;
        for (const std::size_t i : units[u].sowings) score += area(sowings[i], day);
        score *= block.share / static_cast<double>(units[u].sowings.size());
        treated[column] = score / yes;
        control[column++] = -score / no;
      }
    }
    double signed_actual = 0;
    for (std::size_t z = 0; z < count; ++z) {
      const char* label = relabellings.labels.data() + z * relabellings.columns;
      double sum = 0;
      for (std::size_t c = 0; c < column; ++c) sum += label[c] != 0 ? treated[c] : control[c];
      if (z == relabellings.actual) signed_actual = sum;
      distance[z] = std::fabs(sum);
    }
    const double spent = alpha * std::min(1.0, static_cast<double>(day) / planned_last_day);
    const auto budget =
        static_cast<std::size_t>(std::floor(spent * static_cast<double>(count) + 1e-9));
    if (budget > size) grow(distance, budget - size, in_c, size);
    const bool claimed = in_c[relabellings.actual] != 0;
    if (claimed && !made.claimed) made.claimed_on = day;
    made.claimed = claimed;
    made.first_ahead = signed_actual > 0;
    made.looks.push_back({day, static_cast<double>(size) / static_cast<double>(count),
                          distance[relabellings.actual], claimed});
  }
  if (made.looks.empty()) made.status = SequentialStatus::no_looks;
  return made;
}

}  // namespace plumule::stats
