// Rank tests on interval-censored times: published and independently computed scores and tests.
#include "stats/trials/grouped_rank_test.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "stats/inference/t_test.hpp"
#include "stats/times/grouped_score_test.hpp"
#include "stats/times/public_courses.hpp"
#include "support/close.hpp"
#include "support/csv.hpp"

using namespace plumule::stats;
using plumule::tests::group_courses;
using plumule::tests::number;
using plumule::tests::read_csv;
using plumule::tests::Row;

namespace {

const std::map<std::string, RankScores> kinds{{"sun", RankScores::sun},
                                              {"finkelstein", RankScores::finkelstein},
                                              {"wmw", RankScores::wilcoxon}};

// Every patient a sowing of one unit.
std::vector<TimeCourse> as_courses(const std::vector<Span>& spans) {
  std::vector<TimeCourse> courses;
  for (const Span& s : spans) {
    TimeCourse course{1.0, {}, 0};
    if (s.left > 0) course.looks.push_back({s.left, 0});
    if (s.right < no_end) course.looks.push_back({s.right, 1});
    courses.push_back(course);
  }
  return courses;
}

}  // namespace

TEST_CASE("scores, variances and permutations of public pairs") {
  // tests/reference/statistics/timecourse_tests.csv: R, base functions
  int rows = 0;
  for (const Row& row : read_csv("reference/statistics/timecourse_tests.csv")) {
    const std::string& quantity = row.at("quantity");
    const std::string& scores = row.at("scores");
    const bool score_test = scores == "finkelstein_score_test";
    INFO(row.at("group_a"), " ", row.at("group_b"), " ", scores, " ", quantity);
    const auto a = group_courses(row.at("dataset"), row.at("group_a"));
    const auto b = group_courses(row.at("dataset"), row.at("group_b"));
    if (score_test) {
      const GroupedScoreTest test = grouped_score_test(b, a);
      REQUIRE(test.given);
      CHECK_CLOSE(quantity == "U"       ? test.u
                  : quantity == "chisq" ? test.chi_squared
                                        : test.p,
                  number(row, "value"), 1e-7);
      CHECK_CLOSE(grouped_rank_test(b, a, RankScores::finkelstein).u, test.u, 1e-8);
      ++rows;
      continue;
    }
    const GroupedRankTest test = grouped_rank_test(b, a, kinds.at(scores));
    REQUIRE(test.status == RankStatus::compared);
    const double value = number(row, "value");
    ++rows;
    if (quantity == "U_group_b") {
      CHECK_CLOSE(test.u, value, 1e-8);
    } else if (quantity == "V_permutation") {
      CHECK_CLOSE(test.variance, value, 1e-8);
    } else if (quantity == "Z") {
      CHECK_CLOSE(test.z, value, 1e-8);
    } else if (quantity == "p_two_sided") {
      CHECK_CLOSE(test.p_seeds, value, 1e-7);
    } else if (quantity == "dish_permutations") {
      CHECK(test.arrangements == value);
      CHECK(test.exact);
    } else if (quantity == "dish_exact_p_two_sided_abs") {
      CHECK_CLOSE(test.p_sowings, value, 1e-9);
      CHECK(test.p_sowings >= test.smallest_p - 1e-12);
    } else {
      std::vector<double> means[2];
      for (std::size_t i = 0; i < test.sowings.size(); ++i)
        means[i < b.size() ? 0 : 1].push_back(test.sowings[i].sum / test.sowings[i].units);
      const TTest welch = welch_t(means[0], means[1]);
      const double ours = quantity == "dish_mean_score_welch_t"    ? welch.t
                          : quantity == "dish_mean_score_welch_df" ? welch.df
                                                                   : welch.p;
      REQUIRE((quantity.starts_with("dish_mean_score_welch_")));
      CHECK_CLOSE(ours, value, 1e-7);
    }
  }
  CHECK(rows == 105);
}

TEST_CASE("the cosmesis tests as published") {
  // tests/reference/statistics/cosmesis_reference.csv; published: Fay & Shaw 2010, to the digits
  // printed
  const auto chemo = as_courses(plumule::tests::cosmesis_spans("RadChem"));
  const auto radiation = as_courses(plumule::tests::cosmesis_spans("Rad"));
  std::map<RankScores, GroupedRankTest> tests;
  for (const auto& [name, kind] : kinds) {
    const GroupedRankTest test = grouped_rank_test(chemo, radiation, kind);
    // 94 patients permuted: near the normal p, which has no lots.
    CHECK_WITHIN(test.p_sowings, test.p_seeds, 0.003);
    CHECK_FALSE(test.exact);
    tests[kind] = test;
  }
  const GroupedScoreTest score_test = grouped_score_test(chemo, radiation);
  REQUIRE(score_test.given);
  int rows = 0;
  int published = 0;
  for (const Row& row : read_csv("reference/statistics/cosmesis_reference.csv")) {
    const std::string& part = row.at("part");
    const bool score = part == "score_finkelstein";
    if (!part.starts_with("perm_") && !score) continue;
    const GroupedRankTest& test =
        tests.at(score ? RankScores::finkelstein : kinds.at(part.substr(5)));
    const std::string& quantity = row.at("quantity");
    const double ours = score && quantity == "chisq_1df" ? score_test.chi_squared
                        : score && quantity == "p"       ? score_test.p
                        : quantity.starts_with("U")      ? test.u
                        : quantity == "V"                ? test.variance
                        : quantity == "Z"                ? test.z
                                                         : test.p_seeds;
    INFO(part, " ", quantity);
    CHECK_CLOSE(ours, number(row, "value"), 1e-8);
    ++rows;
    if (row.at("published") == "NA") continue;
    CHECK_CLOSE(ours, number(row, "published"), 1e-4);
    ++published;
  }
  CHECK(rows == 11);
  CHECK(published == 9);
}

