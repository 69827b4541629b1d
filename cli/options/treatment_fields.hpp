// What was done to the seed, from options.
#pragma once

#include <vector>

#include "bench/treatments.hpp"
#include "cli/options/arguments.hpp"
#include "cli/options/degrees.hpp"
#include "records/treatment.hpp"

namespace plumule::cli {

void declare_treatment_fields(Options& options);
// Whether one of the facts (soak, water, scarify, chill, chill-at, prime) was typed.
bool gives_treatment_facts(const Arguments& arguments);
// Lays the facts over the treatment, but for temperatures; of several --soak the one at `which`.
void lay_facts(const Arguments& arguments, records::Treatment& treatment, std::size_t which = 0);
// The temperatures among them, which may be of the logbook's unit.
void lay_temperatures(const Arguments& arguments, DegreesTyped& degrees,
                      records::Treatment& treatment);
void lay_temperatures(const Arguments& arguments, logbook::Entry& entry,
                      std::vector<bench::TreatmentAsked>& asked);

// Each treatment that was typed (--treatment, --soak), in order and without its temperatures; none
// where none was. Throws WrongUsage where it cannot be told which facts are whose.
std::vector<bench::TreatmentAsked> treatments_typed(const Arguments& arguments);

}  // namespace plumule::cli
