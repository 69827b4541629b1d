// The crops that are known, and the match of a name as a grower writes it: "Bean (snap)", "french
// beans", "BEAN, GARDEN" are one crop.
#pragma once

#include <span>
#include <string_view>
#include <vector>

namespace plumule::crops {

struct Crop {
  std::string_view slug;       // "garden-bean": the key of every table in schema/reference
  std::string_view name;       // "Garden bean": as shown
  std::string_view botanical;  // "Phaseolus vulgaris"
  std::string_view group;      // vegetable, herb, field crop, flower
  std::vector<std::string_view> synonyms;
};

// Every crop, in the order of the names.
std::span<const Crop> all_crops();

struct Match {
  const Crop* crop = nullptr;        // null where the name is not known
  std::vector<const Crop*> nearest;  // then: up to three that may be meant, the likeliest first
};

// Case, punctuation, order of words, plural and the word "seed" make no difference; a botanical
// name is found where it is one crop's alone. A misspelling is never taken for a match, only
// suggested. An empty name matches nothing.
Match find_crop(std::string_view name);

// Exactly that slug, or null.
const Crop* crop_by_slug(std::string_view slug);

}  // namespace plumule::crops
