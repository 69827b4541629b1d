// What the record makes of a figure that is odd but may be right.
#include "bench/counting.hpp"

#include <doctest/doctest.h>

using namespace plumule;

namespace {

// So many seedlings of so many beet clusters that are up.
bench::Noted beets(std::int64_t up, std::optional<std::int64_t> seedlings) {
  bench::Noted noted;
  noted.sowing.crop = "beet";
  noted.sowing.unit = records::UnitKind::cluster;
  noted.count.total = up;
  noted.count.entered.seedlings = seedlings;
  return noted;
}

}  // namespace

TEST_SUITE("counting") {
  // A cluster gives 2 to 5 (common practice); half a seedling more each is chance.
  TEST_CASE("far more seedlings a cluster than is published are asked about") {
    const auto many = bench::many_seedlings(beets(1, 9));
    REQUIRE(many.has_value());
    CHECK(many->each == 9);
    CHECK(many->most_published == 5);
    CHECK(bench::many_seedlings(beets(10, 56)).has_value());
    CHECK_FALSE(bench::many_seedlings(beets(10, 55)).has_value());
    CHECK_FALSE(bench::many_seedlings(beets(10, 20)).has_value());
    CHECK_FALSE(bench::many_seedlings(beets(10, std::nullopt)).has_value());
    CHECK_FALSE(bench::many_seedlings(beets(0, 0)).has_value());
  }

  TEST_CASE(
      "nothing is asked of single seeds, of a blind trial, of crops that nothing is known of") {
    auto seeds = beets(1, 9);
    seeds.sowing.unit = records::UnitKind::seed;
    CHECK_FALSE(bench::many_seedlings(seeds).has_value());
    auto blind = beets(1, 9);
    blind.blind = true;
    CHECK_FALSE(bench::many_seedlings(blind).has_value());
    auto bean = beets(1, 9);
    bean.sowing.crop = "bean";
    CHECK_FALSE(bench::many_seedlings(bean).has_value());
    auto unknown = beets(1, 9);
    unknown.sowing.crop = "no such crop";
    CHECK_FALSE(bench::many_seedlings(unknown).has_value());
  }
}
