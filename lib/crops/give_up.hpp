// The day after sowing past which no more seedlings are to be waited for: the default last day of
// a trial, and when `today` says that a sowing is unlikely to give more.
#pragma once

#include <optional>
#include <string>

#include "crops/names.hpp"
#include "crops/origin.hpp"

namespace plumule::crops {

// Where the seed lies. In a towel or dish, as a laboratory tests it, the laboratory's last count
// holds; in soil or a mix seedlings have further to come.
enum class SownIn { soil, towel };

struct GiveUp {
  enum class Basis {
    final_count,             // the last count of the official laboratory test
    final_count_and_a_week,  // the same and seven days, for soil, where nothing better is published
    published_days,          // the longest published time to emergence that applies
    twice_expected,          // twice the published days at the soil's temperature
  };
  double days = 0;  // whole days after sowing
  Basis basis = Basis::final_count;
  std::optional<double> soil_temp_c;  // the temperature it was reckoned for, where one was used
  std::string how;                    // one sentence for a grower, without a full stop
  Origin origin;                      // of the figure it rests on
};

// In a towel: the final count of the test method, where there is one. In soil, where that count
// alone says nothing, the longer of any published time for slow kinds and
// - with a soil temperature inside the published table: twice the days expected there;
// - with none: twice the days at 20 C, and no less than the longest days from 15 to 25 C nor than
//   the final count and a week more;
// - colder than anything that came up in the table: the longest days in it;
// - for a kind with no published days: the final count and a week more.
// Twice the expected time, and a week more, are common practice without a source. Nothing for a
// crop of which no time is known. Days of chilling before sowing are not part of it. Throws
// std::domain_error for a temperature that is not a number.
std::optional<GiveUp> give_up_days(const Crop& crop, std::optional<double> soil_temp_c = {},
                                   SownIn sown_in = SownIn::soil);

}  // namespace plumule::crops
