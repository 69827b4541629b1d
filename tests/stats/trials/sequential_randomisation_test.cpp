// The sequentially monitored randomisation test: its spending, its layouts, its exact level.
#include "stats/trials/sequential_randomisation.hpp"

#include <stdexcept>
#include <vector>

#include "stats/numeric/random.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// A sowing of 20 looked at daily to `last`, `a_day` more up each day from `first` on.
FollowedSowing daily(bool treated, int first, int a_day, int last, int block = 0) {
  FollowedSowing made;
  made.sown = 20;
  made.treated = treated;
  made.block = block;
  for (int day = 1; day <= last; ++day)
    made.counts.push_back({day, std::min(20, std::max(0, (day - first + 1) * a_day))});
  return made;
}

// The first `treated` of them come up `lead` days sooner; all differ a little.
std::vector<FollowedSowing> trial(int treated, int control, int lead, int last) {
  std::vector<FollowedSowing> made;
  for (int i = 0; i < treated + control; ++i)
    made.push_back(daily(i < treated, 4 + i % 3 + (i < treated ? 0 : lead), 1 + i % 2, last));
  return made;
}

}  // namespace

TEST_CASE("four against four can claim when the spending buys one pair, at 57 % of the days") {
  // simulation study, computed: 70 labellings, the pair (2/70) is bought at 57 % of the planned
  // days
  const auto result = sequential_randomisation(trial(4, 4, 5, 21), 21, 21, 1);
  CHECK(result.arrangements == 70);
  CHECK(result.exact);
  CHECK_CLOSE(result.smallest_p, 2.0 / 70, 1e-12);
  CHECK(result.can_claim);
  CHECK(result.claimed);
  CHECK(result.claimed_on == 12);  // 0.05 x 12/21 x 70 = 2
  CHECK(result.first_ahead);
  REQUIRE(result.looks.size() == 21);
  CHECK(result.looks[10].share_spent == 0);
  CHECK_CLOSE(result.looks[11].share_spent, 2.0 / 70, 1e-12);
}

TEST_CASE("small layouts can make no claim, and say the smallest p they can give") {
  const auto two = sequential_randomisation(trial(2, 2, 9, 21), 21, 21, 1);
  CHECK_FALSE(two.can_claim);
  CHECK_FALSE(two.claimed);
  CHECK_CLOSE(two.smallest_p, 1.0 / 3, 1e-12);
  const auto three = sequential_randomisation(trial(3, 3, 9, 21), 21, 21, 1);
  CHECK_FALSE(three.can_claim);
  CHECK_CLOSE(three.smallest_p, 0.1, 1e-12);
  std::vector<FollowedSowing> pairs;
  for (int block = 0; block < 4; ++block) {
    pairs.push_back(daily(true, 4, 2, 21, block));
    pairs.push_back(daily(false, 12, 1, 21, block));
  }
  const auto paired = sequential_randomisation(pairs, 21, 21, 1);
  CHECK(paired.arrangements == 16);
  CHECK_CLOSE(paired.smallest_p, 2.0 / 16, 1e-12);
  CHECK_FALSE(paired.can_claim);
  CHECK_FALSE(paired.claimed);
}

TEST_CASE("whatever the data, at most 5 % of the labellings would ever have claimed") {
  // Every one of the 70 labellings of eight fixed courses, read at every look
  Random random(3);
  for (int set = 0; set < 6; ++set) {
    std::vector<FollowedSowing> courses;
    for (int i = 0; i < 8; ++i) {
      FollowedSowing s;
      s.sown = 10;
      std::int64_t up = 0;
      for (int day = 1; day <= 14; ++day) {
        up += random.binomial(10 - up, 0.15);
        s.counts.push_back({day, up});
      }
      courses.push_back(s);
    }
    int claims = 0, labellings = 0;
    for (unsigned mask = 0; mask < 256; ++mask) {
      int treated = 0;
      for (unsigned i = 0; i < 8; ++i) treated += (mask >> i) & 1U ? 1 : 0;
      if (treated != 4) continue;
      for (unsigned i = 0; i < 8; ++i) courses[i].treated = ((mask >> i) & 1U) != 0;
      ++labellings;
      if (sequential_randomisation(courses, 14, 14, 1).claimed) ++claims;
    }
    CHECK(labellings == 70);
    CHECK(claims <= 3);
  }
}

