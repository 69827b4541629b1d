// What the crop tables say of a sowing: its give-up day and the days to expect, by its setting and
// the temperatures read at it.
#pragma once

#include <optional>

#include "crops/emergence.hpp"
#include "crops/give_up.hpp"
#include "records/course.hpp"

namespace plumule::analysis {

crops::SownIn sown_in(records::Setting setting);

// What the soil was like, as far as readings tell.
struct SoilTemperature {
  std::optional<double> mean_c;  // of (minimum + maximum) / 2
  std::optional<double> spot_c;  // mean of single readings: of a morning, so rather the cold end
};
SoilTemperature soil_temperature(const records::History& history);

// The give-up day of the sowing's crop in days after sowing; none where the crop or its days are
// not known. By the mean of minimum and maximum where there is one. A single reading is no mean,
// and may be the cold end: it can only make the day later than where no temperature is known.
std::optional<crops::GiveUp> give_up_of(const records::History& history);

// The day after sowing from which looking is worth it: half the fewest published days to emergence
// (at the soil's temperature, or from 15 to 25 C where none is known or a single reading may be of
// the cold end), 1 at least. 1 in towels and dishes, where roots are seen long before, and where no
// days are published. Half is common practice without a source: a first look that finds nothing is
// what dates the first to come up.
int first_look_day(const records::History& history);

}  // namespace plumule::analysis
