// Every figure of every answer has an entry of `explain`, and every entry says what it must.
#include <doctest/doctest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>
#include <utility>

#include "analysis/due_today.hpp"
#include "analysis/explain/explanation.hpp"
#include "report/comparison.hpp"
#include "report/crops.hpp"
#include "report/explanation.hpp"
#include "report/findings.hpp"
#include "report/parts/json_parts.hpp"
#include "report/reckoning.hpp"
#include "report/summary.hpp"
#include "report/today.hpp"
#include "report/viability.hpp"

using namespace plumule;
using namespace plumule::tests;

namespace {

// Keys whose value is a figure: a number, or null where a figure could not be given.
void collect(const report::Json& answer, std::set<std::string>& figures) {
  if (answer.is_array())
    for (const auto& item : answer) collect(item, figures);
  if (!answer.is_object()) return;
  for (const auto& [key, value] : answer.items()) {
    if (value.is_number()) figures.insert(key);
    if (value.is_array() && !value.empty() && value.front().is_number()) figures.insert(key);
    collect(value, figures);
  }
}

void collect(const std::string& answer, std::set<std::string>& figures) {
  collect(report::Json::parse(answer), figures);
}

}  // namespace

TEST_CASE("every figure that an answer prints has an entry") {
  std::set<std::string> figures;
  const auto trays = soak_trial();
  collect(report::comparison_json(comparison(trays, 30)), figures);
  collect(report::comparison_json(comparison(trays, 8)), figures);
  for (const auto& group : groups(trays, analysis::SummaryBy::treatment))
    collect(report::summary_json(group), figures);
  auto beet = history("B", 20, {{9, 15}});
  beet.counts[0].entered.seedlings = 33;
  collect(report::summary_json(groups({beet}, analysis::SummaryBy::sowing).front()), figures);
  beet.counts[0].entered = {records::CountKind::standing, 11, std::nullopt, 4, 33};
  collect(report::summary_json(groups({beet}, analysis::SummaryBy::sowing).front()), figures);
  collect(report::viability_json(viability(7, 10)), figures);
  collect(report::viability_json(viability(98, 100)), figures);
  collect(report::viability_json(hard_beans(2, 23, 50)), figures);
  collect(report::viability_json(clashing_tests({45, 25})), figures);
  collect(report::reckon_json(analysis::reckon({18, 20}, {11, 20}, {})), figures);
  const std::vector open = {history("A", 50, {{3, 9}, {9, 9}}), history("B", 50, {})};
  collect(report::today_json(analysis::due_today(open, {}, on_day(12))), figures);
  collect(report::crop_json(analysis::crop_facts("lettuce")), figures);
  CHECK(figures.size() > 90);
  for (const auto& figure : figures)
    CHECK_MESSAGE(analysis::explain(figure) != nullptr, "no entry for ", figure);
}

TEST_CASE("every entry has a title, a meaning of at most four sentences and a source") {
  std::set<std::string_view> seen;
  for (const auto* entry : analysis::explanations()) {
    CAPTURE(entry->word);
    CHECK(seen.insert(entry->word).second);
    CHECK_FALSE(entry->title.empty());
    CHECK_FALSE(entry->meaning.empty());
    CHECK_FALSE(entry->source.empty());
    int sentences = 0;
    for (std::size_t i = 0; i + 1 < entry->meaning.size(); ++i)
      if (entry->meaning[i] == '.' && entry->meaning[i + 1] == ' ') ++sentences;
    CHECK(sentences <= 4);
  }
}

TEST_CASE("a name belongs to one entry, and is found by it") {
  std::map<std::string, std::string_view> owner;
  for (const auto* entry : analysis::explanations()) {
    CHECK(analysis::explain(entry->word) == entry);
    std::istringstream also{std::string(entry->also)};
    for (std::string name; also >> name;) {
      CAPTURE(name);
      const auto* found = analysis::explain(name);
      CHECK(found == entry);
      const auto put = owner.try_emplace(name, entry->word);
      CHECK_MESSAGE(put.second, "also of ", put.first->second);
    }
  }
}

TEST_CASE("what a screen prints is found as it stands there") {
  const std::pair<const char*, const char*> printed[] = {
      {"half up", "t50"},
      {"looked at too seldom", "uneven-looks"},
      {"sooner after sowing only", "sooner"},
      {"final stand", "stand"},
      {"closed as planned", "closed"},
      {"drawing of lots", "randomisation"},
      {"spread between sowings", "between-sowings"},
      {"mean of them", "mean-of-sowings"},
      {"90 % below", "rho90"},
      {"by hand", "closed"},
      {"nick the seed", "viability"},
      {"*", "open"},
      {"x", "ending"},
      {"~", "mean-of-sowings"},
      {"=", "interval"},
      {"standing", "standing"},
      {"20 lost", "standing"},
      {"alive", "alive"},
      {"comes up now", "alive"},
      {"alive, hard ones too", "alive"},
      {"posterior", "posterior"},
      {"worth having", "worth"},
      {"true percentage (95 %)", "interval"},
      {"95 % range", "interval"},
      {"one-sided limits (90 %)", "one-sided-limits"},
      {"difference in stand", "difference"},
      {"days, from sowing", "between-sowings"},
      {"days, from wetting", "since-wetting"},
      {"drawing lots anew", "randomisation"},
      {"cumulative sum", "timson-sum"},
      {"Weibull", "weibull"},
      {"p over all 2 (Holm)", "holm"},
      {"fisher (seed level)", "fisher"},
      {"p by the model", "standardised"},
      {"came up", "stand"},
      {"difference, standing", "difference"},
      {"within each seed lot", "within-each"},
      {"difference, newcombe", "difference"},
      {"wilson, corrected", "wilson"},
      {"time, by the model", "time-ratio"},
      {"50 % of those sown", "t50"},
      {"chance", "chance"},
      {"first up, day", "first"},
      {"spread, days", "spread"},
      {"variation, %", "cv"},
  };
  for (const auto& [written, entry] : printed) {
    const auto& word = written;
    CAPTURE(word);
    const auto* found = analysis::explain(word);
    REQUIRE(found != nullptr);
    CHECK(found->word == entry);
  }
  for (const char* nothing : {"", " ", "95 %", "(seed level)", ",", "50, 60", "zz, yy"})
    CHECK_MESSAGE(analysis::explain(nothing) == nullptr, nothing);
}

TEST_CASE("what may be meant is looked for in words and titles") {
  const auto near = analysis::explained_near("germin", 3);
  CHECK(near.size() == 3);
  CHECK(analysis::explained_near("qq", 3).empty());
  CHECK(analysis::explained_near("zzzz", 3).empty());
}

TEST_CASE("words are found whatever their case and joints, unknown ones are not") {
  REQUIRE(analysis::explain("T50-Coolbear") != nullptr);
  CHECK(analysis::explain("t50_coolbear") == analysis::explain("t50 coolbear"));
  CHECK(analysis::explain("clopper-pearson")->title == "exact interval");
  CHECK(analysis::explain("nonsense") == nullptr);
}
