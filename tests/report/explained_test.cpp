// Every figure of every answer has an entry of `explain`, and every entry says what it must.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "analysis/due_today.hpp"
#include "analysis/explanation.hpp"
#include "report/comparison_json.hpp"
#include "report/crops_json.hpp"
#include "report/explain_json.hpp"
#include "report/findings.hpp"
#include "report/group_json.hpp"
#include "report/reckon_json.hpp"
#include "report/today_json.hpp"
#include "report/viability_json.hpp"

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

}  // namespace

TEST_CASE("every figure that an answer prints has an entry") {
  std::set<std::string> figures;
  const auto trays = soak_trial();
  collect(report::comparison_json(comparison(trays, 30)), figures);
  collect(report::comparison_json(comparison(trays, 8)), figures);
  for (const auto& group : groups(trays, analysis::SummaryBy::treatment))
    collect(report::group_json(group), figures);
  auto beet = history("B", 20, {{9, 15}});
  beet.counts[0].entered.seedlings = 33;
  collect(report::group_json(groups({beet}, analysis::SummaryBy::sowing).front()), figures);
  collect(report::viability_json(viability(7, 10)), figures);
  collect(report::viability_json(viability(98, 100)), figures);
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

TEST_CASE("words are found whatever their case and joints, unknown ones are not") {
  REQUIRE(analysis::explain("T50-Coolbear") != nullptr);
  CHECK(analysis::explain("t50_coolbear") == analysis::explain("t50 coolbear"));
  CHECK(analysis::explain("clopper-pearson")->title == "exact interval");
  CHECK(analysis::explain("nonsense") == nullptr);
}
