#include "records/treatment.hpp"

#include "records/label.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::records {

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
