// Which treatments strata tie together, and how strata weigh in the means.
#include "stats/stand/layout.hpp"

#include <algorithm>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("one stratum ties every treatment that has units") {
  const auto layout = lay_out(
      std::vector<PlacedUnit>{{0, 7, 3, 10}, {2, 7, 4, 20}, {0, 7, 5, 10}, {2, 7, 9, 10}}, 3);
  CHECK(layout.tied == std::vector<int>{0, -1, 0});
  CHECK(layout.units == std::vector<int>{2, 0, 2});
  CHECK(layout.share == std::vector<double>{1});
  CHECK_FALSE(layout.gaps_filled[0]);
  CHECK(layout.rank == 2);
  CHECK(layout.df == 2);
  CHECK_CLOSE(layout.harmonic, 4 / (3 * 0.1 + 0.05), 1e-15);
  REQUIRE(layout.cells.size() == 2);
  REQUIRE(layout.cells[0].groups.size() == 1);
  CHECK(layout.cells[0].groups[0].units == 2);
  CHECK_CLOSE(layout.cells[0].groups[0].mean, 0.4, 1e-15);
  CHECK_CLOSE(layout.cells[0].groups[0].squares, 0.02, 1e-13);
  CHECK(layout.cells[1].groups.size() == 2);
}

TEST_CASE("only strata that hold every treatment weigh, by their units") {
  // Stratum 1: 4 and 1; stratum 2: none and 4; stratum 3: 1 and 1.
  std::vector<PlacedUnit> units;
  for (int i = 0; i < 4; ++i) units.push_back({1, 1, 5, 10});
  for (int i = 0; i < 4; ++i) units.push_back({0, 2, 5, 10});
  units.insert(units.end(), {{0, 1, 5, 10}, {0, 3, 5, 10}, {1, 3, 5, 10}});
  const auto layout = lay_out(units, 2);
  CHECK_CLOSE(layout.share[0], 5.0 / 7, 1e-15);
  CHECK(layout.share[1] == 0);
  CHECK_CLOSE(layout.share[2], 2.0 / 7, 1e-15);
  CHECK(layout.rank == 4);
  CHECK(layout.df == 7);
}

TEST_CASE("where no stratum holds every treatment all weigh, and it says so") {
  const auto layout = lay_out(std::vector<PlacedUnit>{{0, 0, 5, 10},
                                                      {1, 0, 5, 10},
                                                      {1, 1, 5, 10},
                                                      {2, 1, 5, 10},
                                                      {2, 1, 5, 10},
                                                      {0, 2, 5, 10},
                                                      {2, 2, 5, 10}},
                              3);
  CHECK(layout.gaps_filled[0]);
  CHECK_CLOSE(layout.share[0], 2.0 / 7, 1e-15);
  CHECK_CLOSE(layout.share[1], 3.0 / 7, 1e-15);
  CHECK(layout.tied == std::vector<int>{0, 0, 0});
}

TEST_CASE("a stratum a treatment ties nothing; chains do") {
  const auto apart =
      lay_out(std::vector<PlacedUnit>{{0, 0, 5, 10}, {0, 0, 6, 10}, {1, 1, 5, 10}}, 2);
  CHECK(apart.tied == std::vector<int>{0, 1});
  CHECK(apart.rank == 2);
  const auto pairs = lay_out(
      std::vector<PlacedUnit>{{0, 0, 5, 10}, {1, 0, 6, 10}, {2, 1, 5, 10}, {3, 1, 5, 10}}, 4);
  CHECK(pairs.tied == std::vector<int>{0, 0, 1, 1});
  CHECK(pairs.share == std::vector<double>{1, 1});
  CHECK(pairs.rank == 4);
  CHECK(pairs.df == 0);
}

TEST_CASE("treatments tied early stay tied when a later stratum ties one of them to others") {
  const auto layout = lay_out(
      std::vector<PlacedUnit>{
          {1, 0, 5, 10}, {2, 0, 6, 10}, {3, 0, 6, 10}, {0, 1, 5, 10}, {1, 1, 5, 10}, {4, 2, 5, 10}},
      5);
  CHECK(layout.tied == std::vector<int>{0, 0, 0, 0, 1});
  CHECK(layout.rank == 6);
}

TEST_CASE("the order of units and the names of strata are nothing") {
  std::vector<PlacedUnit> units{{0, 5, 5, 10}, {1, 5, 6, 20}, {0, -3, 5, 10}, {1, -3, 7, 10}};
  const auto one = lay_out(units, 2);
  std::reverse(units.begin(), units.end());
  const auto other = lay_out(units, 2);
  for (std::size_t c = 0; c < one.cells.size(); ++c)
    CHECK(one.cells[c].groups[0].mean == other.cells[c].groups[0].mean);
  CHECK(one.share == other.share);
}

TEST_CASE("counts and treatments that cannot be are refused") {
  CHECK_THROWS_AS(lay_out(std::vector<PlacedUnit>{{0, 0, 11, 10}}, 1), std::domain_error);
  CHECK_THROWS_AS(lay_out(std::vector<PlacedUnit>{{0, 0, 0, 0}}, 1), std::domain_error);
  CHECK_THROWS_AS(lay_out(std::vector<PlacedUnit>{{1, 0, 1, 10}}, 1), std::domain_error);
  CHECK_THROWS_AS(lay_out(std::vector<PlacedUnit>{{-1, 0, 1, 10}}, 1), std::domain_error);
  CHECK_THROWS_AS(lay_out({}, 0), std::domain_error);
  CHECK(lay_out({}, 1).cells.empty());
}
