// The randomisation test: Darwin's maize, known smallest p values, and brute force over all labels.
#include "stats/trials/randomisation.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

using Units = std::vector<RandomisedUnit>;

// The difference straight from its definition.
double difference(const Units& units) {
  std::map<int, Units> blocks;
  for (const RandomisedUnit& u : units) blocks[u.block].push_back(u);
  double all = 0, sum = 0;
  for (const auto& [name, block] : blocks) {
    double t = 0, c = 0, nt = 0, nc = 0;
    for (const RandomisedUnit& u : block) {
      (u.treated ? t : c) += u.value;
      (u.treated ? nt : nc) += 1;
    }
    if (nt == 0 || nc == 0) continue;
    const double n = static_cast<double>(block.size());
    sum += n * (t / nt - c / nc);
    all += n;
  }
  return sum / all;
}

// Every way to put the labels within blocks: all 2^n labellings, those kept that leave each block's
// number of treated as it is.
std::vector<double> all_differences(const Units& units) {
  std::map<int, int> treated;
  for (const RandomisedUnit& u : units) treated[u.block] += u.treated ? 1 : 0;
  std::vector<double> result;
  for (unsigned labels = 0; labels < 1U << units.size(); ++labels) {
    Units relabelled = units;
    std::map<int, int> now;
    for (std::size_t i = 0; i < units.size(); ++i) {
      relabelled[i].treated = ((labels >> i) & 1U) != 0;
      now[units[i].block] += relabelled[i].treated ? 1 : 0;
    }
    bool same = true;
    for (const auto& [block, count] : treated) same = same && now[block] == count;
    if (same) result.push_back(difference(relabelled));
  }
  return result;
}

// p by the two-sided distance from the mean of all.
double brute(const Units& units) {
  const std::vector<double> all = all_differences(units);
  double mean = 0;
  for (const double d : all) mean += d / static_cast<double>(all.size());
  const double seen = std::fabs(difference(units) - mean);
  const auto far = std::count_if(all.begin(), all.end(),
                                 [&](double d) { return std::fabs(d - mean) >= seen - 1e-9; });
  return static_cast<double>(far) / static_cast<double>(all.size());
}

Units random_units(Random& random, bool ties) {
  Units units;
  const int blocks = 1 + static_cast<int>(random.below(3));
  for (int i = 0; i < 9; ++i)
    units.push_back({std::string(1, static_cast<char>('a' + i)),
                     static_cast<int>(random.below(static_cast<std::uint32_t>(blocks))),
                     random.below(2) == 0, ties ? random.below(4) / 10.0 : random.unit()});
  return units;
}

Units layout(const std::vector<BlockLayout>& blocks, Random& random) {
  Units units;
  int block = 0;
  for (const BlockLayout& b : blocks) {
    for (int i = 0; i < b.treated + b.control; ++i)
      units.push_back({std::to_string(i), block, i < b.treated, random.unit()});
    ++block;
  }
  return units;
}

}  // namespace

TEST_CASE("Darwin's fifteen pairs of maize, as Fisher counted them") {
  // Fisher 1935, The Design of Experiments, section 21 (from memory): differences in eighths of an
  // inch; 863 of the 32,768 ways reach the sum of 314, so p = 1,726 / 32,768 = 5.267 %.
  const std::vector<double> differences{49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48};
  Units units;
  for (std::size_t i = 0; i < differences.size(); ++i) {
    units.push_back({"crossed", static_cast<int>(i), true, differences[i]});
    units.push_back({"selfed", static_cast<int>(i), false, 0});
  }
  const Randomisation r = randomisation_test(units);
  CHECK(r.exact);
  CHECK(r.arrangements == 32768);
  CHECK_CLOSE(r.p, 1726.0 / 32768, 1e-12);
  CHECK_CLOSE(r.difference, 314.0 / 15, 1e-12);
  CHECK_CLOSE(r.smallest_p, 2.0 / 32768, 1e-12);
}

TEST_CASE("the exact p is that of every labelling one by one") {
  Random random(5);
  int checked = 0, left_out = 0;
  for (int i = 0; i < 150; ++i) {
    const Units units = random_units(random, i % 2 == 0);
    const Randomisation r = randomisation_test(units);
    if (r.status == RandomisationStatus::no_block) continue;
    REQUIRE(r.exact);
    left_out += static_cast<int>(r.blocks_left_out.size());
    CHECK_CLOSE(r.p, brute(units), 1e-12);
    CHECK_WITHIN(r.difference, difference(units), 1e-12);
    CHECK_CLOSE(r.arrangements, static_cast<double>(all_differences(units).size()), 1e-12);
    CHECK(r.p >= r.smallest_p - 1e-12);
    ++checked;
  }
  CHECK(checked > 120);
  CHECK(left_out > 5);
}

