// What was done to seed before or at sowing, shared by trials so that seasons can be pooled.
#pragma once

#include <optional>
#include <string>

#include "records/date.hpp"
#include "records/lot.hpp"
#include "records/temperature.hpp"

namespace plumule::records {

inline constexpr const char* untreated = "untreated";  // the treatment that always exists

struct Treatment {
  Id id = 0;
  std::string label = {};
  std::optional<double> soak_hours = {};  // 0 to 1000
  std::optional<double> water_c = {};     // of the soak
  std::string scarification = {};         // nicked, filed, hot water, acid ...
  std::optional<double> chill_days = {};
  std::optional<double> chill_c = {};
  std::string priming = {};
};

// Sowings whose seed was treated together: one jar, one heat mat. Where all sowings of a treatment
// shared one, the jar is the unit, and no number of trays can tell the treatment from the jar.
struct Batch {
  Id id = 0;
  std::string code = {};
  std::string treatment = {};
  std::optional<Date> made_on = {};
};

// Its facts: "soaked 8 h in water of 20 C, nicked, chilled 14 days"; empty where nothing was done.
std::string in_words(const Treatment& treatment, Degrees shown_in = Degrees::celsius);

void check(const Treatment& treatment);
void check(const Batch& batch);

}  // namespace plumule::records
