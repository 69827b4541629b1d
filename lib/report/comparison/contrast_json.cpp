#include "report/comparison/comparison_parts.hpp"

#include <nlohmann/json.hpp>

#include "records/date.hpp"
#include "report/comparison/comparison_words.hpp"
#include "report/parts/method_words.hpp"

namespace plumule::report {

namespace {

Json effect_json(const analysis::Effect& effect) {
  return {{"estimate", number(effect.estimate)}, {"intervals", json(effect.intervals)}};
}

Json chi_squared_json(const stats::ChiSquaredTest& test) {
  return {
      {"chi_squared", number(test.chi_squared)}, {"df", number(test.df)}, {"p", number(test.p)}};
}

Json seed_level_json(const analysis::SeedLevel& seeds) {
  Json result = {{"tests", json(seeds.tests)}};
  result["mantel_haenszel"] =
      seeds.mantel_haenszel ? Json{{"chi_squared", number(seeds.mantel_haenszel->chi_squared)},
                                   {"p", number(seeds.mantel_haenszel->p)}}
                            : Json(nullptr);
  const auto& odds = seeds.common_odds_ratio;
  result["common_odds_ratio"] =
      odds ? Json{{"estimate", number(odds->estimate)}, {"interval", json(odds->interval)}}
           : Json(nullptr);
  const auto& agreement = seeds.agreement;
  result["breslow_day"] = agreement ? chi_squared_json(agreement->breslow_day) : Json(nullptr);
  result["tarone"] = agreement ? chi_squared_json(agreement->tarone) : Json(nullptr);
  return result;
}

// {code, ground, text}
template <class Verdict>
Json verdict_json(const Verdict& verdict, const std::string& text) {
  return {{"code", std::string(analysis::word(verdict.code))},
          {"ground", std::string(analysis::word(verdict.ground))},
          {"text", text}};
}

// What was claimed of one quantity, and by what; with the trial open only the difference.
Json finding_json(const analysis::StandFinding& stand, bool open) {
  const auto& model = stand.by_model;
  const bool told = stand.told && !open;
  const auto one = [&](double value) { return told ? number(value) : Json(nullptr); };
  return {{"difference", number(stand.difference())},
          {"plain_difference", number(stand.plain)},
          {"interval", told ? json(model.range) : Json(nullptr)},
          {"p_better", one(model.p_better)},
          {"p_worth", one(model.p_worth)},
          {"p_worth_less", one(model.p_worth_less)},
          {"p_within", one(model.p_within)},
          {"bayes_factor", one(model.bayes_factor)},
          {"p", one(model.tail())},
          {"claim_p", one(stand.judged.claim_p)},
          {"within_p", one(stand.judged.within_p)},
          {"df", number(model.df)},
          {"gaps_filled", model.gaps_filled},
          {"judged_by", text_or_null(stand.judged_by)}};
}

// The names that stand where there is nothing to tell.
Json no_finding_json() {
  Json made = finding_json({}, true);
  for (auto& [name, value] : made.items()) value = nullptr;
  return made;
}

Json stand_json(const analysis::TreatmentComparison& finding, const analysis::Contrast& contrast) {
  const analysis::StandContrast& stand = contrast.stand;
  const bool open = finding.state.open();
  const auto& verdict = contrast.verdicts.came_up;
  Json result = stand.came_up ? finding_json(*stand.came_up, open) : no_finding_json();
  result["intervals"] = json(stand.intervals);
  result["ground"] = std::string(analysis::word(verdict.ground));
  result["verdict"] = verdict_json(verdict, stand_words(finding, contrast));
  result["standing"] = nullptr;
  if (stand.standing) {
    result["standing"] = finding_json(*stand.standing, open);
    result["standing"]["verdict"] =
        verdict_json(*contrast.verdicts.standing, standing_words(finding, contrast));
  }
  Json parted = Json::array();
  for (const auto factor : stand.parted_by) parted.push_back(factor_words({factor}));
  result["parted_by"] = parted;
  const auto wild = stand.came_up && !open ? stand.came_up->by_model.spreads_more : std::nullopt;
  result["spreads_more"] =
      wild ? Json(finding.layout.treatments[static_cast<std::size_t>(*wild)]) : Json(nullptr);
  result["unlike"] = nullptr;
  if (stand.unlike && stand.unlike->told)
    result["unlike"] = {{"rho", analysis::unlike_rho},
                        {"difference", number(stand.unlike->by_model.estimate)},
                        {"interval", json(stand.unlike->by_model.range)},
                        {"claim_p", number(stand.unlike->judged.claim_p)}};
  result["last_look"] =
      contrast.last_look ? Json(records::to_text(*contrast.last_look)) : Json(nullptr);
  result["units"] = stand.units;
  result["units_against"] = stand.units_against;
  result["ratio"] = effect_json(stand.ratio);
  result["odds_ratio"] = effect_json(stand.odds_ratio);
  result["seed_level"] = seed_level_json(stand.seed_level);
  result["prior"] = json(finding.prior, finding.rho90);
  return result;
}

// No lots were drawn while the trial is open, so there is no seed.
Json randomisation_json(const std::optional<stats::Randomisation>& test, bool open) {
  Json result = json(test);
  if (open && test) result["seed"] = nullptr;
  return result;
}

Json speed_figure_json(const analysis::SpeedFigure& figure, bool open) {
  const auto& x = figure.difference;
  return {{"estimate", number(x.difference)},
          {"se", number(x.se)},
          {"df", number(x.df)},
          {"level", number(x.level)},
          {"lower", number(x.lower)},
          {"upper", number(x.upper)},
          {"lower90", number(x.lower90)},
          {"upper90", number(x.upper90)},
          {"p", number(x.p)},
          {"welch", x.welch},
          {"within_blocks", x.within_blocks},
          {"sowings", x.sowings},
          {"sowings_against", x.against},
          {"left_out", x.left_out + x.left_out_against},
          {"randomisation", randomisation_json(figure.randomisation, open)}};
}

Json rank_json(const std::optional<stats::GroupedRankTest>& test, const char* scores) {
  if (!test || test->status != stats::RankStatus::compared) return nullptr;
  return {{"scores", scores},
          {"u", number(test->u)},
          {"z", number(test->z)},
          {"p_seeds", number(test->p_seeds)},
          {"p_sowings", number(test->p_sowings)},
          {"smallest_p", number(test->smallest_p)},
          {"exact", test->exact}};
}

Json gaps_json(const std::optional<stats::GapAllowance>& gaps) {
  if (!gaps) return nullptr;
  return {{"ratio_lower95", number(gaps->ratio_lower95)},
          {"ratio_upper95", number(gaps->ratio_upper95)},
          {"days_lower90", number(gaps->lower90)},
          {"days_upper90", number(gaps->upper90)},
          {"days_earliest", number(gaps->earliest)},
          {"days_latest", number(gaps->latest)}};
}

Json ratio_json(const std::optional<stats::TimeRatio>& ratio) {
  if (!ratio) return nullptr;
  return {{"estimate", number(ratio->ratio)},
          {"log_se", number(ratio->log_se)},
          {"log_se_clustered", number(ratio->log_se_clustered)},
          {"level", number(ratio->level)},
          {"lower", number(ratio->lower)},
          {"upper", number(ratio->upper)},
          {"df", ratio->df}};
}

Json joint_json(const analysis::JointFit& fit) {
  const auto& model = fit.model;
  const bool fitted = model.status == stats::ModelStatus::fitted;
  Json arms = Json::array();
  for (const auto& arm : model.treatments)
    arms.push_back({{"fraction", json(arm.fraction)},
                    {"t50", json(arm.t50)},
                    {"shape", json(arm.shape)},
                    {"fraction_at_one", arm.fraction_at_one}});
  return {{"shared_spread", fit.shared_spread},
          {"shared_fraction", fit.shared_fraction},
          {"status", std::string(word(model.status))},
          {"family", fitted ? Json(std::string(word(model.family))) : Json(nullptr)},
          {"loglik", fitted ? number(model.loglik) : Json(nullptr)},
          {"aic", fitted ? number(model.aic) : Json(nullptr)},
          {"dispersion", fitted ? number(model.dispersion) : Json(nullptr)},
          {"qaic", fitted ? number(model.qaic) : Json(nullptr)},
          {"parameters", model.parameters},
          {"treatments", arms},
          {"time_ratio", ratio_json(fit.ratio)}};
}

Json speed_json(const analysis::Contrast& contrast, bool open) {
  const analysis::SpeedContrast& speed = contrast.speed;
  Json result = {{"mean_days", speed_figure_json(speed.mean_days, open)},
                 {"t50", speed_figure_json(speed.t50, open)}};
  result["mean_days_wetted"] =
      speed.mean_days_wetted ? speed_figure_json(*speed.mean_days_wetted, open) : Json(nullptr);
  result["verdict"] = verdict_json(contrast.verdicts.speed, speed_words(contrast));
  result["nothing_up"] = speed.nothing_up;
  result["log_rank"] = rank_json(speed.log_rank, "sun");
  result["wilcoxon"] = rank_json(speed.wilcoxon, "wilcoxon");
  result["score_test"] =
      speed.score && speed.score->given
          ? Json{{"chi_squared", number(speed.score->chi_squared)}, {"p", number(speed.score->p)}}
          : Json(nullptr);
  const auto& looks = speed.looks;
  result["looks"] = open ? Json(nullptr)
                         : Json{{"uneven", looks.uneven},
                                {"shortest_gap", number(looks.shortest)},
                                {"longest_gap", number(looks.longest)},
                                {"spread_of_days", number(looks.spread)}};
  result["gaps_allowed_for"] = gaps_json(speed.gaps);
  result["time_ratio"] = ratio_json(speed.time_ratio);
  result["joint"] = Json::array();
  for (const auto& fit : speed.joint) result["joint"].push_back(joint_json(fit));
  return result;
}

Json evidence_json(const std::optional<analysis::EvidenceSoFar>& evidence) {
  if (!evidence) return nullptr;
  const auto& test = evidence->sequential;
  const auto& seeds = evidence->seed_level;
  return {{"can_claim", test.can_claim},
          {"claimed", test.claimed},
          {"claimed_on",
           evidence->claimed_on ? Json(records::to_text(*evidence->claimed_on)) : Json(nullptr)},
          {"first_ahead", test.claimed ? Json(test.first_ahead) : Json(nullptr)},
          {"looks", test.looks.size()},
          {"smallest_p", number(test.smallest_p)},
          {"arrangements", test.arrangements},
          {"deflated", seeds.given ? number(seeds.deflated) : Json(nullptr)},
          {"highest_deflated", seeds.given ? number(seeds.highest_deflated) : Json(nullptr)},
          {"raw", seeds.given ? number(seeds.raw) : Json(nullptr)},
          {"highest_raw", seeds.given ? number(seeds.highest_raw) : Json(nullptr)},
          {"phi", seeds.given ? number(seeds.phi) : Json(nullptr)}};
}

Json holm_json(const std::optional<analysis::Adjusted>& holm) {
  if (!holm) return nullptr;
  return {{"comparisons", holm->comparisons},
          {"stand", number(holm->came_up)},
          {"standing", number(holm->standing)},
          {"randomisation", number(holm->randomisation)},
          {"mean_days", number(holm->days)}};
}

Json to_tell_json(const std::optional<stats::TraysNeeded>& to_tell) {
  if (!to_tell) return nullptr;
  return {{"trays", to_tell->trays ? Json(*to_tell->trays) : Json(nullptr)},
          {"in_pairs", to_tell->pairs},
          {"seeds", to_tell->seeds},
          {"chance", number(to_tell->chance)},
          {"most_tried", to_tell->most_tried}};
}

}  // namespace

Json contrast_json(const analysis::TreatmentComparison& finding, const analysis::Contrast& contrast,
                   HintWords hints) {
  const bool open = finding.state.open();
  Json result = {{"treatment", contrast.treatment}, {"against", contrast.against}};
  result["stand"] = stand_json(finding, contrast);
  result["speed"] = speed_json(contrast, open);
  result["randomisation"] = randomisation_json(contrast.stand.randomisation, open);
  result["holm"] = holm_json(contrast.holm);
  result["holm_pairs"] = holm_json(contrast.holm_pairs);
  result["evidence"] = evidence_json(contrast.evidence);
  result["to_tell"] = to_tell_json(contrast.stand.to_tell);
  result["one_batch"] = contrast.one_batch;
  result["one_batch_against"] = contrast.one_batch_against;
  result["verdict"] = {{"code", contrast.code},
                       {"text", verdict_words(finding, contrast)},
                       {"remarks", verdict_remarks(finding, contrast, hints)}};
  return result;
}

}  // namespace plumule::report