TEST_CASE("the smallest p a layout can give") {
  const auto smallest = [](std::vector<BlockLayout> blocks) {
    return smallest_randomisation_p(blocks);
  };
  CHECK_CLOSE(smallest({{2, 2}}), 1.0 / 3, 1e-14);
  CHECK_CLOSE(smallest({{3, 3}}), 0.1, 1e-14);
  CHECK_CLOSE(smallest({{2, 2}, {2, 2}}), 2.0 / 36, 1e-14);
  CHECK_CLOSE(smallest({{2, 2}, {2, 1}}), 1.0 / 18, 1e-14);  // one tray lost
  CHECK_CLOSE(smallest({{1, 1}, {1, 1}, {1, 1}, {1, 1}}), 2.0 / 16, 1e-14);
  CHECK_CLOSE(smallest({{1, 3}}), 0.25, 1e-14);
  CHECK_CLOSE(smallest({{1, 1}}), 1, 1e-14);
  CHECK_CLOSE(smallest({{12, 12}}), 2.0 / 2704156, 1e-12);
  CHECK(smallest({{0, 4}}) == 1);
  CHECK(smallest({}) == 1);
  CHECK_CLOSE(smallest({{2, 2}, {3, 0}}), 1.0 / 3, 1e-14);
  CHECK_THROWS_AS(smallest({{-1, 2}}), std::domain_error);
  // It is reached: values without ties, and the labelling that is furthest out.
  Random random(9);
  for (const std::vector<BlockLayout>& blocks : {std::vector<BlockLayout>{{2, 2}},
                                                 {{3, 3}},
                                                 {{2, 2}, {2, 1}},
                                                 {{1, 3}, {2, 1}},
                                                 {{4, 2}},
                                                 {{1, 1}, {1, 1}, {1, 1}},
                                                 {{2, 2}, {1, 1}}}) {
    const Units units = layout(blocks, random);
    double least = 1;
    const std::vector<double> all = all_differences(units);
    for (const double seen : all) {
      const auto far = std::count_if(
          all.begin(), all.end(), [&](double d) { return std::fabs(d) >= std::fabs(seen) - 1e-9; });
      least = std::min(least, static_cast<double>(far) / static_cast<double>(all.size()));
    }
    CHECK_CLOSE(smallest_randomisation_p(blocks), least, 1e-12);
    CHECK_CLOSE(randomisation_test(units).smallest_p, least, 1e-12);
  }
}

TEST_CASE("the order given is nothing, and exchanging the treatments leaves p, drawn or not") {
  Random random(3);
  for (const std::vector<BlockLayout>& blocks :
       {std::vector<BlockLayout>{{4, 5}}, {{12, 12}}, {{6, 6}, {5, 7}, {9, 4}}}) {
    Units units = layout(blocks, random);
    const Randomisation first = randomisation_test(units);
    random.shuffle(std::span(units));
    CHECK(randomisation_test(units).p == first.p);
    CHECK_CLOSE(randomisation_test(units).difference, first.difference, 1e-12);
    for (RandomisedUnit& u : units) u.treated = !u.treated;
    CHECK(randomisation_test(units).p == first.p);
    CHECK_CLOSE(randomisation_test(units).difference, -first.difference, 1e-12);
  }
}

TEST_CASE("beyond 200,000 arrangements the p is drawn, near the exact one") {
  // Two equal halves of 20: the exact p by enumeration of all 184,756 at 10 + 10, then one block
  // more that cannot matter (equal values) takes it past the limit.
  Random random(21);
  Units units = layout({{10, 10}}, random);
  for (RandomisedUnit& u : units) u.value += u.treated ? 0.2 : 0;
  const Randomisation exact = randomisation_test(units);
  REQUIRE(exact.exact);
  units.push_back({"x", 7, true, 0.5});
  units.push_back({"y", 7, false, 0.5});
  const Randomisation drawn = randomisation_test(units);
  CHECK_FALSE(drawn.exact);
  CHECK(drawn.draws == 99999);
  CHECK(drawn.arrangements == 2 * exact.arrangements);
  CHECK_WITHIN(drawn.p, exact.p, 4 * std::sqrt(exact.p * (1 - exact.p) / 99999));
  CHECK(randomisation_test(units).p == drawn.p);
  CHECK(randomisation_test(units, 8).p != drawn.p);
  CHECK(randomisation_test(units, 8).seed == 8);
}

TEST_CASE("the actual labelling is among those drawn") {
  Random random(2);
  Units units = layout({{13, 13}}, random);
  for (RandomisedUnit& u : units) u.value += u.treated ? 10 : 0;
  CHECK_CLOSE(randomisation_test(units).p, 1e-5, 1e-9);
}

TEST_CASE("equal values tie in spite of rounding") {
  // 0.1 + 0.2 is not 0.3 in binary; all the same every labelling is as far out.
  const Units units{{"a", 0, true, 0.1 + 0.2},
                    {"b", 0, true, 0.3},
                    {"c", 0, false, 0.3},
                    {"d", 0, false, 0.1 + 0.2}};
  CHECK(randomisation_test(units).p == 1);
}

TEST_CASE("blocks without both are named, and nothing left is said") {
  const Units units{{"a", 3, true, 1}, {"b", 3, false, 2}, {"c", 9, true, 1}, {"d", -2, false, 4}};
  const Randomisation r = randomisation_test(units);
  CHECK(r.blocks_left_out == std::vector<int>{-2, 9});
  CHECK(r.treated == 1);
  CHECK(r.control == 1);
  CHECK(r.difference == -1);
  const Randomisation none = randomisation_test(Units{{"a", 0, true, 1}, {"b", 1, false, 2}});
  CHECK(none.status == RandomisationStatus::no_block);
  CHECK(none.p == 1);
  CHECK(none.smallest_p == 1);
  CHECK(randomisation_test(Units{}).status == RandomisationStatus::no_block);
  CHECK_THROWS_AS(
      randomisation_test(Units{{"a", 0, true, std::numeric_limits<double>::quiet_NaN()}}),
      std::domain_error);
  CHECK_THROWS_AS(randomisation_test(units, 1, 0), std::domain_error);
}
