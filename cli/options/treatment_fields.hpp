// What was done to the seed, from options: treatments that are there, or made with their facts.
#pragma once

#include <string>
#include <vector>

#include "cli/options/arguments.hpp"
#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"
#include "records/treatment.hpp"

namespace plumule::cli {

void declare_treatment_fields(Options& options);
// Whether one of the facts (soak, water, scarify, chill, chill-at, prime) was typed.
bool gives_treatment_facts(const Arguments& arguments);
// Lays the facts over the treatment; of several --soak the one at `which`.
void lay_facts(const Arguments& arguments, records::Treatment& treatment, std::size_t which = 0);
// "soaked 8 h in water of 20 C, nicked, chilled 14 days"; empty for an untreated one.
std::string in_words(const records::Treatment& treatment);

struct Treatments {
  std::vector<records::Treatment> all;  // in the order given; `untreated` where none was
  std::vector<std::string> made;        // labels of those that are new
};

// Finds or makes each treatment that was typed (--treatment, --soak). Throws Refused where a label
// is unknown and no fact is given (with the nearest), or where the facts differ from those kept.
Treatments treatments_typed(logbook::Entry& entry, const Arguments& arguments);

// The jar of a treatment, made where it is new. Refused where it holds another treatment.
// Refused where a wetting and the hours soaked are more than a day apart: days counted from wetting
// would hang on the one that is wrong.
void check_wetting(const records::Treatment& treatment, const records::Sowing& sowing);

void put_in_jar(logbook::Entry& entry, const std::string& code, records::Sowing& sowing);

}  // namespace plumule::cli
