#include "analysis/proportion_reckoning.hpp"

#include <stdexcept>

#include "stats/proportions/fisher.hpp"
#include "stats/proportions/proportion.hpp"
#include "stats/proportions/unconditional_tests.hpp"

namespace plumule::analysis {

namespace {

Proportion proportion(XOfN given, const ReckonQuestion& asked) {
  if (given.x < 0 || given.n < given.x || given.n > 1'000'000'000)
    throw std::domain_error("x of n needs 0 <= x <= n <= 1e9");
  const stats::Tally tally(given.x, given.n);
  Proportion result{given.x, given.n, std::nullopt, {}};
  if (given.n > 0) result.fraction = tally.fraction();
  result.intervals = {stats::wilson(tally, asked.level, asked.side, asked.correction),
                      stats::clopper_pearson(tally, asked.level, asked.side),
                      stats::jeffreys(tally, asked.level, asked.side)};
  return result;
}

std::optional<double> p_of(const stats::ExactTest& test) {
  if (test.status != stats::ExactStatus::ok) return std::nullopt;
  return test.p;
}

}  // namespace

std::vector<SeedLevelTest> seed_level_tests(const stats::TwoByTwo& table) {
  return {{"fisher", stats::fisher(table)},
          {"fisher-mid-p", stats::fisher_mid_p(table)},
          {"barnard", p_of(stats::barnard(table))},
          {"boschloo", p_of(stats::boschloo(table))}};
}

ProportionReckoning reckon(XOfN one, const ReckonQuestion& question) {
  ProportionReckoning result;
  result.asked = question;
  result.proportions = {proportion(one, question)};
  return result;
}

ProportionReckoning reckon(XOfN one, XOfN other, const ReckonQuestion& question) {
  ProportionReckoning result;
  result.asked = question;
  result.proportions = {proportion(one, question), proportion(other, question)};
  const stats::TwoByTwo table(one.x, one.n, other.x, other.n);
  result.difference = stats::difference(table, question.level, question.side);
  if (question.correction)
    result.newcombe_corrected =
        stats::newcombe_difference(table, question.level, question.side, true);
  result.ratio = stats::ratio(table, question.level, question.side);
  result.odds_ratio = stats::odds_ratio(table, question.level, question.side);
  if (one.n > 0 && other.n > 0) result.tests = seed_level_tests(table);
  return result;
}

}  // namespace plumule::analysis
