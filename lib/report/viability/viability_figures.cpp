#include "report/viability/viability_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "records/date.hpp"
#include "report/parts/number_words.hpp"
#include "report/viability/clash_words.hpp"

namespace plumule::report {

using analysis::AgeingMethod;
using analysis::LotStandard;
using analysis::TestUse;
using analysis::ViabilityCode;

namespace {

std::int64_t of_hundred(double share) { return std::lround(100 * share); }

// Tests that the reckoning rests on, by day.
std::vector<const analysis::LotTest*> tests_used(const analysis::LotViability& finding) {
  std::vector<const analysis::LotTest*> list;
  for (const auto& test : finding.tests)
    if (test.use == TestUse::counted || test.use == TestUse::older) list.push_back(&test);
  return list;
}

// "12 of 20 up, the newest 8 weeks ago"
Figure tested(const analysis::LotViability& finding) {
  const auto& stand = finding.stand;
  std::string text = fmt::format("{} of {} up", whole(stand.emerged), whole(stand.seeds));
  if (finding.hard > 0) text += fmt::format(", {} hard", whole(finding.hard));
  if (finding.verdict.code == ViabilityCode::wait) return {"so far", text};
  const auto& ageing = *finding.ageing;
  const auto age = static_cast<int>((ageing.as_of - *ageing.newest_test_on).count());
  text += tests_used(finding).size() > 1 ? ", the newest " : ", ";
  return {finding.from_soil ? "in soil" : "tests", text + long_ago(age)};
}

// "10 May 2026".
std::string day_words(records::Date date) { return records::spoken(date, true).substr(4); }

Figure alive(const analysis::LotViability& finding, bool today) {
  const auto& ageing = *finding.ageing;
  const bool hard = finding.hard > 0 && finding.standard && finding.standard->counts_hard;
  std::string text = fmt::format("about {} of 100, between {} and {}", of_hundred(ageing.expected),
                                 of_hundred(ageing.now.lower), of_hundred(ageing.now.upper));
  if (hard) text += ", hard ones too";
  if (today) return {"alive now", text};
  return {"alive then", text + ", on " + day_words(ageing.as_of)};
}

Figure held_to(const analysis::LotViability& finding) {
  const auto& standard = *finding.standard;
  const char* name = standard.by == LotStandard::By::crop    ? "shops must reach"
                     : standard.by == LotStandard::By::label ? "its label says"
                                                             : "held to";
  std::string text = fmt::format("{} of 100", of_hundred(standard.fraction));
  if (finding.p_meets) {
    const auto chances = std::lround(10 * *finding.p_meets);
    text += chances == 0    ? "; hardly a chance that as many are alive"
            : chances == 10 ? "; as many are alive almost surely"
                            : fmt::format("; {} in 10 that as many are alive",
                                          counted(chances, "chance", "chances"));
  }
  return {name, text};
}

Figure again(const analysis::LotViability& finding) {
  const auto& ageing = *finding.ageing;
  if (!ageing.retest_by) return {"test again", "not for many years"};
  if (*ageing.retest_by > ageing.as_of) return {"test again", "by " + day_words(*ageing.retest_by)};
  const auto& half = ageing.falls_p50;
  if (!half) return {"test again", "before it is relied on"};
  if (ageing.newest_test_on && *half < *ageing.newest_test_on)
    return {"falls below that", "it was below when tested, as likely as not"};
  return {"falls below that",
          (*half > ageing.as_of ? "as likely as not by " : "as likely as not since ") +
              day_words(*half)};
}

Figure left(const analysis::LotViability& finding) {
  if (!finding.seeds_left) return {"seeds left", "not known: no stock of it is written down"};
  std::string text = whole(*finding.seeds_left);
  if (finding.last_use) text += fmt::format("; {} sown last season", whole(*finding.last_use));
  return {"seeds left", text};
}

std::string by_what(const analysis::LotAgeing& ageing) {
  const auto years = [&] {
    return fmt::format("{:g} {}", *ageing.listed_years,
                       *ageing.listed_years == 1 ? "year" : "years");
  };
  switch (ageing.method) {
    case AgeingMethod::own_tests:
      return ageing.listed_years ? ", carried to the day by how these show it to age, and the "
                                   "lists, which give it " +
                                       years()
                                 : ", carried to the day by how these show it to age";
    case AgeingMethod::seed_life:
      return ", carried to the day by the lists of seed life, which give it " + years();
    case AgeingMethod::none:
      break;
  }
  return "; no list says how long this crop keeps, and three years were taken, give or take";
}

}  // namespace

std::string long_ago(int days) {
  if (days <= 0) return "today";
  if (days < 14) return counted(days, "day", "days") + " ago";
  if (days < 120) return fmt::format("{} weeks ago", days / 7);
  if (days < 730) return fmt::format("{} months ago", std::lround(days / 30.44));
  return fmt::format("{} years ago", static_cast<int>(days / 365.25));
}

std::vector<Figure> plain_figures(const analysis::LotViability& finding) {
  std::vector<Figure> list;
  const bool waiting = finding.verdict.code == ViabilityCode::wait;
  if (finding.clash)
    list = clash_figures(finding);
  else if (finding.stand.seeds > 0 && (waiting || finding.ageing))
    list.push_back(tested(finding));
  if (finding.ageing) list.push_back(alive(finding, finding.as_of == finding.asked_on));
  if (finding.standard && !list.empty()) list.push_back(held_to(finding));
  if (finding.ageing && finding.p_meets) list.push_back(again(finding));
  if (!list.empty() && !waiting && list.size() < 5) list.push_back(left(finding));
  return list;
}

std::string reckoned_from(const analysis::LotViability& finding) {
  if (finding.clash || !finding.ageing) return "";
  const auto& ageing = *finding.ageing;
  if (!ageing.newest_test_on)
    return "Reckoned from its age alone" + by_what(ageing) + "; only a test can tell.";
  const auto used = tests_used(finding);
  std::string text = fmt::format("Reckoned from {}{}",
                                 counted(static_cast<std::int64_t>(used.size()), "test", "tests"),
                                 by_what(ageing));
  if (finding.from_soil)
    text +=
        ". Not all that is alive comes up in soil, and now and then a bed fails whole: that is "
        "allowed for";
  return text + ".";
}

}  // namespace plumule::report
