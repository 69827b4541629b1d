#include "report/summary/gaps_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

std::string intervals_text(const Style& style, const analysis::Stand& stand,
                           std::string_view of = "") {
  if (stand.intervals.empty()) return "";
  std::vector<Figure> list;
  for (const auto& interval : stand.intervals)
    list.push_back({std::string(interval.method), percent_range(interval.lower, interval.upper)});
  return "\n" +
         paragraph(style,
                   level_words(stand.interval->level) + " intervals" + std::string(of) +
                       " (only tray-aware and design-effect know that "
                       "seeds of one sowing are alike):",
                   2) +
         figures(style, list, 4);
}

std::string agreement_text(const Style& style, const analysis::Group& group) {
  if (!group.agreement) return "";
  const auto& range = group.agreement->range;
  std::string text;
  const auto& stand = group.stand;
  if (stand.emerged == 0 || stand.emerged == stand.seeds) {
    text = fmt::format("Sowings agree? {} came up in each of them.",
                       stand.emerged == 0 ? "Nothing" : "Everything");
  } else if (range.status == stats::RangeStatus::ok) {
    const auto& tolerated = range.tolerated;
    text = fmt::format(
        "Sowings agree? Highest less lowest is {} points; up to {} would be chance ({}): {}.",
        figure(range.range_percent), figure(tolerated.percent),
        tolerated.source == stats::RangeSource::table ? "7 CFR 201.55" : "the same rule, computed",
        range.within ? "they agree" : "they differ by more than chance explains");
  } else {
    text = "Sowings agree? They are of different sizes, and the tolerated range is for one size.";
  }
  if (const auto& spread = group.agreement->spread)
    text +=
        fmt::format(" Chi-squared {} on {:.0f} df, {}{}.", figure(spread->chi_squared), spread->df,
                    p_words(spread->p), spread->draws > 0 ? " (by drawing lots)" : "");
  const auto& fit = group.agreement->beta_binomial;
  if (fit.status == stats::BetaBinomialStatus::ok)
    text += fmt::format(
        " Likeliest (beta-binomial): {} up, rho {}{}.", percent(fit.p.front()), figure(fit.rho),
        std::isfinite(fit.se_rho()) ? fmt::format(" (standard error {})", figure(fit.se_rho()))
                                    : "");
  else if (fit.status == stats::BetaBinomialStatus::rho_zero)
    text += fmt::format(" Likeliest (beta-binomial): {} up, rho 0.", percent(fit.p.front()));
  return paragraph(style, text, 2);
}

std::string set_words(const std::optional<stats::MassPoint>& set) {
  return set ? fmt::format("{} to {}", days(set->left), days(set->right)) : "not reached";
}

std::string npmle_text(const Style& style, const analysis::Group& group) {
  if (!group.gaps || !group.gaps->mean) return "";
  const auto& gaps = *group.gaps;
  std::string text = "\n" + paragraph(style,
                                      "Days allowing for the gaps between looks (what is known is "
                                      "only between which looks they came up):",
                                      2);
  text += figures(
      style,
      {{"mean days", fmt::format("{} to {}", days(gaps.mean->lower), days(gaps.mean->upper))},
       {"10 % of those up", set_words(gaps.t10)},
       {"25 %", set_words(gaps.t25)},
       {"50 %", set_words(gaps.t50)},
       {"75 %", set_words(gaps.t75)},
       {"90 %", set_words(gaps.t90)},
       {"50 % of those sown", set_words(gaps.t50_sown)}},
      4);
  return text;
}

std::string estimate_words(const stats::Estimate& x, bool as_percent) {
  const auto one = [&](double value) { return as_percent ? percent(value) : days(value); };
  if (!x.lower || !x.upper) return one(x.estimate);
  return fmt::format("{} ({} to {})", one(x.estimate), one(*x.lower), one(*x.upper));
}

std::string unfitted(const stats::EmergenceModel& model) {
  switch (model.status) {
    case stats::ModelStatus::nothing_emerged:
      return "Nothing came up, so no time can be told.";
    case stats::ModelStatus::single_count:
      return "One look a sowing tells how many were up by then, not when they came.";
    case stats::ModelStatus::one_interval:
      return fmt::format(
          "All came up between two looks (after day {}, by day {}): their spread "
          "can't be told.",
          days(model.t50_after), days(model.t50_by));
    case stats::ModelStatus::two_intervals:
      return fmt::format(
          "They came up at two separate times only: half were up after day {} and "
          "by day {}, their spread can't be told.",
          days(model.t50_after), days(model.t50_by));
    case stats::ModelStatus::fitted:
    case stats::ModelStatus::not_converged:
      break;
  }
  return "The model did not settle: its figures are not to be relied on.";
}

std::string model_text(const Style& style, const analysis::Group& group) {
  switch (group.modelled) {
    case analysis::Modelled::not_asked:
      return "";
    case analysis::Modelled::no_looks:
      return paragraph(style, "No look yet that could tell days.", 2);
    case analysis::Modelled::too_many_sowings:
      return paragraph(style, "Too many sowings at once for the time model: ask for fewer.", 2);
    case analysis::Modelled::yes:
      break;
  }
  const auto& model = *group.model;
  if (model.status != stats::ModelStatus::fitted)
    return paragraph(style, "Time model: " + unfitted(model), 2);
  std::string text =
      "\n" + paragraph(style,
                       fmt::format("Time model ({}, {} by {}):", word(model.distribution.family),
                                   model.sowings > 1 ? "errors between sowings" : "one sowing",
                                   model.qaic ? "QAIC" : "AIC"),
                       2);
  std::vector<Figure> list;
  if (!model.of_emerged)
    list.push_back({"will come up in the end", estimate_words(model.fraction, true)});
  list.push_back({"half of those, day", estimate_words(model.t50, false)});
  list.push_back({"10 %, day", estimate_words(model.t10, false)});
  list.push_back({"25 %, day", estimate_words(model.t25, false)});
  list.push_back({"75 %, day", estimate_words(model.t75, false)});
  list.push_back({"90 %, day", estimate_words(model.t90, false)});
  if (model.lag.estimate > 0) list.push_back({"none before day", estimate_words(model.lag, false)});
  text += figures(style, list, 4);
  if (model.sowings < 2) text += paragraph(style, "One sowing alone gives no range for these.", 4);
  if (model.fraction_at_one && model.fraction_least)
    text += paragraph(style,
                      fmt::format("As if all would come up in the end; at least {} will (one-sided "
                                  "95 %, if seeds are independent).",
                                  percent(*model.fraction_least)),
                      4);
  if (model.fraction_unsettled && !model.of_emerged)
    text += paragraph(style,
                      "How many will come up is not yet settled: the last look was too "
                      "early for it.",
                      4);
  return text;
}

}  // namespace

std::string gaps_text(const Style& style, const analysis::Group& group) {
  const std::string standing =
      group.standing ? intervals_text(style, *group.standing, " of what stands") : "";
  return intervals_text(style, group.stand) + standing + agreement_text(style, group) +
         npmle_text(style, group) + model_text(style, group);
}

}  // namespace plumule::report
