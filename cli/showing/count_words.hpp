// What came of a figure that was entered, for pairs and for the walk.
#pragma once

#include <string>

#include "bench/counting.hpp"
#include "cli/showing/json.hpp"

namespace plumule::cli {

// "12 of 50 up (+2)", and how many of them stand where some were lost before; in a blind trial only
// what was entered.
std::string in_words(const bench::Noted& noted);
// "plumule amend A1 --keep r1, or --discard r1, settles it".
std::string settling(const records::Sowing& sowing, const std::string& aside);
// A question where clusters gave far more seedlings each than is published; else empty.
std::string doubt_of_clusters(const bench::Noted& noted);
Json to_json(const bench::Noted& noted);

}  // namespace plumule::cli
