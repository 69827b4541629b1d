// Claims by differences within blocks: when a layout allows them, what they rest on, and how many
// blocks would tell.
#include "stats/trials/block_evidence.hpp"

#include <stdexcept>
#include <vector>

#include "stats/trials/claims.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

using Values = std::vector<StratumValue>;

// Pairs whose second values are 0.3, 0.4, ..., and whose first lie that far above them.
struct Pairs {
  Values first, second;
};
Pairs pairs(const std::vector<double>& apart) {
  Pairs made;
  for (std::size_t i = 0; i < apart.size(); ++i) {
    const int block = static_cast<int>(i);
    made.second.push_back({0.3 + 0.1 * block, block});
    made.first.push_back({made.second.back().value + apart[i], block});
  }
  return made;
}

StandEvidence evidence(const Pairs& p, double lots_p = 0.5, double d = 0.10) {
  return stand_evidence_within_blocks(p.first, p.second, lots_p, d);
}

StandClaim claim(const Pairs& p, double lots_p = 0.5, double d = 0.10) {
  return stand_claim(evidence(p, lots_p, d));
}

}  // namespace

TEST_CASE("six pairs, or two blocks of two and two, are judged within blocks, and no less") {
  const auto judged = [](const std::vector<BlockLayout>& blocks) {
    return judged_within_blocks(blocks);
  };
  CHECK(judged(std::vector<BlockLayout>(6, {1, 1})));
  CHECK_FALSE(judged(std::vector<BlockLayout>(5, {1, 1})));  // 4 df
  CHECK_FALSE(judged(std::vector<BlockLayout>(4, {1, 1})));
  CHECK(judged({{2, 2}, {2, 2}}));
  CHECK_FALSE(judged({{6, 6}}));  // one block is no blocks
  CHECK_FALSE(judged({{6, 6}, {3, 0}, {0, 2}}));
  CHECK(judged({{2, 1}, {1, 2}, {2, 1}}));
  CHECK_FALSE(judged({{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {5, 0}}));  // a half one adds none
  CHECK_FALSE(judged({}));
}

TEST_CASE("a claim goes by the paired t where each block is a pair") {
  // R 4.2, t.test(c(0.08, 0.10, 0.16, 0.12, 0.10, 0.16)): p = 0.0003174
  const auto sure = evidence(pairs({0.08, 0.10, 0.16, 0.12, 0.10, 0.16}));
  CHECK(stand_claim(sure) == StandClaim::more);
  CHECK(sure.within == Within::blocks);
  CHECK_WITHIN(*sure.t_p(), 0.0003174, 5e-8);
  CHECK_CLOSE(sure.t.difference, 0.12, 1e-12);
  const auto turned = pairs({-0.08, -0.10, -0.16, -0.12, -0.10, -0.16});
  CHECK(claim(turned) == StandClaim::fewer);
  // R 4.2, t.test(c(-0.06, 0.26, 0.10, 0.02, 0.18, 0.10)): p = 0.0826566
  const auto unsure = evidence(pairs({-0.06, 0.26, 0.10, 0.02, 0.18, 0.10}));
  CHECK(stand_claim(unsure) == StandClaim::none);
  CHECK_WITHIN(*unsure.t_p(), 0.0826566, 5e-8);
}

TEST_CASE("neither goes by the 90 % interval within blocks") {
  // R 4.2, t.test(c(0.01, -0.02, 0.03, 0, -0.01, 0.02), conf.level = 0.9): -0.01039018617 to
  // 0.02039018617
  const auto alike = pairs({0.01, -0.02, 0.03, 0.0, -0.01, 0.02});
  CHECK(claim(alike, 0.5, 0.02039018617 + 1e-6) == StandClaim::neither);
  CHECK(claim(alike, 0.5, 0.02039018617 - 1e-6) == StandClaim::none);
}

TEST_CASE("differences that do not vary at all ask the drawing of lots") {
  const auto flat = pairs({0.12, 0.12, 0.12, 0.12, 0.12, 0.12});
  CHECK(claim(flat, 1.0 / 32) == StandClaim::more);
  CHECK_FALSE(evidence(flat).t_p().has_value());
  CHECK(claim(flat, 0.0625) == StandClaim::none);
  CHECK(claim(pairs({0, 0, 0, 0, 0, 0}), 1.0 / 32) == StandClaim::none);
}

TEST_CASE("what the blocks do moves nothing") {
  auto p = pairs({0.08, 0.10, 0.16, 0.02, 0.10, 0.16});
  const auto before = evidence(p);
  for (auto* side : {&p.first, &p.second})
    for (auto& value : *side) value.value += 0.07 * value.stratum * value.stratum - 0.2;
  CHECK_CLOSE(*evidence(p).t_p(), *before.t_p(), 1e-9);
  CHECK(claim(p) == stand_claim(before));
}

TEST_CASE("blocks that would tell: the power of the paired t") {
  // R 4.2, power.t.test(delta = 0.1, sd = 0.1131371, type = "paired", strict = TRUE): 0.7958 for
  // 12, 0.9101 for 16
  const auto p = pairs({-0.06, 0.26, 0.10, 0.02, 0.18, 0.10});
  const auto told = blocks_to_tell(p.first, p.second, 1e-9);
  REQUIRE(told.blocks);
  CHECK(*told.blocks == 16);
  CHECK_WITHIN(told.chance, 0.9101435, 0.0136);  // three standard errors of 4,000 draws
  // Alike within a hair: nothing to find, and `neither` is found at once.
  const auto alike = pairs({0.001, -0.001, 0.001, 0, -0.001, 0.0});
  CHECK(blocks_to_tell(alike.first, alike.second).blocks == 6);
  // Blocks that disagree so about half of what is worth having: nothing can be shown.
  const auto between = pairs({-0.3, 0.4, 0.45, -0.45, 0.25, -0.05});
  CHECK_FALSE(blocks_to_tell(between.first, between.second, 0.1).blocks.has_value());
  CHECK_FALSE(blocks_to_tell(Values{{0.5, 0}}, Values{{0.5, 1}}).blocks.has_value());
}

TEST_CASE("what cannot be asked of blocks is refused") {
  const auto p = pairs({0.1, 0.2, 0.1, 0.2, 0.1, 0.2});
  CHECK_THROWS_AS(evidence(p, 0.5, 0), std::domain_error);
  CHECK_THROWS_AS(blocks_to_tell(p.first, p.second, 2), std::domain_error);
  CHECK_THROWS_AS(blocks_to_tell(p.first, p.second, 0.1, 1), std::domain_error);
}
