// All that is known of one crop in one plain struct: each fact with its unit, source and trust, and
// disagreements side by side. This is what `crops NAME` shows.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "crops/caution.hpp"
#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct Fact {
  std::string_view topic;  // "minimum germination", "laboratory test", "days to emergence", ...
  std::string what;        // what the figure is of: "at 20 C", "final count", "favourable storage"
  std::optional<double> low;   // the figure, and up to where; equal where it is a single one. Low
  std::optional<double> high;  // without high: that or more. Neither: in words only
  std::string_view unit;       // "fraction", "days", "C", "years", "h", ... ; empty for words
  std::string text;            // the value in words, where it is no figure, or beside one
  Origin origin;
};

struct Known {
  Crop crop;
  std::vector<Fact> facts;  // in order of topic; those of one topic and `what` disagree openly
  std::vector<Caution> cautions;  // of the crop itself, then of what is done to its seed
};

// Never empty: every crop has a fact at least.
Known known_of(const Crop& crop);

}  // namespace plumule::crops
