// What is to be said of a group beside its figures: what is not in them, and what they hang on.
#pragma once

#include <string>
#include <vector>

#include "analysis/summary/group.hpp"

namespace plumule::report {

// The pooled share and that of the sowings, each counting once, are far apart.
bool uneven(const analysis::Stand& stand);

// What is in no figure, or is and might not be: sowings that were stopped, by an accident or by
// looking no more, and losses in sowings that are not in the percentage. A sentence each.
std::vector<std::string> left_out_words(const analysis::Group& group);

// All of them, a sentence or two each.
std::vector<std::string> remarks(const analysis::Group& group);

}  // namespace plumule::report
