// Whether most trays of a treatment were looked at near the last day, or had come to rest before
// it.
#include "analysis/trial/last_looks.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

constexpr int last_day = 20;

// Looked at on the last day; until a day on which it still came up; or to rest long before.
records::History followed(const std::string& label, const std::string& treatment) {
  return in_trial(history(label, 20, {{4, 2}, {8, 10}, {19, 10}, {20, 10}}), treatment);
}
records::History left(const std::string& label, const std::string& treatment, int day = 8) {
  return in_trial(history(label, 20, {{4, 2}, {6, 6}, {static_cast<double>(day), 12}}), treatment);
}

// Of soak and untreated. A third treatment, left early, is nothing to them.
std::optional<records::Date> looked(std::vector<records::History> trays) {
  for (const char* label : {"A0", "B0", "Z1"}) trays.insert(trays.begin(), left(label, "chill"));
  const auto layout = analysis::trial_layout(trays, {});
  REQUIRE(layout.treatments == std::vector<std::string>{"chill", "soak", "untreated"});
  return analysis::looked_no_further(layout, 1, 2, on_day(last_day));
}

}  // namespace

TEST_CASE("most of either treatment's trays left while they still came up stop a verdict") {
  for (const std::string first : {"soak", "untreated"}) {
    CAPTURE(first);
    const std::string second = first == "soak" ? "untreated" : "soak";
    std::vector<records::History> trays{followed("A1", first), followed("A2", first),
                                        followed("A3", first), followed("B1", second),
                                        followed("B2", second)};
    CHECK_FALSE(looked(trays).has_value());
    trays[0] = left("A1", first);  // one of three
    CHECK_FALSE(looked(trays).has_value());
    trays[1] = left("A2", first);  // two of three; the latest look is that of the others
    CHECK(looked(trays) == on_day(last_day));
    for (int i = 2; i < 5; ++i)
      trays[static_cast<std::size_t>(i)] = left("C" + std::to_string(i), i < 3 ? first : second, 9);
    CHECK(looked(trays) == on_day(9));
  }
}

TEST_CASE("half of them are not most, and a day before the last is near enough") {
  CHECK_FALSE(looked({left("A1", "soak"), followed("A2", "soak"), followed("B1", "untreated"),
                      followed("B2", "untreated")})
                  .has_value());
  CHECK_FALSE(looked({left("A1", "soak", 19), left("A2", "soak", 19), followed("B1", "untreated"),
                      followed("B2", "untreated")})
                  .has_value());
  CHECK(looked({left("A1", "soak", 18), left("A2", "soak", 18), followed("B1", "untreated"),
                followed("B2", "untreated")})
            .has_value());
}

TEST_CASE("each treatment is asked by its own number of trays") {
  for (const auto& [many, few] : {std::pair{"soak", "untreated"}, std::pair{"untreated", "soak"}})
    CHECK_FALSE(
        looked({left("A1", many), followed("A2", many), followed("A3", many), followed("B1", few)})
            .has_value());
}

TEST_CASE("trays at rest need no more looks, and trays never looked at are none") {
  const auto rested = [](const std::string& label) {
    return in_trial(history(label, 20, {{3, 10}, {4, 15}, {9, 15}, {12, 15}}), "soak");
  };
  CHECK_FALSE(looked({rested("A1"), rested("A2"), followed("B1", "untreated")}).has_value());
  CHECK_FALSE(looked({in_trial(history("A1", 20, {}), "soak"), followed("A2", "soak"),
                      followed("B1", "untreated")})
                  .has_value());
}

TEST_CASE("trays never looked at, and those stopped before others had done, are not counted in") {
  const auto unseen = in_trial(history("A1", 20, {}), "soak");
  CHECK(looked({unseen, left("A2", "soak"), followed("B1", "untreated")}).has_value());
  const auto late = in_trial(history("B1", 20, {{8, 2}, {16, 5}, {19, 9}, {20, 9}}), "untreated");
  CHECK_FALSE(looked({left("A1", "soak"), left("A2", "soak"), late}).has_value());
}
