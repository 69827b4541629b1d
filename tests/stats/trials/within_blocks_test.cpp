// Which layouts let differences in days be judged within their blocks.
#include "stats/trials/within_blocks.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace plumule::stats;

namespace {

bool judged(const std::vector<BlockLayout>& blocks) { return judged_within_blocks(blocks); }

}  // namespace

TEST_CASE("six pairs, or two blocks of two and two, are judged within blocks, and no less") {
  CHECK(judged(std::vector<BlockLayout>(6, {1, 1})));
  CHECK_FALSE(judged(std::vector<BlockLayout>(5, {1, 1})));  // 4 degrees of freedom
  CHECK(judged({{2, 2}, {2, 2}}));
  CHECK(judged({{2, 1}, {1, 2}, {2, 1}}));
  CHECK_FALSE(judged({{2, 1}, {1, 2}}));
  CHECK_FALSE(judged({{6, 6}}));  // one block is no blocks
}

TEST_CASE("a block that holds one treatment alone is none") {
  CHECK_FALSE(judged({{6, 6}, {3, 0}, {0, 2}}));
  CHECK_FALSE(judged({{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {5, 0}}));
  CHECK(judged({{1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {0, 5}}));
  CHECK_FALSE(judged({{3, 0}, {0, 3}}));
  CHECK_FALSE(judged({{0, 0}, {0, 0}}));
  CHECK_FALSE(judged({}));
}