TEST_CASE("Wilcoxon scores are S(L) + S(R) - 1, and all scores sum to nothing") {
  const auto a = group_courses("eryngium", "Control");
  const auto b = group_courses("eryngium", "Cold_4");
  std::vector<TimeCourse> both = a;
  both.insert(both.end(), b.begin(), b.end());
  const Pool all = pool(both);
  const Npmle estimate = npmle(all.spans);
  const auto survivor = [&](double t) {
    double s = 1;
    for (const MassPoint& point : estimate.points)
      if (point.right <= t) s -= point.mass;
    return t == no_end ? 0 : s;
  };
  const auto scores = rank_scores(all.spans, estimate, RankScores::wilcoxon);
  for (std::size_t i = 0; i < scores.size(); ++i)
    CHECK_WITHIN(scores[i], survivor(all.spans[i].left) + survivor(all.spans[i].right) - 1, 1e-12);
  for (const auto& [name, kind] : kinds) {
    const auto each = rank_scores(all.spans, estimate, kind);
    double sum = 0;
    for (std::size_t i = 0; i < each.size(); ++i) sum += each[i] * all.spans[i].count;
    CHECK_WITHIN(sum, 0, 1e-9 * all.units);
  }
}

TEST_CASE("swapped treatments turn the sign, order and unit of time are nothing") {
  auto a = group_courses("eryngium", "GA3_0");
  auto b = group_courses("eryngium", "GA3_250");
  const GroupedRankTest one = grouped_rank_test(b, a, RankScores::sun);
  const GroupedRankTest swapped = grouped_rank_test(a, b, RankScores::sun);
  CHECK_CLOSE(swapped.u, -one.u, 1e-9);
  CHECK_CLOSE(swapped.p_sowings, one.p_sowings, 1e-12);
  std::ranges::reverse(a);
  for (auto* group : {&a, &b})
    for (TimeCourse& course : *group)
      for (Look& look : course.looks) look.time *= 24;
  const GroupedRankTest hours = grouped_rank_test(b, a, RankScores::sun);
  CHECK_CLOSE(hours.u, one.u, 1e-9);
  CHECK_CLOSE(grouped_score_test(a, b).chi_squared, grouped_score_test(b, a).chi_squared, 1e-9);
  CHECK_CLOSE(hours.p_sowings, one.p_sowings, 1e-12);
}

TEST_CASE("nothing to rank is said, never a NaN") {
  using Courses = std::vector<TimeCourse>;
  const TimeCourse none{10.0, {{5, 0}}, 0};
  const TimeCourse some{10.0, {{3, 2}, {5, 6}}, 0};
  const TimeCourse unknown{std::nullopt, {{3, 2}}, 0};
  CHECK(grouped_rank_test(Courses{none}, Courses{none}, RankScores::sun).status ==
        RankStatus::nothing_emerged);
  CHECK_FALSE(grouped_score_test(Courses{none}, Courses{none}).given);
  CHECK_FALSE(grouped_score_test(Courses{some}, Courses{unknown}).given);
  CHECK_FALSE(grouped_score_test(Courses{}, Courses{some}).given);
  CHECK(grouped_rank_test(Courses{some}, Courses{unknown}, RankScores::sun).status ==
        RankStatus::units_unknown);
  CHECK(grouped_rank_test(Courses{{5.0, {{3, 5}}, 0}}, Courses{{4.0, {{3, 4}}, 0}}, RankScores::sun)
            .status == RankStatus::nothing_emerged);
  const TimeCourse rotted{10.0, {{3, 2}, {5, 6}}, 4};
  const GroupedRankTest never =
      grouped_rank_test(Courses{rotted, some}, Courses{none, some}, RankScores::wilcoxon);
  CHECK(never.status == RankStatus::compared);
  CHECK(std::isfinite(never.z));
  CHECK_CLOSE(never.smallest_p, 2.0 / 6, 1e-12);
  CHECK_THROWS_AS(grouped_rank_test(Courses{}, Courses{some}, RankScores::sun), std::domain_error);
}
