// Whether both sides found the same numbers: no ratio of speed is worth printing before that.
#pragma once

#include <string>
#include <vector>

#include "peers_trials.hpp"

namespace plumule::peers {

// `results`: what peers.R wrote; `simulated`: how many trials it simulated. Returns a sentence for
// each kind of number that agrees and, in `differences`, one for each number that does not.
struct Agreement {
  std::vector<std::string> agree;
  std::vector<std::string> differences;
};
Agreement check(const std::vector<Trial>& trials, const std::string& results, int simulated);

}  // namespace plumule::peers
