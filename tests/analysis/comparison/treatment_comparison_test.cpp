// Compare against Crowder's plates as sowings, and the rules of verdicts, units and clocks.
#include "analysis/comparison/treatment_comparison.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "analysis/histories.hpp"
#include "records/refused.hpp"
#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::compare_treatments;
using analysis::ComparisonQuestion;

namespace {

// Planned to close on day 20; asked on day 30, so closed as planned.
ComparisonQuestion closed_trial() {
  ComparisonQuestion question;
  question.subject = "T";
  question.trial = records::Trial{};
  question.trial->code = "T";
  question.trial->closes_on = on_day(20);
  question.today = on_day(30);
  return question;
}

// Crowder 1978, Applied Statistics 27:34-37, Table 3: extract as the treatment, seed as the block.
std::vector<records::History> crowder() {
  std::vector<records::History> plates;
  for (const Row& row : read_csv("data/crowder_seeds.csv")) {
    auto plate = history(row.at("plate"), std::llround(number(row, "n")),
                         {{19, std::llround(number(row, "germ"))}});
    plate.sowing.setting = records::Setting::dish;
    plates.push_back(in_trial(plate, row.at("extract"), row.at("gen")));
  }
  return plates;
}

std::map<std::string, double> crowder_reference(const std::string& model) {
  std::map<std::string, double> values;
  for (const Row& row : read_csv("reference/statistics/crowder_reference.csv"))
    if (row.at("model") == model) values[row.at("quantity")] = number(row, "value");
  return values;
}

// Trays of 50 all looked at daily to day 20; the total up comes in over three days from `first`.
records::History tray(const std::string& label, const std::string& treatment,
                      const std::string& block, std::int64_t up, int first) {
  std::vector<Total> totals;
  for (int day = 1; day <= 20; ++day) {
    const std::int64_t share = day < first        ? 0
                               : day == first     ? up / 3
                               : day == first + 1 ? 2 * up / 3
                                                  : up;
    totals.push_back({day + 0.5, share});
  }
  return in_trial(history(label, 50, totals), treatment, block);
}

}  // namespace

TEST_CASE("Crowder's plates: seed-level tests within blocks as computed by R") {
  const auto answer = compare_treatments(crowder(), closed_trial());
  REQUIRE(answer.contrasts.size() == 1);
  const auto& contrast = answer.contrasts.front();
  CHECK(contrast.treatment == "cucumber");
  CHECK(contrast.against == "bean");
  auto cmh = crowder_reference("CMH_x2_within_x1");
  const auto& seeds = contrast.stand.seed_level;
  REQUIRE(seeds.mantel_haenszel.has_value());
  CHECK_CLOSE(seeds.mantel_haenszel->chi_squared, cmh.at("chisq_correct=FALSE"), 1e-9);
  CHECK_CLOSE(seeds.common_odds_ratio->estimate, cmh.at("OR_MH"), 1e-9);
  CHECK_CLOSE(seeds.common_odds_ratio->interval->lower, cmh.at("OR_lo95_RBG"), 1e-9);
  CHECK_CLOSE(seeds.common_odds_ratio->interval->upper, cmh.at("OR_hi95_RBG"), 1e-9);
  REQUIRE(seeds.agreement.has_value());
  CHECK_CLOSE(seeds.agreement->breslow_day.chi_squared, cmh.at("BreslowDay_X2"), 1e-9);
}

TEST_CASE("Crowder's plates: pooled shares, design effect and the verdict") {
  auto plates = crowder();
  std::erase_if(plates, [](const records::History& plate) { return plate.sowing.block != "O75"; });
  const auto answer = compare_treatments(plates, closed_trial());
  REQUIRE(answer.treatments.size() == 2);
  const auto bean = crowder_reference("arm_x1=0_x2=0");
  const auto& group = answer.treatments[0];
  CHECK(group.key == "bean");
  CHECK_CLOSE(*group.stand.fraction, bean.at("p_pooled"), 1e-9);
  REQUIRE(group.agreement->spread.has_value());
  CHECK_CLOSE(group.agreement->spread->chi_squared, bean.at("heterogeneity_X2"), 1e-9);
  const auto& contrast = answer.contrasts.front();
  CHECK_CLOSE(contrast.stand.came_up->plain, 0.681355932203 - 0.363970588235, 1e-9);
  CHECK(contrast.verdicts.came_up.code == analysis::StandCode::more);
  CHECK(contrast.code.starts_with("more"));
  // 11 plates, 6 of them cucumber: 462 ways, and as many of neither, so 1/462 at least.
  CHECK_CLOSE(contrast.stand.randomisation->arrangements, 462, 1e-12);
  CHECK_CLOSE(contrast.stand.randomisation->smallest_p, 1 / 462.0, 1e-12);
}

