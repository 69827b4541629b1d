#include "report/reckoning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

using analysis::Proportion;

std::string of(const Proportion& p) { return fmt::format("{} of {}", whole(p.x), whole(p.n)); }

// With as many digits as tell it from 0 and 100.
std::string fine(double fraction) {
  if (!std::isfinite(fraction)) return "no limit";
  const double percent = 100 * fraction;
  const double apart = std::min(percent, 100 - percent);
  int digits = 1;
  while (apart > 0 && digits < 9 && apart * std::pow(10, digits) < 0.5) ++digits;
  return fmt::format("{:.{}f} %", percent, digits);
}

// The limits that the interval has.
std::string limits(const stats::Interval& interval, const std::string& lower,
                   const std::string& upper) {
  switch (interval.side) {
    case stats::Side::lower:
      return "at least " + lower;
    case stats::Side::upper:
      return "at most " + upper;
    case stats::Side::both:
      break;
  }
  return lower + " to " + upper;
}

std::string name(const stats::Interval& interval) {
  return std::string(interval.method) + (interval.correction ? ", corrected" : "");
}

std::string sides(const analysis::ReckonQuestion& asked) {
  return level_words(asked.level) + (asked.side == stats::Side::both ? "" : ", one-sided");
}

std::string one(const Style& style, const Proportion& p, const analysis::ReckonQuestion& asked) {
  std::string text = toned(style, Tone::strong, of(p));
  text += p.fraction ? fmt::format(": {}\n", fine(*p.fraction))
                     : ": nothing was tried, so nothing is known\n";
  std::vector<Figure> list;
  for (const auto& interval : p.intervals)
    list.push_back({name(interval), limits(interval, fine(interval.lower), fine(interval.upper))});
  return text + figures(style, list) + toned(style, Tone::faint, "  (" + sides(asked) + ")") + "\n";
}

std::string signed_points(double difference) {
  const double value = 100 * difference;
  if (std::fabs(value) < 1e-9) return "0.0";
  // Likewise: a small difference is not none.
  const int digits = static_cast<int>(std::ceil(-std::log10(2 * std::fabs(value))));
  return fmt::format("{:+.{}f}", value, std::clamp(digits, 1, 9));
}

std::string factor(double value) { return figure(value, "no limit"); }

void add(std::vector<Figure>& list, const std::string& what, const stats::Interval& interval,
         std::string (*words)(double)) {
  list.push_back(
      {what + name(interval), limits(interval, words(interval.lower), words(interval.upper))});
}

std::string both(const Style& style, const analysis::ProportionReckoning& finding) {
  const auto& a = finding.proportions[0];
  const auto& b = finding.proportions[1];
  std::string text;
  if (a.fraction && b.fraction)
    text = toned(style, Tone::strong,
                 fmt::format("{} less {}: {} points", of(a), of(b),
                             signed_points(finding.difference->estimate))) +
           fmt::format("; {} times; odds {} times\n", figure(finding.ratio->estimate, "?"),
                       figure(finding.odds_ratio->estimate, "?"));
  std::vector<Figure> list;
  add(list, "difference, ", finding.difference->newcombe, signed_points);
  add(list, "difference, ", finding.difference->miettinen_nurminen, signed_points);
  if (finding.newcombe_corrected)
    add(list, "difference, ", *finding.newcombe_corrected, signed_points);
  add(list, "ratio, ", finding.ratio->newcombe, factor);
  add(list, "ratio, ", finding.ratio->miettinen_nurminen, factor);
  add(list, "odds ratio, ", finding.odds_ratio->newcombe, factor);
  add(list, "odds ratio, ", finding.odds_ratio->miettinen_nurminen, factor);
  for (const auto& row : list) text += entry(style, row.name, row.value, 31);
  std::string tests;
  for (const auto& test : finding.tests)
    tests += fmt::format("{}{} {}", tests.empty() ? "" : ", ", test.method,
                         test.p ? p_value(*test.p) : "not given (too many tables)");
  return tests.empty() ? text : text + entry(style, "exact tests, two-sided p", tests, 31);
}

}  // namespace

std::string reckon_text(const Style& style, const analysis::ProportionReckoning& finding) {
  std::string text;
  for (const auto& proportion : finding.proportions) text += one(style, proportion, finding.asked);
  if (finding.proportions.size() == 2) text += both(style, finding);
  text += toned(style, Tone::faint,
                paragraph(style, hinted(style.hints,
                                        "The seeds are taken as independent. Seeds that share a "
                                        "tray are not",
                                        {records::Advice::keep_in_logbook}, ".")));
  return text;
}

}  // namespace plumule::report
