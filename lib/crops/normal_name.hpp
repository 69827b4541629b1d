// A crop's name boiled down to what tells it apart, so that "Beans, French" and "french bean" are
// one. Used by names.cpp, and by its tests.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace plumule::crops {

// Its words in lower case and the singular, without punctuation, "seed" and small words. Letters
// outside ASCII are left as they are. "Bean (snap)" -> bean, snap.
std::vector<std::string> name_words(std::string_view name);

// The words in alphabetical order, spaced: the same for "bean, garden" and "garden bean".
std::string sorted_key(std::vector<std::string> name_words);

// The words as they stand, without spaces: the same for "broad bean" and "broadbean".
std::string joined_key(const std::vector<std::string>& name_words);

// The fewest letters to add, drop, change or swap with the next to make one of the other (optimal
// string alignment).
std::size_t edit_distance(std::string_view one, std::string_view other);

}  // namespace plumule::crops
