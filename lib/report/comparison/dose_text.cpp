#include "report/comparison/comparison_parts.hpp"

#include <fmt/format.h>

#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

// "8", "10.6".
std::string hours(double value) {
  const std::string text = fmt::format("{:.1f}", value);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

// A parabola goes through any three doses: it can tell no dose between them.
std::string best_of_three(const analysis::DoseAnswer& dose) {
  return fmt::format("Of the three tried {} {} did best ({} up)", hours(dose.best_tried), dose.unit,
                     percent(dose.best_tried_fraction));
}

// A peak: what is known of its place.
std::string peak_words(const analysis::DoseAnswer& dose) {
  const auto& range = dose.best.interval;
  const bool bounded = range.kind == stats::FiellerKind::bounded;
  const bool above = bounded && range.lower > dose.tried.front();
  const bool below = bounded && range.upper < dose.tried.back();
  const bool three = dose.tried.size() == 3;
  if (above && below)
    return three ? best_of_three(dose) + "; where between them the best lies three can't tell."
                 : fmt::format(
                       "By the curve through all of them the best is about {} {} ({} to {}).",
                       hours(dose.best.dose), dose.unit, hours(range.lower), hours(range.upper));
  std::string text =
      below ? fmt::format(
                  "Too much soaking brings fewer: best below {} hours; whether any helps "
                  "can't be told.",
                  hours(range.upper))
      : above ? fmt::format(
                    "Too little soaking brings fewer: best above {} hours; whether more "
                    "than {} would do better can't be told.",
                    hours(range.lower), hours(dose.tried.back()))
              : std::string(
                    "The best lies between too little soaking and too much; where can't be "
                    "told.");
  return three ? text + " " + best_of_three(dose) + "." : text;
}

}  // namespace

std::string dose_text(const Style& style, const analysis::DoseAnswer& dose) {
  std::string text;
  if (dose.single_unit)
    text = "One tray or jar to a dose: a best dose can't be told from that.";
  else if (dose.off_the_curve)
    text = fmt::format(
        "Of those tried {} {} did best ({} up); the others lie on no single curve, "
        "so none between them is told.",
        hours(dose.best_tried), dose.unit, percent(dose.best_tried_fraction));
  else if (dose.best.status == stats::BestDoseStatus::peak)
    text = peak_words(dose);
  else if (dose.best.status == stats::BestDoseStatus::no_curve)
    text = "No dose curve can be drawn through these.";
  else
    text = fmt::format("No best dose within what was tried ({} to {} {}).",
                       hours(dose.tried.front()), hours(dose.tried.back()), dose.unit);
  std::string others;
  for (const auto& name : dose.left_out) others += (others.empty() ? "" : ", ") + name;
  if (!others.empty())
    text += fmt::format(" Left out of this, for differing in more than the hours: {}.", others);
  return paragraph(style, text);
}

}  // namespace plumule::report
