#include "report/viability_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/number_words.hpp"

namespace plumule::report {

using analysis::TestUse;
using analysis::ViabilityCode;
using analysis::ViabilityGround;

std::string_view word(ViabilityCode code) {
  switch (code) {
    case ViabilityCode::sow_as_usual:
      return "sow-as-usual";
    case ViabilityCode::sow_thicker:
      return "sow-thicker";
    case ViabilityCode::test_more:
      return "test-more";
    case ViabilityCode::replace:
      return "replace";
    case ViabilityCode::sow_all:
      return "sow-all";
    case ViabilityCode::wait:
      return "wait";
    case ViabilityCode::no_test:
      return "no-test";
    case ViabilityCode::no_standard:
      break;
  }
  return "no-standard";
}

std::string_view word(TestUse use) {
  switch (use) {
    case TestUse::counted:
      return "counted";
    case TestUse::older:
      return "older";
    case TestUse::treated:
      return "treated";
    case TestUse::in_soil:
      return "in-soil";
    case TestUse::counts_otherwise:
      return "counts-otherwise";
    case TestUse::not_looked_at:
      return "not-looked-at";
    case TestUse::units_unknown:
      return "units-unknown";
    case TestUse::stopped_early:
      break;
  }
  return "stopped-early";
}

namespace {

std::string times_words(double times) {
  if (times > 20) return "more than 20 times";
  return fmt::format("{:.1f} times", times);
}

std::string test_more_words(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  std::string text = verdict.more_seeds
                         ? fmt::format("Test {} more seeds: {} cannot tell yet.",
                                       *verdict.more_seeds, whole(finding.stand.seeds))
                         : fmt::format(
                               "Too near the line to tell: even 200 more seeds would "
                               "settle it in {} of 100 cases only.",
                               std::lround(100 * verdict.decides.value_or(0)));
  return text + (verdict.times
                     ? fmt::format(" Until then sow {} as thick.", times_words(*verdict.times))
                     : " Until then sow a little thicker than usual.");
}

}  // namespace

std::string verdict_words(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  switch (verdict.code) {
    case ViabilityCode::sow_as_usual:
      return "Sow as usual.";
    case ViabilityCode::sow_thicker:
      return verdict.times ? fmt::format("Sow {} as thick.", times_words(*verdict.times))
                           : "Sow a little thicker.";
    case ViabilityCode::test_more:
      return test_more_words(finding);
    case ViabilityCode::replace:
      return "Replace it: sowing twice as thick would not make up for it.";
    case ViabilityCode::sow_all:
      return "It can't be replaced: sow all that is left, each seed in its own cell, and raise "
             "fresh seed from what comes up.";
    case ViabilityCode::wait:
      return "Wait: the test is still running, and a seed that is not up yet has not failed.";
    case ViabilityCode::no_test:
      return "Not tested yet. Lay ten seeds or more on a damp towel, log them as a sowing of this "
             "lot, and ask again.";
    case ViabilityCode::no_standard:
      break;
  }
  return "No standard is known for this crop, and the label names none: give one with --standard.";
}

std::vector<std::string> verdict_reasons(const analysis::LotViability& finding) {
  std::vector<std::string> list;
  const auto& verdict = finding.verdict;
  if (!finding.standard || !finding.p_meets) return list;
  const auto& standard = *finding.standard;
  const std::string line = percent(standard.fraction);
  list.push_back(fmt::format("The chance that {} or more of its seeds are alive is {}.", line,
                             percent(*finding.p_meets)));
  if (verdict.ground == ViabilityGround::near_enough)
    list.push_back(
        "Even if it is as low as these seeds allow, a tenth of the stand is lost at "
        "most: not worth another test.");
  const bool asks_for_more = verdict.code == ViabilityCode::test_more;
  if (verdict.code == ViabilityCode::sow_as_usual && verdict.p_short && *verdict.p_short > 0.005)
    list.push_back(fmt::format(
        "If that is wrong (a chance of {}), about {} plants stand where 10 "
        "were planned.",
        percent(*verdict.p_short), std::lround(10 * verdict.stand_if_wrong.value_or(1))));
  if (verdict.code == ViabilityCode::replace || verdict.code == ViabilityCode::sow_thicker)
    list.push_back(fmt::format("If that is wrong (a chance of {}), {}.", percent(*finding.p_meets),
                               verdict.code == ViabilityCode::replace
                                   ? "a sound lot is thrown out for the price of a packet"
                                   : "the row stands too thick and wants thinning"));
  if (asks_for_more && verdict.more_seeds && verdict.decides)
    list.push_back(fmt::format("So many would settle it in {} of 100 cases.",
                               std::lround(100 * *verdict.decides)));
  if (asks_for_more && verdict.stand_if_wrong)
    list.push_back(
        fmt::format("Sown as usual without another test it may give as few as {} plants "
                    "where 10 were planned.",
                    std::lround(10 * *verdict.stand_if_wrong)));
  return list;
}

}  // namespace plumule::report
