#include "report/viability/viability_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "records/date.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/viability/clash_words.hpp"

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
    case ViabilityCode::nick_seed:
      return "nick-seed";
    case ViabilityCode::test_more:
      return "test-more";
    case ViabilityCode::replace:
      return "replace";
    case ViabilityCode::sow_and_buy:
      return "sow-and-buy";
    case ViabilityCode::sow_in_two_goes:
      return "sow-in-two-goes";
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
    case TestUse::failed:
      return "failed";
    case TestUse::clashes:
      return "clashes";
    case TestUse::stopped_early:
      break;
  }
  return "stopped-early";
}

std::string times_words(double times) {
  if (times > 20) return "more than 20 times";
  if (times == 2) return "twice";
  return fmt::format("{:.3g} times", times);
}

std::string chance(double p) { return percent(std::clamp(p, 1e-9, 1 - 1e-9)); }

namespace {

// Tests that were ended before it could be told that no more would come.
std::vector<std::string> cut_short_words(const analysis::LotViability& finding) {
  struct Days {
    std::int64_t looked, ended, due;
    auto operator<=>(const Days&) const = default;
  };
  std::map<Days, std::vector<std::string>> alike;
  for (const auto& test : finding.tests)
    if (test.cut_short && (test.use == TestUse::counted || test.use == TestUse::clashes))
      alike[{(*test.last_look - test.sown).count(), (*test.ended_on - test.sown).count(),
             test.give_up_day}]
          .push_back(test.name);
  std::vector<std::string> list;
  for (const auto& [days, names] : alike) {
    const char* were = names.size() == 1 ? "was" : "were";
    list.push_back(
        days.ended == days.looked
            ? fmt::format("{} {} ended on day {}, the last count being due on day {}: more might "
                          "have come.",
                          some_of(names), were, days.ended, days.due)
            : fmt::format("{} {} last looked at on day {} and ended on day {}: what came up after "
                          "day {} was not seen.",
                          some_of(names), were, days.looked, days.ended, days.looked));
  }
  return list;
}

// Why another test is asked for.
std::string why_more(const analysis::LotViability& finding) {
  const auto& ageing = finding.ageing;
  const bool old = ageing && ageing->newest_test_on &&
                   ageing->as_of - *ageing->newest_test_on > std::chrono::days(365);
  if (old) return "its last test is too old to tell";
  return whole(finding.stand.seeds) + " cannot tell yet";
}

std::string test_more_words(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  const auto units = unit_word(finding.unit, 2);
  const int more = verdict.more_seeds.value_or(10);
  const bool one_large = finding.stand.sowings == 1 && finding.stand.seeds > 50;
  std::string text;
  if (finding.from_soil)
    text = fmt::format(
        "Put {} {} in a damp towel indoors, with ten you trust beside them: soil alone cannot "
        "tell.",
        more, units);
  else if (one_large && why_more(finding).starts_with(whole(finding.stand.seeds)))
    text = fmt::format("One test cannot tell, however many its {}: test {} more in another.", units,
                       more);
  else
    text = fmt::format("Test {} more {}: {}.", more, units, why_more(finding));
  if (verdict.packet_at_hand) return text + " Until then have a fresh packet at hand.";
  return text + (verdict.times
                     ? fmt::format(" Until then sow {} as thick.", times_words(*verdict.times))
                     : " Until then sow as usual.");
}

// ": 28 of 50 are hard, alive but shut to water."
std::string hard_words(const analysis::LotViability& finding) {
  return fmt::format(": {} of {} {} hard, alive but shut to water.", whole(finding.hard),
                     whole(finding.stand.seeds), finding.hard == 1 ? "is" : "are");
}

std::string thicker_words(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  const std::string text = verdict.times
                               ? fmt::format("Sow {} as thick", times_words(*verdict.times))
                               : std::string("Sow a little thicker");
  if (verdict.ground != ViabilityGround::hard_seed) return text + ".";
  return text + ", or nick the seed" + hard_words(finding);
}

std::string nick_words(const analysis::LotViability& finding) {
  const auto& nicked = finding.verdict.times_nicked;
  return "Nick the seed" +
         (nicked ? fmt::format(" and sow {} as thick", times_words(*nicked)) : std::string()) +
         hard_words(finding) + " Sown as it is, too few would come up.";
}

std::string no_test_words(const analysis::LotViability& finding) {
  bool failed = false;
  for (const auto& test : finding.tests) failed = failed || test.use == TestUse::failed;
  return std::string(failed ? "A test that failed tells nothing of the lot. "
                            : "Not tested yet. ") +
         "Lay ten seeds or more on a damp towel, log them as a sowing of this lot, and ask again.";
}

// When a look will settle it, and why then.
std::string look_again_words(const analysis::LotViability& finding) {
  const analysis::LotTest* last = nullptr;
  for (const auto& test : finding.tests) {
    const bool waited_for = test.use == TestUse::counted || test.use == TestUse::not_looked_at;
    if (!test.running || !waited_for) continue;
    if (!last || test.sown + std::chrono::days(test.give_up_day) >
                     last->sown + std::chrono::days(last->give_up_day))
      last = &test;
  }
  if (!last || !finding.verdict.look_again) return "";
  return fmt::format(" Look at {} on {} or later: its last count is due on day {} ({}).",
                     last->name, records::spoken(*finding.verdict.look_again), last->give_up_day,
                     last->give_up_how.empty() ? "four weeks, no days being known of this crop"
                                               : last->give_up_how);
}

// What nicking costs, and what it may leave one with.
void add_nicking(std::vector<std::string>& list, const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  list.push_back(
      "Nick, file or sand only what is sown now: a deep cut harms the germ, and nicked seed does "
      "not keep.");
  if (verdict.code != ViabilityCode::nick_seed) return;
  const auto plants = std::lround(10 * verdict.stand_if_wrong.value_or(1));
  list.push_back(fmt::format(
      "If every hard one then comes up, {} (at {}, of which one may be 90 % sure).",
      plants < 10 ? fmt::format("at the least {} plants stand where 10 were planned", plants)
                  : std::string("hardly fewer plants stand than were planned"),
      percent(verdict.sure_of)));
}

}  // namespace

