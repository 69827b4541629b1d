// Every figure of time in one answer is of one model over the same sowings, and at the level asked
// for; the verdict keeps its own levels.
#include <doctest/doctest.h>

#include <algorithm>

#include "analysis/comparison/treatment_comparison.hpp"
#include "analysis/histories.hpp"
#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule;
using namespace plumule::tests;
using analysis::compare_treatments;
using analysis::ComparisonQuestion;

namespace {

ComparisonQuestion question() {
  ComparisonQuestion asked;
  asked.subject = "T";
  asked.trial = records::Trial{};
  asked.trial->code = "T";
  asked.trial->closes_on = on_day(20);
  asked.today = on_day(30);
  return asked;
}

// Three and three trays, with days missed while they came up; one more, knocked over on day 8.
std::vector<records::History> gappy_trial(bool knocked_over) {
  std::vector<records::History> trays;
  for (int i = 0; i < 3; ++i) {
    const std::string name = std::to_string(i);
    trays.push_back(in_trial(
        history("U" + name, 40,
                {{4, 0}, {5, i}, {9, 18 + i}, {10, 23 + 2 * i}, {15, 30 + i}, {20, 31 + i}}),
        "untreated"));
    trays.push_back(in_trial(
        history("S" + name, 40, {{4, 4 + i}, {5, 9 + i}, {9, 26 + 2 * i}, {10, 29 + i}, {20, 33}}),
        "soak"));
  }
  if (knocked_over)
    trays.push_back(ended(in_trial(history("K", 40, {{4, 2}, {5, 5}, {8, 16}}), "soak"), 8,
                          records::EndingKind::accident));
  return trays;
}

}  // namespace

TEST_CASE("the ratio of times that leads is that of the joint fit, stopped trays in both") {
  for (const bool knocked_over : {false, true}) {
    const auto answer = compare_treatments(gappy_trial(knocked_over), question());
    const auto& speed = answer.contrasts.front().speed;
    REQUIRE(speed.looks.uneven);
    REQUIRE((speed.gaps && speed.gaps->ratio && speed.time_ratio));
    REQUIRE(speed.joint.size() == 4);
    const auto& lead = speed.joint.front();
    CHECK(speed.gaps->ratio->ratio == lead.ratio->ratio);
    CHECK(speed.time_ratio->ratio == lead.ratio->ratio);
    CHECK(lead.ratio->df == (knocked_over ? 5 : 4));
    CHECK(speed.mean_days.difference.sowings == 3);  // its mean days are not final
    for (const auto& fit : speed.joint) {
      CHECK(fit.model.family == lead.model.family);
      CHECK(*fit.model.dispersion == *lead.model.dispersion);
    }
    // Each treatment's own curve is that of the joint fit.
    for (const auto& group : answer.treatments) {
      REQUIRE(group.model);
      CHECK(group.model->distribution.family == lead.model.family);
      const auto& arm = lead.model.treatments[group.key == "soak" ? 0 : 1];
      CHECK_CLOSE(group.model->t50.estimate, arm.t50.estimate, 1e-6);
    }
  }
  // The plain answer leads with the very same ratio.
  auto plain = question();
  plain.detail = false;
  const auto full = compare_treatments(gappy_trial(true), question());
  const auto brief = compare_treatments(gappy_trial(true), plain);
  CHECK_CLOSE(brief.contrasts.front().speed.gaps->ratio->ratio,
              full.contrasts.front().speed.gaps->ratio->ratio, 1e-12);
}

TEST_CASE("the level asked for is that of every interval, and of no verdict") {
  auto wide = question();
  wide.level = 0.8;
  const auto usual = compare_treatments(gappy_trial(true), question()).contrasts.front();
  const auto asked = compare_treatments(gappy_trial(true), wide).contrasts.front();
  CHECK(asked.code == usual.code);
  for (const auto part : {&analysis::SpeedContrast::mean_days, &analysis::SpeedContrast::t50}) {
    const auto& days = (asked.speed.*part).difference;
    CHECK(days.level == 0.8);
    CHECK_WITHIN(*days.upper - *days.difference,
                 stats::student_t_quantile_upper(0.1, *days.df) * *days.se, 1e-12);
    CHECK(*days.lower90 == *(usual.speed.*part).difference.lower90);
  }
  const auto& ratio = *asked.speed.time_ratio;
  CHECK(ratio.level == 0.8);
  CHECK_CLOSE(*ratio.upper,
              ratio.ratio * std::exp(stats::student_t_quantile_upper(0.1, ratio.df) *
                                     *ratio.log_se_clustered),
              1e-12);
  CHECK(asked.speed.gaps->ratio->upper == ratio.upper);
  CHECK(*asked.speed.gaps->ratio_upper95 == *usual.speed.time_ratio->upper);
}
