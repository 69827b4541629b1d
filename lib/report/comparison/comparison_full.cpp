#include "report/comparison/comparison_parts.hpp"

#include <fmt/format.h>

#include <cmath>

#include "report/comparison/comparison_words.hpp"
#include "report/parts/method_words.hpp"
#include "report/parts/number_words.hpp"
#include "report/summary/gaps_text.hpp"

namespace plumule::report {

namespace {

using analysis::Contrast;
using analysis::TreatmentComparison;

// What was claimed, in a word.
std::string_view claim_words(stats::StandClaim claim) {
  switch (claim) {
    case stats::StandClaim::more:
      return "more";
    case stats::StandClaim::fewer:
      return "fewer";
    case stats::StandClaim::neither:
      return "neither";
    case stats::StandClaim::none:
      break;
  }
  return "nothing to claim";
}

void add_stand(std::vector<Figure>& list, const analysis::StandContrast& stand) {
  if (stand.came_up && stand.came_up->told) {
    const auto& model = stand.came_up->by_model;
    list.push_back({"p by the model", p_words(model.tail())});
    list.push_back({"chance it is worse by as much", percent(model.p_worth_less)});
    list.push_back({"chance that it is within that", percent(model.p_within)});
    list.push_back({"Bayes factor", factor(model.bayes_factor)});
    list.push_back({"difference of all sown", points(stand.came_up->plain)});
  }
  if (stand.unlike && stand.unlike->told) {
    const auto& range = stand.unlike->by_model.range;
    list.push_back({fmt::format("were trays more unlike, rho {}", analysis::unlike_rho),
                    fmt::format("{} ({}), {}", points(stand.unlike->by_model.estimate),
                                points_range(range.lower, range.upper),
                                claim_words(stand.unlike->judged.claim))});
  }
  for (const auto& interval : stand.intervals)
    list.push_back({fmt::format("difference, {}", interval.method),
                    points_range(interval.lower, interval.upper)});
  const auto effect = [&](const char* name, const analysis::Effect& value) {
    for (const auto& interval : value.intervals)
      list.push_back({fmt::format("{}, {}", name, interval.method),
                      fmt::format("{} ({} to {})", figure(value.estimate, "no figure"),
                                  figure(interval.lower), figure(interval.upper, "no limit"))});
  };
  effect("ratio", stand.ratio);
  effect("odds ratio", stand.odds_ratio);
}

void add_seed_level(std::vector<Figure>& list, const analysis::SeedLevel& tests) {
  for (const auto& test : tests.tests)
    list.push_back({fmt::format("{} (seed level)", test.method),
                    test.p ? p_words(*test.p) : "not given: too many tables"});
  if (tests.mantel_haenszel)
    list.push_back({"Mantel-Haenszel (seed level)", p_words(tests.mantel_haenszel->p)});
  if (tests.agreement)
    list.push_back({"strata alike (Tarone, seeds)", p_words(tests.agreement->tarone.p)});
}

std::string lots(const std::optional<stats::Randomisation>& test) {
  return test && test->status == stats::RandomisationStatus::ok ? p_value(test->p) : "none";
}

void add_speed(std::vector<Figure>& list, const analysis::SpeedContrast& speed, bool open) {
  const auto figure_of = [&](const char* name, const analysis::SpeedFigure& value) {
    const auto& x = value.difference;
    if (!x.difference) return;
    std::string text = signed_days(*x.difference);
    if (open) {  // no p and no chance before it is closed
      list.push_back({name, text});
      return;
    }
    if (x.p)
      text += fmt::format(" ({} to {}), {}{}", signed_days(*x.lower), signed_days(*x.upper),
                          p_words(*x.p),
                          x.within_blocks ? ", within blocks"
                          : x.welch       ? ", Welch"
                                          : "");
    list.push_back({name, text + "; lots " + lots(value.randomisation)});
  };
  figure_of("mean days", speed.mean_days);
  figure_of("half up (t50)", speed.t50);
  if (speed.mean_days_wetted) figure_of("mean days from wetting", *speed.mean_days_wetted);
  if (speed.time_ratio) {
    const auto& ratio = *speed.time_ratio;
    list.push_back(
        {"ratio of t50 (model)", ratio.lower ? fmt::format("{} ({} to {})", figure(ratio.ratio),
                                                           figure(ratio.lower), figure(ratio.upper))
                                             : figure(ratio.ratio)});
  }
  for (const auto& fit : speed.joint) {
    if (fit.model.status != stats::ModelStatus::fitted || speed.joint.size() < 2) continue;
    list.push_back({fit.shared_spread && fit.shared_fraction ? "  one spread and one share"
                    : fit.shared_spread                      ? "  one spread, own shares"
                    : fit.shared_fraction                    ? "  one share, own spreads"
                                                             : "each its own spread and share",
                    fmt::format("{} {:.1f} ({}), ratio {}", fit.model.qaic ? "QAIC" : "AIC",
                                fit.model.qaic.value_or(fit.model.aic), word(fit.model.family),
                                fit.ratio ? figure(fit.ratio->ratio) : "-")});
  }
  if (speed.log_rank && speed.log_rank->status == stats::RankStatus::compared) {
    list.push_back({"log-rank, lots drawn anew", p_words(speed.log_rank->p_sowings)});
    list.push_back({"log-rank (seed level)", p_words(speed.log_rank->p_seeds)});
  }
  if (speed.wilcoxon && speed.wilcoxon->status == stats::RankStatus::compared)
    list.push_back({"Wilcoxon, sowings permuted", p_words(speed.wilcoxon->p_sowings)});
  if (speed.score && speed.score->given)
    list.push_back(
        {"score test (seed level)",
         fmt::format("{} on 1 df, {}", figure(speed.score->chi_squared), p_words(speed.score->p))});
}

std::string contrast_full(const Style& style, const Contrast& contrast) {
  std::vector<Figure> list;
  add_stand(list, contrast.stand);
  add_seed_level(list, contrast.stand.seed_level);
  add_speed(list, contrast.speed, contrast.joint == analysis::Joint::open);
  if (contrast.holm_pairs)
    list.push_back({fmt::format("over all {} pairs (Holm)", contrast.holm_pairs->comparisons),
                    holm_words(*contrast.holm_pairs)});
  std::string text =
      '\n' + toned(style, Tone::strong, contrast.treatment + " against " + contrast.against) + '\n';
  for (const auto& row : list) text += entry(style, row.name, row.value, 31);
  if (contrast.evidence && contrast.evidence->seed_level.given) {
    const auto& evidence = contrast.evidence->seed_level;
    text += paragraph(
        style,
        fmt::format("Seed-level evidence that they come up differently: {} (deflated by {}, as if "
                    "rho were 0.05; 20 would be strong), highest {}. Raw, true of independent "
                    "seeds only: {}.",
                    factor(evidence.deflated), figure(evidence.phi),
                    factor(evidence.highest_deflated), factor(evidence.raw)),
        2);
  }
  return text;
}

}  // namespace

std::string comparison_full(const Style& style, const TreatmentComparison& finding) {
  std::string text;
  for (const auto& contrast : finding.contrasts) text += contrast_full(style, contrast);
  for (const auto& pair : finding.pairs)
    text +=
        '\n' + paragraph(style, verdict_words(finding, pair), 2, 0) + contrast_full(style, pair);
  if (finding.global && finding.global->status == stats::RandomisationStatus::ok)
    text += '\n' + paragraph(style, fmt::format("All treatments alike in stand? Drawing lots anew: "
                                                "{} (least possible {}).",
                                                p_words(finding.global->p),
                                                chance_of_layout(finding.global->smallest_p,
                                                                 finding.global->arrangements)));
  if (finding.dose && finding.dose->trend)
    text += paragraph(style,
                      fmt::format("Trend with dose (Cochran-Armitage, seed level): z = {}, "
                                  "{}.",
                                  figure(finding.dose->trend->z), p_words(finding.dose->trend->p)));
  for (const auto& group : finding.treatments)
    text += '\n' + toned(style, Tone::strong, group.name) + '\n' + gaps_text(style, group);
  return text;
}

}  // namespace plumule::report