TEST_CASE("eryngium: the log-rank of a comparison is the reference's, p by permuting dishes") {
  // timecourse_tests.csv, pair GA3_0 and GA3_250.
  std::vector<records::History> dishes;
  int number_of_dish = 0;
  for (const char* group : {"GA3_0", "GA3_250"})
    for (const auto& course : group_courses("eryngium", group))
      dishes.push_back(in_trial(history("D" + std::to_string(++number_of_dish), course), group));
  auto question = closed_trial();
  question.trial->closes_on = on_day(100);
  question.today = on_day(200);
  const auto answer = compare_treatments(dishes, question);
  const auto& rank = answer.contrasts.front().speed.log_rank;
  REQUIRE(rank.has_value());
  CHECK_CLOSE(rank->u, 9.383206129, 1e-8);
  CHECK_CLOSE(rank->z, 2.960926954, 1e-8);
  CHECK_CLOSE(rank->p_sowings, 0.1, 1e-12);
}

TEST_CASE("a soak that only looks sooner is sooner after sowing") {
  std::vector<records::History> trays;
  const std::vector<std::int64_t> up = {40, 42, 41, 43};
  for (int block = 0; block < 4; ++block) {
    const auto at = static_cast<std::size_t>(block);
    const std::string name = "B" + std::to_string(block + 1);
    const int shift = block % 2;
    trays.push_back(tray("U" + name, "untreated", name, up[at], 9 + shift));
    trays.push_back(tray("S" + name, "soak24", name, up[3 - at], 8 + shift));
  }
  auto question = closed_trial();
  records::Treatment soak;
  soak.label = "soak24";
  soak.soak_hours = 24;
  question.treatments = {soak};
  const auto answer = compare_treatments(trays, question);
  const auto& speed = answer.contrasts.front().speed;
  REQUIRE(speed.mean_days_wetted.has_value());
  CHECK(std::fabs(*speed.mean_days.difference.difference + 1) < 0.1);
  CHECK(std::fabs(*speed.mean_days_wetted->difference.difference) < 0.1);
  CHECK(answer.contrasts.front().verdicts.speed.code != analysis::SpeedCode::sooner);
}

TEST_CASE("one tray each, or one jar, is never a claim") {
  const auto one = compare_treatments(
      std::vector{tray("A", "untreated", "", 10, 9), tray("B", "soak", "", 45, 6)}, closed_trial());
  CHECK(one.contrasts.front().code == "too-small");
  CHECK(one.contrasts.front().verdicts.came_up.ground == analysis::StandGround::single_unit);
  std::vector<records::History> jar;
  for (int i = 0; i < 4; ++i) {
    const std::string block = "B" + std::to_string(i);
    jar.push_back(tray("A" + std::to_string(i), "untreated", block, 12 + i, 9));
    jar.push_back(tray("S" + std::to_string(i), "soak", block, 42 + i, 6));
    jar.back().sowing.batch = "jar1";
  }
  const auto answer = compare_treatments(jar, closed_trial());
  CHECK(answer.contrasts.front().one_batch);
  CHECK(answer.contrasts.front().stand.units == 1);
  CHECK(answer.contrasts.front().stand.units_against == 4);
  CHECK(answer.contrasts.front().code == "too-small");
  CHECK(answer.layout.jar_across == std::vector{analysis::Factor::block});
}

TEST_CASE("an open trial has no verdict, no p and no chance") {
  std::vector<records::History> trays;
  for (int i = 0; i < 4; ++i) {
    const std::string block = "B" + std::to_string(i);
    trays.push_back(tray("A" + std::to_string(i), "untreated", block, 12 + i, 9));
    trays.push_back(tray("S" + std::to_string(i), "soak", block, 42 + i, 6));
  }
  for (auto& history : trays)  // as it stood on day 12: something came on that day
    while (history.counts.back().at.date > on_day(10)) history.counts.pop_back();
  auto question = closed_trial();
  question.today = on_day(10);
  const auto answer = compare_treatments(trays, question);
  REQUIRE(answer.state.open());
  const auto& contrast = answer.contrasts.front();
  CHECK(contrast.code == "open");
  REQUIRE(contrast.stand.came_up);
  CHECK(contrast.stand.came_up->judged_by.empty());
  CHECK(contrast.stand.intervals.empty());
  REQUIRE(contrast.evidence.has_value());
  // Of the lots only what the layout can give; of the days only how far apart they are.
  CHECK(contrast.stand.randomisation->status == stats::RandomisationStatus::layout_only);
  CHECK(contrast.stand.randomisation->smallest_p > 0);
  CHECK(contrast.speed.mean_days.difference.difference.has_value());
  CHECK_FALSE(contrast.speed.mean_days.difference.p.has_value());
  CHECK_FALSE(contrast.speed.mean_days.difference.lower.has_value());
}

