#include "records/treatment.hpp"

#include <vector>

#include "records/label.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::records {

std::string in_words(const Treatment& treatment, Degrees shown_in) {
  std::vector<std::string> parts;
  if (treatment.soak_hours) {
    parts.push_back("soaked " + shown(*treatment.soak_hours) + " h");
    if (treatment.water_c)
      parts.back() += " in water of " + shown_temperature(*treatment.water_c, shown_in);
  } else if (treatment.water_c) {
    parts.push_back("water of " + shown_temperature(*treatment.water_c, shown_in));
  }
  if (!treatment.scarification.empty()) parts.push_back(treatment.scarification);
  if (treatment.chill_days) {
    parts.push_back("chilled " + shown(*treatment.chill_days) + " days");
    if (treatment.chill_c) parts.back() += " at " + shown_temperature(*treatment.chill_c, shown_in);
  } else if (treatment.chill_c) {
    parts.push_back("chilled at " + shown_temperature(*treatment.chill_c, shown_in));
  }
  if (!treatment.priming.empty()) parts.push_back(treatment.priming);
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

void check(const Treatment& treatment) {
  if (!is_label(treatment.label))
    throw Refused("Treatment: " + label_trouble(treatment.label) + '.');
  const std::string name = "Treatment " + treatment.label + ": ";
  refuse_outside(name + "hours of soaking", treatment.soak_hours, 0, 1000);
  refuse_outside(name + "the water's temperature (C)", treatment.water_c, -5, 100);
  refuse_outside(name + "days of chilling", treatment.chill_days, 0, 2000);
  refuse_outside(name + "the temperature of chilling (C)", treatment.chill_c, -30, 30);
  const bool plain = !treatment.soak_hours && !treatment.water_c &&
                     treatment.scarification.empty() && !treatment.chill_days &&
                     !treatment.chill_c && treatment.priming.empty();
  if (same_label(treatment.label, untreated) && !plain)
    throw Refused(name + "it means that nothing was done. Give what was done a label of its own.");
}

void check(const Batch& batch) {
  if (!is_label(batch.code)) throw Refused("Treated together: " + label_trouble(batch.code) + '.');
  if (!is_label(batch.treatment))
    throw Refused("Batch " + batch.code + ": its treatment: " + label_trouble(batch.treatment) +
                  '.');
}

}  // namespace plumule::records
