// What a supposed trial would give, drawn and judged one by one and by the quick way; and how many
// trays would tell.
#include "stats/stand/plan.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

#include "support/close.hpp"
#include "support/rounds.hpp"

using namespace plumule::stats;
using plumule::tests::rounds;

namespace {

const auto prior = rho_from_beta(24);

StandModel model_of(const std::vector<int>& treated, const std::vector<int>& control, int sown,
                    bool blocks = false) {
  std::vector<PlacedUnit> units;
  for (std::size_t i = 0; i < treated.size(); ++i)
    units.push_back({1, blocks ? static_cast<int>(i) : 0, treated[i], sown});
  for (std::size_t i = 0; i < control.size(); ++i)
    units.push_back({0, blocks ? static_cast<int>(i) : 0, control[i], sown});
  return {units, 2, prior};
}

}  // namespace

TEST_CASE("shares add up to 1, asked again the answer is the same, and labels mirror") {
  const SupposedStand one{0.8, 0.6, 0.03, 4, 25};
  for (const bool quick : {false, true}) {
    const auto ask = [&](const SupposedStand& s) {
      return quick ? quick_outlook(s, prior, 0.1) : outlook(s, prior, 0.1, 200, 7);
    };
    const auto first = ask(one);
    CHECK_CLOSE(first.more + first.fewer + first.neither + first.too_small, 1, 1e-12);
    CHECK(first.more == ask(one).more);
    CHECK(first.more > 0.3);
    CHECK(first.fewer < 1e-4);
    const auto mirrored = ask({0.6, 0.8, 0.03, 4, 25});
    CHECK(mirrored.fewer > 0.3);
    CHECK(mirrored.more < 1e-4);
  }
}

TEST_CASE("the quick way comes near the long one") {
  for (const auto& supposed :
       {SupposedStand{0.8, 0.6, 0.03, 6, 25}, SupposedStand{0.9, 0.5, 0.05, 3, 25},
        SupposedStand{0.9, 0.9, 0.01, 6, 100}, SupposedStand{0.8, 0.6, 0.05, 8, 50, true}}) {
    const int trials = rounds(400);
    const auto slow = outlook(supposed, prior, 0.1, trials, 1);
    const auto quick = quick_outlook(supposed, prior, 0.1);
    // four standard errors of so many trials, and 5 points
    const double near = 4 * 0.5 / std::sqrt(trials) + 0.05;
    CHECK_WITHIN(quick.more, slow.more, near);
    CHECK_WITHIN(quick.neither, slow.neither, near);
  }
}

TEST_CASE("labels change nothing else, and stands alike are told apart as often either way") {
  const auto one = quick_outlook({0.85, 0.7, 0.02, 5, 40}, prior, 0.1);
  const auto turned = quick_outlook({0.7, 0.85, 0.02, 5, 40}, prior, 0.1);
  CHECK_CLOSE(one.more, turned.fewer, 1e-9);
  CHECK_CLOSE(one.neither, turned.neither, 1e-9);
  const auto alike = quick_outlook({0.8, 0.8, 0.02, 5, 40}, prior, 0.1);
  CHECK_CLOSE(alike.more, alike.fewer, 1e-9);
  CHECK(alike.more < 0.025);  // half of one time in twenty
}

TEST_CASE("more trays, and fewer differences together, tell more") {
  double before = 0;
  for (const int trays : {2, 4, 8, 16}) {
    const double told = quick_outlook({0.8, 0.6, 0.03, trays, 25}, prior, 0.1).told();
    CHECK(told > before);
    before = told;
  }
  CHECK(quick_outlook({0.8, 0.6, 0.03, 6, 25, false, 4}, prior, 0.1).more <
        quick_outlook({0.8, 0.6, 0.03, 6, 25, false, 1}, prior, 0.1).more);
  CHECK(outlook({0.8, 0.6, 0.03, 6, 25, false, 4}, prior, 0.1, 300, 1).more <
        outlook({0.8, 0.6, 0.03, 6, 25, false, 1}, prior, 0.1, 300, 1).more);
  // one tray each tells nothing
  CHECK_CLOSE(quick_outlook({0.9, 0.1, 0.03, 1, 25}, prior, 0.1).too_small, 1, 1e-12);
  CHECK_CLOSE(outlook({0.9, 0.1, 0.03, 1, 25}, prior, 0.1, 100, 1).too_small, 1, 1e-12);
}

TEST_CASE("how many trays would tell, and what was supposed") {
  const auto model = model_of({20, 17, 19, 18}, {18, 15, 12, 16}, 25);
  const auto needed = trays_needed(model, 1, 0, prior);
  REQUIRE(needed.trays);
  CHECK(*needed.trays > 4);
  CHECK(needed.chance >= 0.8);
  CHECK_FALSE(needed.pairs);
  CHECK(needed.seeds == 25);
  CHECK(needed.first == model.mean(1));
  CHECK(needed.rho == model.rho_at_large());
  // held against the verdict itself
  const SupposedStand supposed{needed.first, needed.second, needed.rho, *needed.trays, 25};
  CHECK(outlook(supposed, prior, 0.1, 400, 3).told() > 0.7);
  // several differences together ask for more
  CHECK(*trays_needed(model, 1, 0, prior, 0.1, 4).trays >= *needed.trays);
  const auto blocks =
      trays_needed(model_of({20, 17, 19, 18}, {18, 15, 12, 16}, 25, true), 1, 0, prior);
  CHECK(blocks.pairs);
}

TEST_CASE("a difference of half of d is out of reach; stands all up are supposed short of 1") {
  const auto near = trays_needed(model_of({6, 5, 5, 6}, {5, 6, 4, 5}, 10), 1, 0, prior);
  CHECK_FALSE(near.trays);
  CHECK(near.most_tried == 48);
  CHECK(near.chance < 0.8);
  const auto full = trays_needed(model_of({25, 25}, {25, 25}, 25), 1, 0, prior);
  CHECK(full.first < 1);
  CHECK(full.first > 0.95);
  CHECK(full.trays);
}

TEST_CASE("what cannot be supposed is refused") {
  CHECK_THROWS_AS(outlook({1.1, 0.5, 0, 4, 25}, prior, 0.1, 10, 1), std::domain_error);
  CHECK_THROWS_AS(outlook({0.5, 0.5, 1, 4, 25}, prior, 0.1, 10, 1), std::domain_error);
  CHECK_THROWS_AS(quick_outlook({0.5, 0.5, 0, 0, 25}, prior, 0.1), std::domain_error);
  CHECK_THROWS_AS(quick_outlook({0.5, 0.5, 0, 4, 0}, prior, 0.1), std::domain_error);
  CHECK_THROWS_AS(quick_outlook({0.5, 0.5, 0, 4, 25}, prior, 0), std::domain_error);
  CHECK_THROWS_AS(outlook({0.5, 0.5, 0, 4, 25}, prior, 0.1, 0, 1), std::domain_error);
  const auto model = model_of({20, 17}, {18, 15}, 25);
  CHECK_THROWS_AS(trays_needed(model, 1, 2, prior), std::domain_error);
  CHECK_THROWS_AS(trays_needed(model, 1, 0, prior, 0.1, 1, 1), std::domain_error);
  CHECK_THROWS_AS(trays_needed(model, 1, 0, prior, 0.1, 0), std::domain_error);
}
