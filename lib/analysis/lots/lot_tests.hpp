// Which sowings of a lot count as tests of it, and which are only shown, and why.
#pragma once

#include <span>
#include <vector>

#include "analysis/lots/lot_viability.hpp"
#include "stats/trays/tray_count.hpp"

namespace plumule::analysis {

struct LotTests {
  std::vector<LotTest> tests;  // by day sown, then name; what follows is of those counted
  std::vector<stats::TrayCount> counted;  // up of those sown
  std::vector<stats::TrayCount> alive;    // the same, with those assessed hard
  std::vector<records::Setting> settings;
  bool from_soil = false;
  records::UnitKind unit = records::UnitKind::seed;
  bool running = false;  // one of them is
  bool awaited = false;  // an open one has not been looked at yet, and is not counted for that
  std::int64_t hard = 0;
};

// Towels and dishes where there are any, else trays, pots and rows; untreated ones; none that
// failed or came to an accident; of the same counting and unit as the latest; sown at most 183 days
// before the latest. A test runs on until it is ended, all its seeds are up, or it was looked at on
// its crop's give-up day (28 days after sowing where none is known) or later: that the day has
// passed says nothing of what came up. In soil it runs on past that day while looks still find new
// ones, until five days are without any or nobody has looked for as long.
LotTests lot_tests(std::span<const records::History> histories, records::Date today);

// The counts, settings, hard seed and `running` anew, of the tests whose use is `counted`.
void take_counted(LotTests& tests);

}  // namespace plumule::analysis
