// Days to emergence and the share of normal seedlings by soil temperature (after Harrington and
// Minges 1954), and the days to expect at a temperature between the printed ones.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

struct Emergence {
  double temp_c = 0;
  std::optional<double> days;      // none where nothing came up in time, or it was not tried
  bool tried = true;               // false: not tested at this temperature
  std::optional<double> fraction;  // normal seedlings, 0 to 1; from another copy of the table
  Origin origin;                   // of the days
  Origin fraction_origin;          // source empty where there is no fraction
  std::string_view borrowed_from;  // "Cabbage": the crop whose figures these are; empty for its own
};

// Coldest first, every 5 C from 0 to 40 C. A crop without a table of its own has that of a kin of
// the same species (kale that of cabbage), and says so. Empty where neither is published.
std::vector<Emergence> emergence_table(const Crop& crop);

struct ExpectedDays {
  enum class Status {
    published,     // the temperature is one of the table's (within 0.05 C)
    interpolated,  // between two that have days
    outside,       // colder or warmer than every temperature of the table
    none,          // in the table, but nothing came up, or it was not tried, beside it
    no_table,      // no days are published for this crop
  };
  Status status = Status::no_table;
  double days = 0;      // where published or interpolated; else 0
  double colder_c = 0;  // the printed temperatures it lies between (equal where published)
  double warmer_c = 0;
  bool cold_side = false;  // with outside or none: too cold rather than too warm
  std::string how;         // one sentence for a grower, without a full stop
  Origin origin;
};

// Interpolated in speed (1/days), which is close to a straight line of temperature where days are
// not (heat sums rest on that). Never extrapolated. Published days are whole numbers, rounded by
// half a day either way. Throws std::domain_error for a temperature that is not a number.
ExpectedDays expected_days(const Crop& crop, double soil_temp_c);

}  // namespace plumule::crops