TEST_CASE("what the others are held against: untreated, else as asked, else the first by name") {
  const std::vector trays = {tray("A1", "soak", "", 30, 8), tray("A2", "untreated", "", 30, 8),
                             tray("A3", "chill", "", 30, 8)};
  auto question = closed_trial();
  CHECK(compare_treatments(trays, question).against == "untreated");
  CHECK(compare_treatments(trays, question).contrasts.size() == 2);
  CHECK(compare_treatments(trays, question).pairs.size() == 1);
  question.against = "chill";
  CHECK(compare_treatments(trays, question).against == "chill");
  question.against = "boiled";
  CHECK_THROWS_AS(compare_treatments(trays, question), records::Refused);
  question.against.reset();
  CHECK(compare_treatments(std::vector{trays[0], trays[2]}, question).against == "chill");
  CHECK_THROWS_AS(compare_treatments(std::vector{trays[0]}, question), records::Refused);
  CHECK_THROWS_AS(compare_treatments({}, question), records::Refused);
}

TEST_CASE("p values allow for all held against the same treatment, and for all pairs") {
  std::vector<records::History> trays;
  int number = 0;
  for (const char* block : {"1", "2", "3"}) {
    const std::int64_t drift = number;
    trays.push_back(tray("A" + std::to_string(++number), "untreated", block, 30 + drift, 8));
    trays.push_back(tray("A" + std::to_string(++number), "soak", block, 42 - drift, 6));
    trays.push_back(tray("A" + std::to_string(++number), "chill", block, 33 + drift % 2, 8));
  }
  const auto answer = compare_treatments(trays, closed_trial());
  REQUIRE(answer.contrasts.size() == 2);
  REQUIRE(answer.pairs.size() == 1);
  // Holm 1979: the least of m is multiplied by m, the next by m - 1 and kept no less, at most 1.
  const auto t = [](const analysis::Contrast& c) { return c.stand.came_up->by_model.tail(); };
  const auto& a = answer.contrasts[0];
  const auto& b = answer.contrasts[1];
  const double low = std::min(t(a), t(b));
  const double high = std::max({2 * low, t(a), t(b)});
  REQUIRE(a.holm.has_value());
  CHECK(a.holm->comparisons == 2);
  CHECK_CLOSE(*(t(a) < t(b) ? a : b).holm->came_up, std::min(1.0, 2 * low), 1e-12);
  CHECK_CLOSE(*(t(a) < t(b) ? b : a).holm->came_up, std::min(1.0, high), 1e-12);
  const auto& pair = answer.pairs[0];
  CHECK_FALSE(pair.holm.has_value());
  REQUIRE(pair.holm_pairs.has_value());
  CHECK(pair.holm_pairs->comparisons == 3);
  const double least = std::min({t(a), t(b), t(pair)});
  for (const auto* c : {&a, &b, &pair}) {
    REQUIRE(c->holm_pairs.has_value());
    CHECK(*c->holm_pairs->came_up >= t(*c));
    CHECK(*c->holm_pairs->randomisation >= c->stand.randomisation->p);
    if (t(*c) == least) CHECK_CLOSE(*c->holm_pairs->came_up, std::min(1.0, 3 * least), 1e-12);
  }
  auto question = closed_trial();
  question.treatment = "soak";
  const auto alone = compare_treatments(trays, question);
  CHECK(alone.contrasts.size() == 1);
  CHECK(alone.contrasts[0].holm->comparisons == 2);
}

TEST_CASE("the joint curves are of the family of least AIC, and what is shared costs likelihood") {
  std::vector<records::History> trays;
  for (const char* name : {"A1", "A2"}) trays.push_back(tray(name, "untreated", "", 40, 9));
  for (const char* name : {"B1", "B2"}) trays.push_back(tray(name, "soak", "", 30, 6));
  const auto answer = compare_treatments(trays, closed_trial());
  const auto& joint = answer.contrasts[0].speed.joint;
  REQUIRE(joint.size() == 4);
  std::set<std::pair<bool, bool>> shared;
  for (const auto& fit : joint) shared.emplace(fit.shared_spread, fit.shared_fraction);
  CHECK(shared.size() == 4);  // either, both and none
  for (const auto& fit : joint) {
    CHECK(fit.model.family == joint[0].model.family);
    CHECK(fit.model.loglik <= joint[0].model.loglik + 1e-9);
    CHECK(fit.model.parameters == 6 - fit.shared_spread - fit.shared_fraction);
  }
  for (const auto family : stats::every_time_family) {
    auto question = closed_trial();
    question.family = family;
    const auto asked = compare_treatments(trays, question);
    CHECK(asked.contrasts[0].speed.joint[0].model.family == family);
    CHECK(asked.contrasts[0].speed.joint[0].model.aic >= joint[0].model.aic - 1e-9);
  }
}
