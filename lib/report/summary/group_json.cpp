#include "report/summary/group_json.hpp"

#include <nlohmann/json.hpp>

#include "records/words.hpp"
#include "report/parts/method_words.hpp"
#include "report/summary.hpp"

namespace plumule::report {

namespace {

std::string_view word(stats::BetaBinomialStatus status) {
  switch (status) {
    case stats::BetaBinomialStatus::ok:
      return "fitted";
    case stats::BetaBinomialStatus::rho_zero:
      return "rho-zero";
    case stats::BetaBinomialStatus::rho_one:
      return "rho-one";
    case stats::BetaBinomialStatus::not_estimable:
      return "not-estimable";
    case stats::BetaBinomialStatus::not_converged:
      break;
  }
  return "not-converged";
}

Json by_day_json(const std::optional<analysis::ByDay>& by) {
  if (!by) return nullptr;
  const auto share = [&](std::int64_t up) {
    return by->seeds > 0 ? number(static_cast<double>(up) / static_cast<double>(by->seeds))
                         : Json(nullptr);
  };
  return {{"day", number(by->day)},           {"sowings", by->sowings},
          {"not_followed", by->not_followed}, {"seeds", by->seeds},
          {"at_least", share(by->at_least)},  {"at_most", share(by->at_most)},
          {"interval", json(by->interval)},   {"interval_moved", by->interval_moved}};
}

// As a stand, of those that stand: they are not called emerged.
Json standing_json(const analysis::Group& group) {
  if (!group.standing) return nullptr;
  Json result = stand_json(*group.standing);
  result.erase("emerged");
  result["standing"] = group.standing->emerged;
  result["lost"] = group.stand.emerged - group.standing->emerged;
  return result;
}

std::string_view word(analysis::Modelled modelled) {
  switch (modelled) {
    case analysis::Modelled::yes:
      return "fitted";
    case analysis::Modelled::no_looks:
      return "no-looks";
    case analysis::Modelled::too_many_sowings:
      return "too-many-sowings";
    case analysis::Modelled::not_asked:
      break;
  }
  return "not-asked";
}

Json days_json(const analysis::Days& days) {
  Json result = indices_json(days.indices);
  const auto& between = days.between_sowings;
  const bool known = between.status == stats::TStatus::ok;
  const auto& t50 = days.between_t50;
  const bool half = t50.status == stats::TStatus::ok;
  result["between_sowings"] =
      known ? Json{{"mean", number(between.difference)},
                   {"interval", json(between.interval)},
                   {"t50", half ? number(t50.difference) : Json(nullptr)},
                   {"t50_interval", half ? json(t50.interval) : Json(nullptr)},
                   {"nothing_up", days.nothing_up}}
            : Json(nullptr);
  result["nothing_up"] = days.nothing_up;
  result["same_looks"] = days.same_looks;
  result["since_wetting"] = days.since_wetting ? indices_json(*days.since_wetting) : Json(nullptr);
  return result;
}

Json gaps_json(const std::optional<analysis::GapDays>& gaps) {
  if (!gaps || gaps->estimate.status == stats::NpmleStatus::no_data) return nullptr;
  Json points = Json::array();
  for (const auto& point : gaps->estimate.points) points.push_back(json(point));
  Json result = {{"points", points},
                 {"emerged", number(gaps->estimate.emerged_mass)},
                 {"loglik", number(gaps->estimate.loglik)},
                 {"kkt_gap", number(gaps->estimate.kkt_gap)},
                 {"converged", gaps->estimate.status == stats::NpmleStatus::fitted}};
  result["mean_days"] =
      gaps->mean ? Json{{"lower", number(gaps->mean->lower)}, {"upper", number(gaps->mean->upper)}}
                 : Json(nullptr);
  result["t10"] = json(gaps->t10);
  result["t25"] = json(gaps->t25);
  result["t50"] = json(gaps->t50);
  result["t75"] = json(gaps->t75);
  result["t90"] = json(gaps->t90);
  result["t50_sown"] = json(gaps->t50_sown);
  return result;
}

Json rest_json(const analysis::Group& group) {
  Json result = Json::object();
  for (const auto& [outcome, units] : group.rest)
    result[std::string(records::word(outcome))] = units;
  return result;
}

}  // namespace

Json indices_json(const stats::EmergenceIndices& x) {
  return {{"first", number(x.first)},
          {"last", number(x.last)},
          {"spread", number(x.spread)},
          {"mean", number(x.mean)},
          {"variance", number(x.variance)},
          {"cv", number(x.cv)},
          {"velocity", number(x.velocity)},
          {"speed", number(x.speed)},
          {"uncertainty_bits", number(x.uncertainty_bits)},
          {"synchrony", number(x.synchrony)},
          {"t50_coolbear", number(x.t50_coolbear)},
          {"t50_farooq", number(x.t50_farooq)},
          {"peak_value", number(x.peak_value)},
          {"peak_day", number(x.peak_day)},
          {"mean_daily", number(x.mean_daily)},
          {"germination_value", number(x.germination_value)},
          {"timson_sum", number(x.timson_sum)}};
}

Json stand_json(const analysis::Stand& stand) {
  return {{"sowings", stand.sowings},
          {"seeds", stand.seeds},
          {"emerged", stand.emerged},
          {"fraction", number(stand.fraction)},
          {"mean_of_sowings", number(stand.mean_of_sowings)},
          {"interval", json(stand.interval)},
          {"interval_moved", stand.interval_moved},
          {"intervals", json(stand.intervals)},
          {"prior", json(stand.prior, stand.rho90)}};
}

Json agreement_json(const std::optional<analysis::Agreement>& agreement) {
  if (!agreement) return nullptr;
  Json result = Json::object();
  const auto& range = agreement->range;
  result["range"] = range.status == stats::RangeStatus::ok
                        ? Json{{"seeds", number(range.range_seeds)},
                               {"percent", number(range.range_percent)},
                               {"tolerated_seeds", number(range.tolerated.seeds)},
                               {"tolerated_percent", number(range.tolerated.percent)},
                               {"by", std::string(word(range.tolerated.source))},
                               {"within", range.within}}
                        : Json(nullptr);
  const auto& spread = agreement->spread;
  const auto& fit = agreement->beta_binomial;
  const bool fitted = fit.status == stats::BetaBinomialStatus::ok ||
                      fit.status == stats::BetaBinomialStatus::rho_zero;
  result["beta_binomial"] = {{"status", std::string(word(fit.status))},
                             {"p", fitted ? number(fit.p.front()) : Json(nullptr)},
                             {"se_p", fitted ? number(fit.se_p()) : Json(nullptr)},
                             {"rho", fitted ? number(fit.rho) : Json(nullptr)},
                             {"se_rho", fitted ? number(fit.se_rho()) : Json(nullptr)},
                             {"loglik", fitted ? number(fit.log_likelihood) : Json(nullptr)}};
  result["heterogeneity"] = spread ? Json{{"chi_squared", number(spread->chi_squared)},
                                          {"df", number(spread->df)},
                                          {"p", number(spread->p)},
                                          {"drawn", spread->draws > 0}}
                                   : Json(nullptr);
  return result;
}

Json model_json(const stats::EmergenceModel& model) {
  Json result = {{"status", std::string(word(model.status))},
                 {"family", std::string(word(model.distribution.family))}};
  const bool fitted = model.status == stats::ModelStatus::fitted;
  const auto of_fit = [&](Json value) { return fitted ? std::move(value) : Json(nullptr); };
  if (!fitted) result["family"] = nullptr;
  result["loglik"] = of_fit(number(model.loglik));
  result["aic"] = of_fit(number(model.aic));
  result["qaic"] = of_fit(number(model.qaic));
  result["dispersion"] = of_fit(number(model.dispersion));
  result["parameters"] = model.parameters;
  result["fraction"] = of_fit(json(model.fraction));
  result["t10"] = of_fit(json(model.t10));
  result["t25"] = of_fit(json(model.t25));
  result["t50"] = of_fit(json(model.t50));
  result["t75"] = of_fit(json(model.t75));
  result["t90"] = of_fit(json(model.t90));
  result["shape"] = of_fit(json(model.shape));
  result["scale"] = of_fit(json(model.scale));
  result["lag"] = fitted && model.lag.estimate > 0 ? json(model.lag) : Json(nullptr);
  result["fraction_at_one"] = model.fraction_at_one;
  result["fraction_least"] = number(model.fraction_least);
  result["fraction_unsettled"] = of_fit(Json(model.fraction_unsettled));
  result["share_seen"] = of_fit(number(model.share_seen));
  result["of_emerged"] = model.of_emerged;
  result["t50_after"] = number(model.t50_after);
  result["t50_by"] = number(model.t50_by);
  return result;
}

Json group_json(const analysis::Group& group) {
  const bool known = group.seeds > 0;
  Json result = {
      {"key", group.key},
      {"name", group.name},
      {"counting", std::string(records::word(group.counting))},
      {"unit", std::string(records::word(group.unit))},
      {"first_sown", group.first_sown ? Json(records::to_text(*group.first_sown)) : Json(nullptr)},
      {"last_sown", group.last_sown ? Json(records::to_text(*group.last_sown)) : Json(nullptr)},
      {"sowings", group.sowings},
      {"open", group.open},
      {"not_looked_at", group.not_looked_at},
      {"seeds_not_looked_at", group.seeds_not_looked_at},
      {"units_unknown", group.units_unknown},
      {"seeds", known ? Json(group.seeds) : Json(nullptr)},
      {"emerged", known ? Json(group.emerged) : Json(nullptr)},
      {"lost", known ? Json(group.lost) : Json(nullptr)},
      {"seeds_unknown",
       {{"sowings", group.unknown.sowings},
        {"emerged", group.unknown.emerged},
        {"lost", group.unknown.lost}}},
      {"guessed", group.guessed},
      {"units_estimated", group.units_estimated},
      {"stopped_early", group.stopped_early},
      {"not_followed", group.not_followed},
      {"accidents_counted", group.accidents_counted},
      {"not_final", group.not_final}};
  result["stand"] = stand_json(group.stand);
  result["standing"] = standing_json(group);
  result["agreement"] = agreement_json(group.agreement);
  result["by_day"] = by_day_json(group.by_day);
  result["days"] = days_json(group.days);
  result["npmle"] = gaps_json(group.gaps);
  result["modelled"] = std::string(word(group.modelled));
  result["model"] = group.model ? model_json(*group.model) : Json(nullptr);
  result["seedlings"] = {{"seedlings", group.seedlings.seedlings},
                         {"units_up", group.seedlings.units_up},
                         {"per_unit", number(group.seedlings.per_unit)},
                         {"metres", number(group.seedlings.metres)},
                         {"per_metre", number(group.seedlings.per_metre)}};
  result["rest"] = rest_json(group);
  return result;
}

std::string summary_json(const analysis::Group& group) { return written(group_json(group)); }

}  // namespace plumule::report
