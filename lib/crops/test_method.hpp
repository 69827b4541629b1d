// How an official laboratory tests a crop: on what, how warm, counted when (7 CFR 201.58, Table 2).
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct TestMethod {
  bool alternate = false;          // a second method for the same kind
  std::string_view substrata;      // codes, "B, T, S"; see substratum(); empty from memory
  std::string_view temperature_c;  // "20-30" is 16 h at 20 and 8 h at 30; "15; 10" is the
                                   // regular and the alternate temperature; may be empty
  std::optional<int>
      first_count_days;       // approximate, by 1 to 3 days; none where the table has none
  int final_count_days = 0;   // an upper limit: stop sooner once no more come
  bool hard_seed = false;     // the table's footnote: hard seeds may be present
  std::string_view specific;  // what must be done with this kind
  std::string_view dormant;   // what helps fresh or dormant seed
  Origin origin;
};

// The regular method first. Herbs and flowers without an official row have one of the
// international rules, from memory, with the count days alone. Empty for kinds with neither.
std::vector<TestMethod> test_methods(const Crop& crop);

// What a substratum code ("B", "TB", ...) stands for; empty for a code that is none.
std::string_view substratum(std::string_view code);

}  // namespace plumule::crops
