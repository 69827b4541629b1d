// The global permutation test: brute force over every labelling, and the two-treatment case.
#include "stats/trials/global_test.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

using Units = std::vector<TreatedUnit>;

Units some(Random& random, const std::vector<std::vector<int>>& blocks) {
  Units units;
  for (std::size_t b = 0; b < blocks.size(); ++b)
    for (std::size_t i = 0; i < blocks[b].size(); ++i)
      units.push_back({std::to_string(i), static_cast<int>(b), blocks[b][i], random.unit()});
  return units;
}

// From the definition: fit block means, then treatment sums of what is left.
double statistic(const Units& units) {
  std::map<int, std::pair<double, double>> blocks, treatments;
  for (const TreatedUnit& u : units) {
    blocks[u.block].first += u.value;
    blocks[u.block].second += 1;
  }
  for (const TreatedUnit& u : units) {
    treatments[u.treatment].first += u.value - blocks[u.block].first / blocks[u.block].second;
    treatments[u.treatment].second += 1;
  }
  double sum = 0;
  for (const auto& [name, t] : treatments) sum += t.first * t.first / t.second;
  return sum;
}

// Statistics of every labelling: all products of treatments that keep each block's own numbers.
std::vector<double> all_statistics(const Units& units) {
  std::map<std::pair<int, int>, int> want;
  std::vector<int> names;
  for (const TreatedUnit& u : units) {
    ++want[{u.block, u.treatment}];
    if (std::find(names.begin(), names.end(), u.treatment) == names.end())
      names.push_back(u.treatment);
  }
  std::vector<double> result;
  std::vector<std::size_t> digits(units.size());
  for (;;) {
    Units relabelled = units;
    std::map<std::pair<int, int>, int> have;
    for (std::size_t i = 0; i < units.size(); ++i) {
      relabelled[i].treatment = names[digits[i]];
      ++have[{units[i].block, relabelled[i].treatment}];
    }
    if (have == want) result.push_back(statistic(relabelled));
    std::size_t i = 0;
    while (i < digits.size() && ++digits[i] == names.size()) digits[i++] = 0;
    if (i == digits.size()) return result;
  }
}

double share(const std::vector<double>& all, double seen) {
  return static_cast<double>(
             std::count_if(all.begin(), all.end(), [&](double s) { return s >= seen - 1e-9; })) /
         static_cast<double>(all.size());
}

}  // namespace

TEST_CASE("the global p and the smallest one are those of every labelling") {
  Random random(4);
  for (const std::vector<std::vector<int>>& blocks :
       {std::vector<std::vector<int>>{{1, 1, 2, 2, 3, 3}},
        {{1, 2, 3}, {1, 2, 3}},
        {{1, 1, 2}, {2, 3, 3}},
        {{5, 5, 5, 8}, {8, 9}},
        {{1, 2, 3, 3}, {1, 2}}}) {
    const Units units = some(random, blocks);
    const std::vector<double> all = all_statistics(units);
    const GlobalTest g = global_randomisation_test(units);
    CHECK(g.exact);
    CHECK_CLOSE(g.arrangements, static_cast<double>(all.size()), 1e-12);
    CHECK_CLOSE(g.between, statistic(units), 1e-11);
    CHECK_CLOSE(g.p, share(all, statistic(units)), 1e-12);
    CHECK_CLOSE(g.smallest_p, share(all, *std::max_element(all.begin(), all.end())), 1e-12);
  }
}

TEST_CASE("two treatments in one block: the randomisation test itself") {
  Random random(6);
  const Units units = some(random, {{1, 1, 1, 2, 2, 2, 2}});
  std::vector<RandomisedUnit> two;
  for (const TreatedUnit& u : units) two.push_back({u.code, u.block, u.treatment == 1, u.value});
  CHECK_CLOSE(global_randomisation_test(units).p, randomisation_test(two).p, 1e-12);
  CHECK_CLOSE(global_randomisation_test(units).smallest_p, randomisation_test(two).smallest_p,
              1e-12);
}

TEST_CASE("many units are drawn, and order is nothing") {
  Random random(8);
  Units units = some(random, {{1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3}, {1, 1, 2, 2, 3, 3}});
  const GlobalTest first = global_randomisation_test(units);
  CHECK_FALSE(first.exact);
  CHECK(first.draws == default_draws);
  CHECK(first.arrangements == 34650.0 * 90);
  random.shuffle(std::span(units));
  CHECK(global_randomisation_test(units).p == first.p);
  for (TreatedUnit& u : units) u.value += u.treatment * 5;
  CHECK(global_randomisation_test(units).p < 2e-4);
}

TEST_CASE("blocks of one treatment are named by the global test") {
  const Units units{{"a", 1, 1, 0.5}, {"b", 1, 2, 0.7}, {"c", 4, 1, 0.2}, {"d", 4, 1, 0.3}};
  const GlobalTest g = global_randomisation_test(units);
  CHECK(g.blocks_left_out == std::vector<int>{4});
  CHECK(g.p == 1);
  CHECK(global_randomisation_test(Units{}).status == RandomisationStatus::no_block);
  CHECK_THROWS_AS(global_randomisation_test(units, 1, 0), std::domain_error);
}
