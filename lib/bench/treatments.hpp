// Treatments as sowings name them: a label that is used again must mean the same.
#pragma once

#include <string>
#include <vector>

#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"
#include "records/treatment.hpp"

namespace plumule::bench {

// What is asked for: a label, and its facts where they are given. Without facts a label that is not
// in the logbook is made only where that is said.
struct TreatmentAsked {
  records::Treatment treatment;
  bool facts_given = false;
  bool may_be_new = false;
};

struct Treatments {
  std::vector<records::Treatment> all;  // in the order given; `untreated` where none was
  std::vector<std::string> made;        // labels of those that are new
};

// Finds or makes each. Refused where a label is unknown and no fact is given (with the nearest), or
// where the facts differ from those kept.
Treatments treatments_for(logbook::Entry& entry, const std::vector<TreatmentAsked>& asked);

// Refused where a wetting and the hours soaked are more than a day apart: days counted from wetting
// would hang on the one that is wrong.
void refuse_other_soak(const records::Treatment& treatment, const records::Sowing& sowing);

}  // namespace plumule::bench
