#include "report/viability/clash_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/parts/number_words.hpp"
#include "report/viability/viability_words.hpp"

namespace plumule::report {

using analysis::ClashSide;
using analysis::ViabilityCode;
using analysis::ViabilityGround;

namespace {

std::string side_name(const ClashSide& side) { return some_of(side.tests); }

// "45 of 50 came up in T1, 25 of 50 in T2"
std::string what_they_gave(const analysis::LotClash& clash) {
  return fmt::format("{} of {} came up in {}, {} of {} in {}", whole(clash.older.stand.emerged),
                     whole(clash.older.stand.seeds), side_name(clash.older),
                     whole(clash.newer.stand.emerged), whole(clash.newer.stand.seeds),
                     side_name(clash.newer));
}

std::string later_names(const analysis::LotClash& clash) {
  std::vector<std::string> names;
  for (const auto& side : clash.later)
    names.insert(names.end(), side.tests.begin(), side.tests.end());
  return some_of(names) + (names.size() == 1 ? " does" : " do");
}

std::string how_many_more(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  const auto units = unit_word(finding.unit, 2);
  const std::string to_tell =
      std::string(finding.from_soil ? " on a damp towel" : "") + " to tell which is right";
  if (verdict.more_seeds)
    return fmt::format("Test {} more {}{}.", *verdict.more_seeds, units, to_tell);
  return "Test once more" + to_tell +
         (verdict.decides ? fmt::format("; even 200 {} settle it in {} of 100 cases only.", units,
                                        std::lround(100 * *verdict.decides))
                          : ".");
}

std::string meanwhile_words(const analysis::LotViability& finding) {
  const auto& verdict = finding.verdict;
  if (!verdict.meanwhile) return "";
  const auto lower = side_name(finding.clash->lower());
  switch (*verdict.meanwhile) {
    case ViabilityGround::meets:
    case ViabilityGround::near_enough:
      return " If it can't wait, sow as usual: either is enough.";
    case ViabilityGround::too_low:
      return finding.lot.irreplaceable
                 ? fmt::format(" If it can't wait, sow a part of it only: by {} few come up.",
                               lower)
                 : fmt::format(
                       " If it can't wait, sow it with other seed beside it: by {} few "
                       "come up.",
                       lower);
    default:
      break;
  }
  return fmt::format(" If it can't wait, sow {}, as if {} were right.",
                     verdict.times ? fmt::format("{:.1f} times as thick", *verdict.times)
                                   : std::string("a little thicker than usual"),
                     lower);
}

Figure side_figure(const std::string& which, const ClashSide& side) {
  const auto& stand = side.stand;
  return {
      which + (side.tests.size() > 1 ? " tests" : " test"),
      fmt::format("{}: {} of {}, {} ({}: {})", side_name(side), whole(stand.emerged),
                  whole(stand.seeds), percent(stand.fraction), level_words(stand.interval->level),
                  percent_range(stand.interval->lower, stand.interval->upper))};
}

}  // namespace

std::string clash_words(const analysis::LotViability& finding) {
  const auto& clash = *finding.clash;
  std::string text = "Its tests clash: " + what_they_gave(clash);
  if (!clash.later.empty())
    text += fmt::format(", and {} not settle it. ", later_names(clash));
  else
    text += finding.from_soil ? ", too far apart for chance. " : ", and both can't be right. ";
  if (finding.verdict.code == ViabilityCode::wait)
    return text + "Wait for the test that is still running: it may tell.";
  return text + how_many_more(finding) + meanwhile_words(finding);
}

std::vector<std::string> clash_reasons(const analysis::LotViability& finding) {
  const auto& clash = *finding.clash;
  const auto& verdict = finding.verdict;
  const auto older = side_name(clash.older), newer = side_name(clash.newer);
  std::vector<std::string> list;
  const bool fewer = *clash.newer.stand.fraction < *clash.older.stand.fraction;
  list.push_back(fmt::format("Were {} right, a test like {} would give so {} in {} of cases.",
                             older, newer, fewer ? "few" : "many", chance(clash.p)));
  // Common practice, no source.
  list.emplace_back(
      finding.from_soil
          ? "Cold, wet, a dried crust or mice can do this in soil; on a towel only the seed tells."
          : "A towel too wet, too dry or too cold, seed of another bag, or damp and warm keeping "
            "between the two can do this.");
  if (finding.standard && clash.older.p_meets && clash.newer.p_meets)
    list.push_back(
        fmt::format("The chance that {} or more of its {} are alive is {} by {}, {} by "
                    "{}.",
                    percent(finding.standard->fraction), unit_word(finding.unit, 2),
                    chance(*clash.older.p_meets), older, chance(*clash.newer.p_meets), newer));
  if (verdict.more_seeds && verdict.decides)
    list.push_back(fmt::format("So many would settle it in {} of 100 cases.",
                               std::lround(100 * *verdict.decides)));
  const auto plants = std::lround(10 * verdict.stand_if_wrong.value_or(1));
  if (plants < 10 && verdict.meanwhile != ViabilityGround::too_low)
    list.push_back(fmt::format(
        "Sown as usual it may give as few as {} where 10 were planned (at {}, "
        "of which one may be 90 % sure by {}).",
        counted(plants, "plant", "plants"), percent(verdict.sure_of), side_name(clash.lower())));
  return list;
}

std::vector<Figure> clash_figures(const analysis::LotViability& finding) {
  const auto& clash = *finding.clash;
  std::vector<Figure> list = {side_figure("older", clash.older), side_figure("newer", clash.newer)};
  for (const auto& side : clash.later) list.push_back(side_figure("later", side));
  return list;
}

std::vector<std::string> odd_test_reasons(const analysis::LotViability& finding) {
  std::vector<std::string> list;
  if (finding.clash) return list;
  for (const auto& test : finding.tests)
    if (test.use == analysis::TestUse::clashes)
      list.push_back(
          fmt::format("{} ({} of {}) clashes with the tests that agree, and is not "
                      "counted.",
                      test.name, whole(*test.emerged), whole(*test.seeds)));
  return list;
}

}  // namespace plumule::report
