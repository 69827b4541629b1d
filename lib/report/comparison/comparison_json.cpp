#include "report/comparison.hpp"

#include <nlohmann/json.hpp>

#include "records/date.hpp"
#include "report/comparison/comparison_parts.hpp"
#include "report/comparison/comparison_words.hpp"
#include "report/comparison/trial_words.hpp"
#include "report/parts/json_parts.hpp"
#include "report/summary/group_json.hpp"

namespace plumule::report {

namespace {

std::string_view word(analysis::LeftOutWhy why) {
  switch (why) {
    case analysis::LeftOutWhy::counts_otherwise:
      return "counts-otherwise";
    case analysis::LeftOutWhy::other_unit:
      return "other-unit";
    case analysis::LeftOutWhy::not_looked_at:
      return "not-looked-at";
    case analysis::LeftOutWhy::stopped_early:
      return "stopped-early";
    case analysis::LeftOutWhy::not_followed:
      return "not-followed";
    case analysis::LeftOutWhy::units_unknown:
      break;
  }
  return "units-unknown";
}

std::string_view word(stats::ClosedBy by) {
  switch (by) {
    case stats::ClosedBy::planned_day:
      return "planned-day";
    case stats::ClosedBy::quiet:
      return "quiet";
    case stats::ClosedBy::hand:
      return "hand";
    case stats::ClosedBy::nothing:
      break;
  }
  return "nothing";
}

Json changed_json(const std::optional<records::SowingsChanged>& changed) {
  if (!changed) return nullptr;
  return {
      {"left", changed->left}, {"joined", changed->joined}, {"changed", changed_names(*changed)}};
}

Json state_json(const analysis::TreatmentComparison& finding) {
  const auto& state = finding.state;
  return {{"open", state.open()},
          {"closed_by", state.open() ? Json(nullptr) : Json(std::string(word(state.closing.by)))},
          {"closed_on", state.closed_on ? Json(records::to_text(*state.closed_on)) : Json(nullptr)},
          {"planned_last_day", records::to_text(state.planned_last_day)},
          {"last_day_changed_on", state.moved ? Json(records::to_text(state.moved->on)) : Json()},
          {"sowings_changed", changed_json(state.sowings_changed)},
          {"after_looking", finding.after_looking},
          {"text", state_words(finding)}};
}

Json factors_json(const std::vector<analysis::Factor>& factors) {
  Json names = Json::array();
  for (const auto factor : factors) names.push_back(factor_words({factor}));
  return names;
}

Json modelled_json(const std::optional<analysis::ModelledStand>& stand) {
  if (!stand) return nullptr;
  return {{"fraction", number(stand->mean)}, {"interval", json(stand->range)}};
}

Json layout_json(const analysis::TrialLayout& layout) {
  Json left_out = Json::array();
  for (const auto& out : layout.left_out)
    left_out.push_back({{"sowing", out.sowing}, {"why", std::string(word(out.why))}});
  return {{"units", layout.units.size()},
          {"blocks", layout.blocks.empty() ? Json(nullptr) : Json(layout.blocks)},
          {"strata", layout.strata},
          {"batches_recorded", layout.batches_recorded},
          {"kept_apart", factors_json(layout.kept_apart)},
          {"jar_across", factors_json(layout.jar_across)},
          {"several_lots", layout.several_lots},
          {"several_trials", layout.several_trials},
          {"left_out", left_out}};
}

Json global_json(const std::optional<stats::GlobalTest>& test) {
  if (!test || test->status != stats::RandomisationStatus::ok) return nullptr;
  return {{"p", number(test->p)},
          {"smallest_p", number(test->smallest_p)},
          {"arrangements", number(test->arrangements)},
          {"exact", test->exact}};
}

std::string_view word(stats::BestDoseStatus status) {
  switch (status) {
    case stats::BestDoseStatus::peak:
      return "peak";
    case stats::BestDoseStatus::no_peak:
      return "no-peak";
    case stats::BestDoseStatus::outside_tried:
      return "outside-tried";
    case stats::BestDoseStatus::no_curve:
      break;
  }
  return "no-curve";
}

Json dose_json(const std::optional<analysis::DoseAnswer>& dose) {
  if (!dose) return nullptr;
  const bool peak = dose->best.status == stats::BestDoseStatus::peak && !dose->single_unit &&
                    !dose->off_the_curve;
  const bool bounded = peak && dose->best.interval.kind == stats::FiellerKind::bounded;
  Json coefficients = Json::array();
  for (const double value : dose->curve.coefficients) coefficients.push_back(number(value));
  return {{"unit", dose->unit},
          {"tried", dose->tried},
          {"left_out", dose->left_out},
          {"status", std::string(word(dose->best.status))},
          {"single_unit", dose->single_unit},
          {"off_the_curve", dose->off_the_curve},
          {"best_dose", peak ? number(dose->best.dose) : Json(nullptr)},
          {"lower", bounded ? number(dose->best.interval.lower) : Json(nullptr)},
          {"upper", bounded ? number(dose->best.interval.upper) : Json(nullptr)},
          {"fraction", peak ? number(dose->best.fraction) : Json(nullptr)},
          {"coefficients", coefficients},
          {"trend", dose->trend ? Json{{"z", number(dose->trend->z)}, {"p", number(dose->trend->p)}}
                                : Json(nullptr)}};
}

}  // namespace

std::string comparison_json(const analysis::TreatmentComparison& finding, HintWords hints) {
  Json result = {{"subject", finding.subject},     {"question", text_or_null(finding.question)},
                 {"against", finding.against},     {"worth", number(finding.worth)},
                 {"level", number(finding.level)}, {"seed", finding.seed},
                 {"state", state_json(finding)},   {"layout", layout_json(finding.layout)}};
  Json treatments = Json::array();
  for (std::size_t i = 0; i < finding.treatments.size(); ++i) {
    treatments.push_back(group_json(finding.treatments[i]));
    const auto& stand = finding.stands[i];
    treatments.back()["standardised"] = {{"came_up", modelled_json(stand.came_up)},
                                         {"standing", modelled_json(stand.standing)}};
  }
  result["treatments"] = treatments;
  result["more_after_close"] = finding.more_after_close;
  result["lost_after_close"] = finding.lost_after_close;
  Json contrasts = Json::array();
  for (const auto& contrast : finding.contrasts)
    contrasts.push_back(contrast_json(finding, contrast, hints));
  result["contrasts"] = contrasts;
  Json pairs = Json::array();
  for (const auto& pair : finding.pairs) pairs.push_back(contrast_json(finding, pair, hints));
  result["pairs"] = pairs;
  result["global"] = global_json(finding.global);
  result["dose"] = dose_json(finding.dose);
  return written(result);
}

}  // namespace plumule::report
