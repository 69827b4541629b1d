// Which treatments are doses of soaking: those that differ in the hours alone.
#include "analysis/comparison/dose_answer.hpp"

#include <doctest/doctest.h>

#include "analysis/histories.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

records::Treatment soak(const std::string& label, double hours, std::optional<double> water = {}) {
  records::Treatment treatment;
  treatment.label = label;
  treatment.soak_hours = hours;
  treatment.water_c = water;
  return treatment;
}

// Three trays of 40 to a treatment, so many up in the first, one more in each of the others.
void sow(std::vector<records::History>& trays, const std::string& treatment, std::int64_t up) {
  for (int i = 0; i < 3; ++i)
    trays.push_back(in_trial(
        history(treatment + std::to_string(i), 40, {{9, up + i}, {18, up + i}}), treatment));
}

std::optional<analysis::DoseAnswer> doses(const std::vector<records::History>& trays,
                                          const std::vector<records::Treatment>& treatments) {
  return analysis::dose_answer(analysis::trial_layout(trays, treatments), treatments,
                               stats::rho_from_beta(24), 0.95);
}

}  // namespace

TEST_CASE("a soak that was nicked, chilled or primed too is no dose of soaking") {
  // A comparison tells of the one thing in which its treatments differ: common practice, no source.
  std::vector<records::History> plain;
  sow(plain, "untreated", 20);
  sow(plain, "soak-12h", 33);
  auto three = plain;
  sow(three, "other-24h", 14);
  auto other = soak("other-24h", 24);
  REQUIRE(doses(three, {soak("soak-12h", 12), other}).has_value());
  const auto with = [&](auto change) {
    auto changed = other;
    change(changed);
    return doses(three, {soak("soak-12h", 12), changed});
  };
  CHECK_FALSE(with([](auto& one) { one.scarification = "nicked"; }).has_value());
  CHECK_FALSE(with([](auto& one) { one.chill_days = 14; }).has_value());
  CHECK_FALSE(with([](auto& one) { one.priming = "salt water"; }).has_value());
  CHECK_FALSE(with([](auto& one) { one.water_c = 50; }).has_value());
}

TEST_CASE("the curve is that of the soaks alone, and the others are named") {
  std::vector<records::History> trays;
  sow(trays, "untreated", 20);
  sow(trays, "soak-12h", 33);
  sow(trays, "soak-24h", 24);
  const std::vector treatments = {soak("soak-12h", 12), soak("soak-24h", 24)};
  const auto alone = doses(trays, treatments);
  REQUIRE(alone.has_value());
  CHECK(alone->left_out.empty());
  CHECK(alone->best_tried == 12);
  CHECK_CLOSE(alone->best_tried_fraction, (33 + 34 + 35) / 120.0, 1e-12);
  auto more = trays;
  sow(more, "nicked-18h", 5);
  sow(more, "nicked", 38);
  auto nicked = soak("nicked-18h", 18);
  nicked.scarification = "nicked";
  records::Treatment dry;
  dry.label = "nicked";
  dry.scarification = "nicked";
  const auto answer = doses(more, {treatments[0], treatments[1], nicked, dry});
  REQUIRE(answer.has_value());
  CHECK(answer->left_out == std::vector<std::string>{"nicked-18h"});
  CHECK(answer->tried == std::vector<double>{0, 12, 24});
  CHECK_CLOSE(answer->best.dose, alone->best.dose, 1e-12);
  CHECK_CLOSE(answer->trend->z, alone->trend->z, 1e-12);
}

TEST_CASE("twelve hours in cool and in warm water are not one dose") {
  std::vector<records::History> trays;
  sow(trays, "untreated", 20);
  for (const char* name : {"a-12h", "b-12h", "c-24h", "d-36h"}) sow(trays, name, 25);
  const auto answer = doses(trays, {soak("a-12h", 12, 20), soak("b-12h", 12, 30), soak("c-24h", 24),
                                    soak("d-36h", 36, 21)});
  REQUIRE(answer.has_value());
  CHECK(answer->left_out == std::vector<std::string>{"b-12h"});
  CHECK(answer->tried == std::vector<double>{0, 12, 24, 36});
  // As many in either: the cooler.
  const auto even = doses(
      trays, {soak("a-12h", 12, 30), soak("b-12h", 12, 20), soak("c-24h", 24), soak("d-36h", 36)});
  REQUIRE(even.has_value());
  CHECK(even->left_out == std::vector<std::string>{"a-12h"});
}
