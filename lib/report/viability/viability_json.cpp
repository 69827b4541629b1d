#include "report/viability.hpp"

#include <nlohmann/json.hpp>

#include "records/words.hpp"
#include "report/parts/json_parts.hpp"
#include "report/summary/group_json.hpp"
#include "report/viability/viability_words.hpp"

namespace plumule::report {

namespace {

std::string_view word(analysis::LotStandard::By by) {
  switch (by) {
    case analysis::LotStandard::By::given:
      return "given";
    case analysis::LotStandard::By::crop:
      return "crop";
    case analysis::LotStandard::By::label:
      break;
  }
  return "label";
}

std::string_view word(analysis::ViabilityGround ground) {
  switch (ground) {
    case analysis::ViabilityGround::meets:
      return "meets";
    case analysis::ViabilityGround::near_enough:
      return "near-enough";
    case analysis::ViabilityGround::falls_short:
      return "falls-short";
    case analysis::ViabilityGround::too_low:
      return "too-low";
    case analysis::ViabilityGround::hard_seed:
      return "hard-seed";
    case analysis::ViabilityGround::tests_clash:
      return "tests-clash";
    case analysis::ViabilityGround::undecided:
      return "undecided";
    case analysis::ViabilityGround::nothing_known:
      break;
  }
  return "nothing-known";
}

Json test_json(const analysis::LotTest& test) {
  return {{"sowing", test.name},
          {"sown_on", records::to_text(test.sown)},
          {"setting", std::string(records::word(test.setting))},
          {"counting", std::string(records::word(test.counting))},
          {"treatment", test.treatment},
          {"seeds", test.seeds ? Json(*test.seeds) : Json(nullptr)},
          {"emerged", test.emerged ? Json(*test.emerged) : Json(nullptr)},
          {"hard", test.hard},
          {"last_look", test.last_look ? Json(records::to_text(*test.last_look)) : Json(nullptr)},
          {"ended_on", test.ended_on ? Json(records::to_text(*test.ended_on)) : Json(nullptr)},
          {"failed_why", text_or_null(test.failed_why)},
          {"give_up_day", test.give_up_day},
          {"running", test.running},
          {"cut_short", test.cut_short},
          {"use", std::string(report::word(test.use))}};
}

Json side_json(const analysis::ClashSide& side) {
  return {
      {"tests", side.tests}, {"stand", stand_json(side.stand)}, {"p_meets", number(side.p_meets)}};
}

Json clash_json(const analysis::LotViability& finding) {
  if (!finding.clash) return nullptr;
  const auto& clash = *finding.clash;
  Json later = Json::array();
  for (const auto& side : clash.later) later.push_back(side_json(side));
  const auto& meanwhile = finding.verdict.meanwhile;
  return {{"older", side_json(clash.older)},
          {"newer", side_json(clash.newer)},
          {"later", later},
          {"p", number(clash.p)},
          {"meanwhile", meanwhile ? Json(std::string(word(*meanwhile))) : Json(nullptr)}};
}

std::string_view word(analysis::AgeingMethod method) {
  switch (method) {
    case analysis::AgeingMethod::own_tests:
      return "own-tests";
    case analysis::AgeingMethod::seed_life:
      return "seed-life";
    case analysis::AgeingMethod::none:
      break;
  }
  return "none";
}

Json date_json(const std::optional<records::Date>& date) {
  return date ? Json(records::to_text(*date)) : Json(nullptr);
}

Json ageing_json(const std::optional<analysis::LotAgeing>& ageing) {
  if (!ageing) return nullptr;
  return {{"method", std::string(word(ageing->method))},
          {"newest_test_on", date_json(ageing->newest_test_on)},
          {"listed_years", number(ageing->listed_years)},
          {"expected", number(ageing->expected)},
          {"now", json(ageing->now)},
          {"falls_below",
           {{"p05", date_json(ageing->falls_p05)},
            {"p50", date_json(ageing->falls_p50)},
            {"p95", date_json(ageing->falls_p95)}}},
          {"retest_by", date_json(ageing->retest_by)}};
}

Json verdict_json(const analysis::LotViability& finding, HintWords hints) {
  const auto& verdict = finding.verdict;
  return {{"code", std::string(report::word(verdict.code))},
          {"text", verdict_words(finding, hints)},
          {"reasons", verdict_reasons(finding)},
          {"ground", std::string(word(verdict.ground))},
          {"times", number(verdict.times)},
          {"times_nicked", number(verdict.times_nicked)},
          {"more_seeds", verdict.more_seeds ? Json(*verdict.more_seeds) : Json(nullptr)},
          {"decides", number(verdict.decides)},
          {"p_short", number(verdict.p_short)},
          {"sure_of", number(verdict.sure_of)},
          {"stand_if_wrong", number(verdict.stand_if_wrong)},
          {"look_again",
           verdict.look_again ? Json(records::to_text(*verdict.look_again)) : Json(nullptr)}};
}

}  // namespace

std::string viability_json(const analysis::LotViability& finding, HintWords hints) {
  Json result = {{"lot", finding.lot.code},
                 {"crop", text_or_null(finding.lot.crop)},
                 {"irreplaceable", finding.lot.irreplaceable}};
  Json tests = Json::array();
  for (const auto& test : finding.tests) tests.push_back(test_json(test));
  result["tests"] = tests;
  result["unit"] = std::string(records::word(finding.unit));
  result["from_soil"] = finding.from_soil;
  result["clash"] = clash_json(finding);
  result["stand"] = stand_json(finding.stand);
  Json limits = Json::array();
  for (const auto* limit :
       {&finding.lower_limit, &finding.upper_limit, &finding.lower_exact, &finding.upper_exact})
    if (*limit) limits.push_back(json(**limit));
  result["limits"] = limits;
  const auto& any = finding.any_number;
  result["any_number"] = any ? Json{{"level", number(finding.stand.interval->level)},
                                    {"lower", number(any->lower)},
                                    {"upper", number(any->upper)},
                                    {"deflation", number(any->deflation)}}
                             : Json(nullptr);
  result["hard"] = finding.hard;
  result["alive"] = finding.alive ? stand_json(*finding.alive) : Json(nullptr);
  const auto& standard = finding.standard;
  result["standard"] = standard ? Json{{"fraction", number(standard->fraction)},
                                       {"by", std::string(word(standard->by))},
                                       {"source", standard->source},
                                       {"counts_hard", standard->counts_hard}}
                                : Json(nullptr);
  result["as_of"] = records::to_text(finding.as_of);
  result["p_meets"] = number(finding.p_meets);
  result["ageing"] = ageing_json(finding.ageing);
  result["stock_left"] = finding.seeds_left ? Json(*finding.seeds_left) : Json(nullptr);
  result["p_now"] = number(finding.p_now);
  result["p_alive"] = number(finding.p_alive);
  result["best_lower"] = number(finding.best_lower);
  result["seeds_to_show"] = finding.seeds_to_show ? Json(*finding.seeds_to_show) : Json(nullptr);
  result["verdict"] = verdict_json(finding, hints);
  return written(result);
}

}  // namespace plumule::report