std::string verdict_words(const analysis::LotViability& finding, HintWords hints) {
  const auto& verdict = finding.verdict;
  if (finding.clash)
    return clash_words(finding) +
           (verdict.code == ViabilityCode::wait ? look_again_words(finding) : std::string());
  switch (verdict.code) {
    case ViabilityCode::sow_as_usual:
      return "Sow as usual.";
    case ViabilityCode::sow_thicker:
      return thicker_words(finding);
    case ViabilityCode::nick_seed:
      return nick_words(finding);
    case ViabilityCode::test_more:
      return test_more_words(finding);
    case ViabilityCode::sow_and_buy:
      return fmt::format(
          "Sow it{}, and have a fresh packet at hand for the gaps.",
          verdict.times ? " " + times_words(*verdict.times) + " as thick" : std::string());
    case ViabilityCode::replace:
      return "Replace it: a fresh packet costs less than the gaps it would leave.";
    case ViabilityCode::sow_in_two_goes:
      return "It can't be replaced, and little of it is alive: sow a third now, each seed in its "
             "own cell, and a third some weeks later; keep the last third back, and raise fresh "
             "seed from what comes up.";
    case ViabilityCode::wait:
      return "Wait: the test is still running, and what is not up yet has not failed." +
             look_again_words(finding);
    case ViabilityCode::no_test:
      return no_test_words(finding);
    case ViabilityCode::no_standard:
      break;
  }
  return hinted(hints, "No standard is known for this crop, and the label names none",
                {records::Advice::give_standard}, ".");
}

std::vector<std::string> plain_reasons(const analysis::LotViability& finding) {
  auto list = cut_short_words(finding);
  for (auto& reason : odd_test_reasons(finding)) list.push_back(std::move(reason));
  if (finding.clash)
    for (auto& reason : clash_reasons(finding)) list.push_back(std::move(reason));
  if (finding.verdict.ground == ViabilityGround::hard_seed) add_nicking(list, finding);
  return list;
}

std::vector<std::string> verdict_reasons(const analysis::LotViability& finding) {
  auto list = plain_reasons(finding);
  const auto& verdict = finding.verdict;
  if (!finding.standard || !finding.p_meets) return list;
  const auto& standard = *finding.standard;
  const std::string line = percent(standard.fraction);
  const auto units = unit_word(finding.unit, 2);
  list.push_back(
      finding.p_alive
          ? fmt::format(
                "The chance that {} or more of its {} are alive, hard ones too, is {}; that "
                "as many come up now, {}.",
                line, units, chance(*finding.p_alive), chance(*finding.p_now))
          : fmt::format("The chance that {} or more of its {} are alive is {}.", line, units,
                        chance(*finding.p_meets)));
  if (verdict.code == ViabilityCode::sow_as_usual && verdict.p_short && *verdict.p_short > 0.005) {
    const auto plants = std::lround(10 * verdict.stand_if_wrong.value_or(1));
    list.push_back(
        fmt::format("If that is wrong (a chance of {}), {}.", chance(*verdict.p_short),
                    plants < 10 ? fmt::format("about {} plants stand where 10 were planned", plants)
                                : std::string("hardly fewer plants stand than were planned")));
  }
  if (verdict.code == ViabilityCode::replace)
    list.push_back(fmt::format(
        "If that is wrong (a chance of {}), a sound lot is thrown out for the price of a packet.",
        chance(finding.p_alive ? *finding.p_alive : *finding.p_meets)));
  if (verdict.code == ViabilityCode::sow_thicker)
    list.push_back(fmt::format(
        "If that is wrong (a chance of {}), the row stands too thick and wants thinning.",
        chance(finding.p_now ? *finding.p_now : *finding.p_meets)));
  if (verdict.code == ViabilityCode::test_more && verdict.stand_if_wrong)
    list.push_back(
        fmt::format("Sown as usual without another test it may give as few as {} plants "
                    "where 10 were planned (at {}, of which one may be 90 % sure).",
                    std::lround(10 * *verdict.stand_if_wrong), percent(verdict.sure_of)));
  return list;
}

}  // namespace plumule::report
