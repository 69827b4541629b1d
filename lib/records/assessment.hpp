// What became of the units that did not come up, as found by digging or cutting.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "records/date.hpp"
#include "records/lot.hpp"
#include "records/temperature.hpp"

namespace plumule::records {

enum class Outcome { hard, firm, rotted, empty, abnormal, died_below, eaten, not_found };

// Rotted and empty units never come up; hard, firm and not found ones might have: not found is
// not dead. An assessment may cover part of what did not come up.
struct Assessment {
  Id id = 0;
  Date on{};
  Outcome outcome = Outcome::not_found;
  std::int64_t units = 0;
  std::string by = {};
};

// A temperature of a sowing's soil or of a place: one reading, or a minimum and a maximum.
struct Temperature {
  Id id = 0;
  std::optional<Id> sowing = {};
  std::string place = {};  // where not of one sowing
  Moment at;
  std::optional<double> spot_c = {};
  std::optional<double> min_c = {};
  std::optional<double> max_c = {};
  std::string by = {};
};

// "18 C"; "8 to 24 C"; "lowest 8 C" where no more is known; "18 C, 8 to 24 C".
std::string in_words(const Temperature& temperature, Degrees shown_in = Degrees::celsius);

void check(const Assessment& assessment);
// Refuses below -60 or above 90 C (a figure in Fahrenheit is said to look like one), a minimum
// above its maximum, and a reading with neither.
void check(const Temperature& temperature);

}  // namespace plumule::records
