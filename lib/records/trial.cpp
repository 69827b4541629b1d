#include "records/trial.hpp"

#include <algorithm>

#include "records/label.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::records {

void check(const Trial& trial) {
  if (!is_label(trial.code)) throw Refused("Trial: " + label_trouble(trial.code) + '.');
  const std::string name = "Trial " + trial.code + ": ";
  for (std::size_t i = 0; i < trial.blocks.size(); ++i) {
    if (!is_label(trial.blocks[i]))
      throw Refused(name + "a block: " + label_trouble(trial.blocks[i]) + '.');
    for (std::size_t j = 0; j < i; ++j)
      if (same_label(trial.blocks[i], trial.blocks[j]))
        throw Refused(name + "the block " + trial.blocks[i] + " is named twice.");
  }
  if (std::adjacent_find(trial.inspections.begin(), trial.inspections.end(),
                         [](Date a, Date b) { return a >= b; }) != trial.inspections.end())
    throw Refused(name + "the days to look at it must be in order, each once.");
  if (trial.closes_on && !trial.inspections.empty() && trial.inspections.back() > *trial.closes_on)
    throw Refused(name + "it closes on " + spoken(*trial.closes_on, true) +
                  ", before its last planned look on " + spoken(trial.inspections.back(), true) +
                  '.');
  refuse_outside(name + "the difference worth having (a fraction)", trial.worth, 0, 1,
                 Ends::low_open);
}

}  // namespace plumule::records