TEST_CASE("the score is the area under the curve, the last count carried over missed days") {
  // looks on days 2 and 5 of two sowings: areas at day 5 are 2+2+2+6 = 12 of 20 and 0+0+0+4 of 20
  FollowedSowing a, b;
  a.sown = b.sown = 20;
  a.treated = true;
  a.counts = {{2, 2}, {5, 6}};
  b.counts = {{2, 0}, {5, 4}};
  const std::vector<FollowedSowing> both{a, b};
  const auto result = sequential_randomisation(both, 10, 10, 1);
  REQUIRE(result.looks.size() == 2);
  CHECK_CLOSE(result.looks[0].distance, 0.1, 1e-12);
  CHECK_CLOSE(result.looks[1].distance, (12.0 - 4.0) / 20, 1e-12);
  CHECK(result.first_ahead);
}

TEST_CASE("ties are taken whole or not at all") {
  // All eight alike: every distance is 0, no group of 70 fits into 3
  std::vector<FollowedSowing> alike;
  for (int i = 0; i < 8; ++i) alike.push_back(daily(i < 4, 4, 1, 21));
  const auto result = sequential_randomisation(alike, 21, 21, 1);
  CHECK_FALSE(result.claimed);
  CHECK(result.looks.back().share_spent == 0);
}

TEST_CASE("sowings treated together move together") {
  auto sowings = trial(8, 8, 6, 21);
  for (std::size_t i = 0; i < sowings.size(); ++i) sowings[i].unit = static_cast<int>(i / 2);
  const auto jars = sequential_randomisation(sowings, 21, 21, 1);
  CHECK(jars.arrangements == 70);
  CHECK(jars.claimed);
  sowings[1].treated = false;
  CHECK_THROWS_AS(sequential_randomisation(sowings, 21, 21, 1), std::domain_error);
}

TEST_CASE("blocks without both treatments are left out and named") {
  auto sowings = trial(4, 4, 6, 21);
  sowings.push_back(daily(true, 1, 5, 21, 9));
  const auto result = sequential_randomisation(sowings, 21, 21, 1);
  CHECK(result.blocks_left_out == std::vector<int>{9});
  CHECK(result.arrangements == 70);
  const std::vector<FollowedSowing> alone{daily(true, 4, 1, 21), daily(true, 5, 1, 21)};
  const auto none = sequential_randomisation(alone, 21, 21, 1);
  CHECK(none.status == SequentialStatus::one_treatment);
  CHECK_FALSE(none.can_claim);
}

TEST_CASE("too many labellings are drawn once from the seed, the actual one among them") {
  const auto sowings = trial(12, 12, 4, 10);  // 2,704,156 labellings
  const auto drawn = sequential_randomisation(sowings, 10, 10, 42);
  CHECK_FALSE(drawn.exact);
  CHECK(drawn.arrangements == 100000);
  CHECK(drawn.claimed);
  const auto again = sequential_randomisation(sowings, 10, 10, 42);
  CHECK(again.claimed_on == drawn.claimed_on);
  CHECK(again.looks.back().share_spent == drawn.looks.back().share_spent);
  CHECK(drawn.looks.back().share_spent <= 0.05);
}

TEST_CASE("no common look is said, and a missing day is no look") {
  auto sowings = trial(4, 4, 6, 21);
  for (auto& s : sowings) s.counts.clear();
  CHECK(sequential_randomisation(sowings, 21, 21, 1).status == SequentialStatus::no_looks);
  CHECK_THROWS_AS(sequential_randomisation(sowings, 0, 21, 1), std::domain_error);
  CHECK_THROWS_AS(sequential_randomisation(sowings, 21, 21, 1, 0), std::domain_error);
}
