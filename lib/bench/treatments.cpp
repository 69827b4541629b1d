#include "bench/treatments.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "logbook/record/settings.hpp"
#include "logbook/record/treatments.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::bench {
namespace {

using records::Advice;
using records::Treatment;

Treatment known(logbook::Logbook& logbook, const std::string& label) {
  if (const auto found = logbook::find_treatment(logbook, label)) return *found;
  std::vector<std::string> labels;
  for (const Treatment& one : logbook::treatments(logbook)) labels.push_back(one.label);
  const std::vector<std::string> near = records::nearest(label, labels);
  throw records::Refused(fmt::format("There is no treatment {} yet{}.", label,
                                     near.empty() ? "" : " (but " + records::listed(near) + ")"),
                         {{Advice::make_treatment}});
}

std::string facts_of(const Treatment& treatment, records::Degrees shown_in) {
  const std::string facts = in_words(treatment, shown_in);
  return facts.empty() ? "no facts" : facts;
}

Treatment found_or_made(logbook::Entry& entry, const Treatment& wanted,
                        std::vector<std::string>& made) {
  if (const auto found = logbook::find_treatment(entry.logbook(), wanted.label)) {
    if (in_words(*found) != in_words(wanted)) {
      const records::Degrees unit = logbook::shown_unit(entry.logbook());
      throw records::Refused(
          fmt::format("Treatment {} is in the logbook as: {}. This one is: {}.", found->label,
                      facts_of(*found, unit), facts_of(wanted, unit)),
          {{Advice::name_treatment}});
    }
    return *found;
  }
  logbook::add_treatment(entry, wanted);
  made.push_back(wanted.label);
  return wanted;
}

}  // namespace

Treatments treatments_for(logbook::Entry& entry, const std::vector<TreatmentAsked>& asked) {
  Treatments found;
  for (const TreatmentAsked& one : asked) {
    const std::string& label = one.treatment.label;
    if (records::same_label(label, records::untreated))
      found.all.push_back(*logbook::find_treatment(entry.logbook(), records::untreated));
    else if (one.facts_given || one.may_be_new)
      found.all.push_back(found_or_made(entry, one.treatment, found.made));
    else
      found.all.push_back(known(entry.logbook(), label));
  }
  if (found.all.empty())
    found.all.push_back(*logbook::find_treatment(entry.logbook(), records::untreated));
  return found;
}

void refuse_other_soak(const Treatment& treatment, const records::Sowing& sowing) {
  const double soaked = treatment.soak_hours.value_or(0) / 24;
  if (!sowing.wetted || soaked <= 0) return;
  const double wet = records::days_between(*sowing.wetted, sowing.sown);
  if (wet < 0 || std::fabs(wet - soaked) <= 1) return;  // a wetting after the sowing is refused
  const records::Date begun = sowing.sown.date - std::chrono::days(std::lround(std::ceil(soaked)));
  throw records::Refused(
      fmt::format("{}: {} was soaked {} hours, but wetted on {} and sown on {} it would be {}.",
                  sowing.label, treatment.label, records::shown(*treatment.soak_hours),
                  records::to_text(*sowing.wetted), records::to_text(sowing.sown),
                  records::shown(std::round(wet * 24))),
      {{.advice = Advice::wetting_or_soak,
        .at = records::Moment{begun, {}},
        .number = std::lround(wet * 24)}});
}

}  // namespace plumule::bench
