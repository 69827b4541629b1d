// What was done to the seed, from options.
#pragma once

#include <vector>

#include "bench/treatments.hpp"
#include "cli/options/arguments.hpp"
#include "records/treatment.hpp"

namespace plumule::cli {

void declare_treatment_fields(Options& options);
// Whether one of the facts (soak, water, scarify, chill, chill-at, prime) was typed.
bool gives_treatment_facts(const Arguments& arguments);
// Lays the facts over the treatment; of several --soak the one at `which`.
void lay_facts(const Arguments& arguments, records::Treatment& treatment, std::size_t which = 0);

// Each treatment that was typed (--treatment, --soak), in order; none where none was. Throws
// WrongUsage where it cannot be told which facts are whose.
std::vector<bench::TreatmentAsked> treatments_typed(const Arguments& arguments);

}  // namespace plumule::cli
