// Blocks as textbooks work them by hand: a split of the sums of squares, and what is left of a
// treatment when the blocks it lay in are taken out.
#include <array>
#include <cmath>
#include <vector>

#include "stats/stand/contrast.hpp"
#include "stats/trays/rho_prior.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using namespace plumule::tests;

namespace {

StandModel model_of(const std::vector<PlacedUnit>& units, int treatments) {
  return StandModel(units, treatments, rho_from_beta(24));
}

}  // namespace

// Soybeans of 100 planted that failed: no treatment and four, in five replications (Snedecor and
// Cochran, Statistical Methods, one way and two way classifications; from memory, and the totals
// and squares that the book gives agree with the figures as remembered).
TEST_CASE("randomised blocks: seeds that failed of 100, none and four treatments") {
  constexpr int failed[5][5] = {
      {8, 10, 12, 13, 11}, {2, 6, 7, 11, 5}, {4, 10, 9, 8, 10}, {3, 5, 9, 10, 6}, {9, 7, 5, 5, 3}};
  std::vector<PlacedUnit> units;
  std::array<double, 5> mean{}, block{};
  double grand = 0, squares = 0;
  for (int t = 0; t < 5; ++t)
    for (int b = 0; b < 5; ++b) {
      const int x = failed[t][b];
      units.push_back({t, b, 100 - x, 100});
      mean[static_cast<std::size_t>(t)] += x / 5.0;
      block[static_cast<std::size_t>(b)] += x / 5.0;
      grand += x / 25.0;
      squares += x * x;
    }
  // The book's split: treatments 83.84, replications 49.84, error 86.56 on 16 df, mean square 5.41.
  double of_treatments = 0, of_blocks = 0;
  for (std::size_t i = 0; i < 5; ++i) {
    of_treatments += 5 * (mean[i] - grand) * (mean[i] - grand);
    of_blocks += 5 * (block[i] - grand) * (block[i] - grand);
  }
  CHECK_WITHIN(of_treatments, 83.84, 0.005);
  CHECK_WITHIN(of_blocks, 49.84, 0.005);
  CHECK_WITHIN(squares - 25 * grand * grand - of_treatments - of_blocks, 86.56, 0.005);

  // The book's differences, and half its range: t of 16 df times the root of 2/5 of 5.41, 3.12
  // failures. The model never takes trays for more alike than seeds by themselves make them, which
  // these are, so its range holds the book's, and is little wider than independent seeds have it.
  const auto model = model_of(units, 5);
  CHECK(model.df() == 16);
  for (int t = 1; t < 5; ++t) {
    const double had = mean[static_cast<std::size_t>(t)] / 100, none = mean[0] / 100;
    const auto c = contrast(model, t, 0);
    CHECK_WITHIN(c.estimate, none - had, 1e-9);
    const double half = (c.range.upper - c.range.lower) / 2;
    const double by_seeds = 2.120 * std::sqrt((had * (1 - had) + none * (1 - none)) / 500);
    CHECK(half > 0.0312);
    CHECK(half > by_seeds);
    CHECK(half < 1.2 * by_seeds);
  }
  // The two that the book's 3.12 clears by most are told from none, the one that it does not clear
  // is not.
  CHECK(contrast(model, 4, 0).tail() < 0.05);
  CHECK(contrast(model, 1, 0).tail() < 0.05);
  CHECK(contrast(model, 2, 0).tail() > 0.2);
}

// A balanced incomplete block: four treatments, four blocks of three (the worked example of
// Montgomery, Design and Analysis of Experiments, from memory; there times, here seedlings of 100).
// Plain means put the fourth 1.33 above the first; within blocks it is 29/8.
TEST_CASE("incomplete blocks: what treatments differ by once blocks are taken out") {
  constexpr int seen[4][4] = {
      {73, 74, -1, 71}, {-1, 75, 67, 72}, {73, 75, 68, -1}, {75, -1, 72, 75}};
  constexpr double eighths[] = {-9, -7, -4, 20};  // the book's intrablock effects
  std::vector<PlacedUnit> units;
  for (int t = 0; t < 4; ++t)
    for (int b = 0; b < 4; ++b)
      if (seen[t][b] >= 0) units.push_back({t, b, seen[t][b], 100});
  const auto model = model_of(units, 4);
  CHECK(model.df() == 5);
  for (int t = 0; t < 4; ++t)
    for (int u = 0; u < t; ++u) {
      const auto c = contrast(model, t, u);
      CHECK(c.gaps_filled);
      CHECK_WITHIN(c.estimate, (eighths[t] - eighths[u]) / 800, 0.001);
    }
}

// Seeds of a parasitic plant by variety and extract, in plates (Crowder 1978), as a logistic model
// with normal plates has them (Breslow and Clayton 1993, table of the full model; from memory) and
// a printed fit by Laplace's method: the extract does 1.337 (0.237) in one variety, 0.53 (0.30) in
// the other, on the logit scale.
TEST_CASE("plates with four groups against published mixed models") {
  std::vector<PlacedUnit> groups;
  for (const Row& row : read_csv("data/crowder_seeds.csv"))
    groups.push_back({static_cast<int>(number(row, "x1") + 2 * number(row, "x2")), 0,
                      static_cast<std::int64_t>(number(row, "germ")),
                      static_cast<std::int64_t>(number(row, "n"))});
  const auto model = model_of(groups, 4);
  const auto fraction = [](double logit) { return 1 / (1 + std::exp(-logit)); };
  struct Published {
    int none, extract;
    double logit, effect, error;
  };
  for (const auto& [none, extract, logit, effect, error] :
       {Published{0, 2, -0.546, 1.337, 0.237}, Published{1, 3, -0.45, 0.53, 0.30}}) {
    const auto c = contrast(model, extract, none);
    const double low = fraction(logit), high = fraction(logit + effect);
    CHECK_WITHIN(c.estimate, high - low, 0.005);
    // Maximum likelihood takes its spread of plates as known; t of 17 df alone adds 8 %.
    const double half = 1.96 * error * (low * (1 - low) + high * (1 - high)) / 2;
    CHECK((c.range.upper - c.range.lower) / 2 > half);
    CHECK((c.range.upper - c.range.lower) / 2 < 1.3 * half);
  }
  CHECK(contrast(model, 2, 0).tail() < 0.001);
  CHECK(contrast(model, 3, 1).tail() > 0.05);
}
