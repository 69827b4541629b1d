// The usual cautions where work can hurt somebody: what calls for which.
#pragma once

#include <vector>

#include "crops/caution.hpp"
#include "records/lot.hpp"
#include "records/treatment.hpp"

namespace plumule::bench {

// Of what a lot's seed was dressed or coated with: said at each handling.
std::vector<crops::Caution> cautions_of_dressing(const records::Lot& lot);
// Of its dressing and of its crop: said where the lot is shown.
std::vector<crops::Caution> cautions_for(const records::Lot& lot);
// Of what is done to the seed.
std::vector<crops::Caution> cautions_for(const records::Treatment& treatment);

// Joins two lists without saying one thing twice.
void add_cautions(std::vector<crops::Caution>& to, const std::vector<crops::Caution>& more);

// That the seedlings of a test are not eaten is part of what is said of treated seed and of
// sprouts.
void drop_overlapping(std::vector<crops::Caution>& cautions);

}  // namespace plumule::bench
