// How the units of a trial lie over treatments and strata, and which of its treatments can be told
// apart from the strata: what the model of the stand is fitted to.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "stats/trays/tray_count.hpp"

namespace plumule::stats {

// One experimental unit (a tray, or the jar its seed was treated in): its seeds together.
struct PlacedUnit {
  int treatment = 0;    // 0 .. treatments - 1
  int stratum = 0;      // block, seed lot, place or day, or what several of these make: any number
  std::int64_t up = 0;  // came up, or stand: 0 <= up <= sown
  std::int64_t sown = 0;  // 1 to 1e9
};

struct StandLayout {
  // Units of one cell that are of one size, put together.
  struct Group {
    std::size_t size = 0;  // which of `sizes`
    double units = 0;
    double mean = 0;     // of their fractions
    double squares = 0;  // of the fractions about that mean, added up
  };
  // The units of one treatment in one stratum.
  struct Cell {
    std::size_t treatment = 0, stratum = 0;
    double units = 0;
    std::vector<Group> groups;
    std::vector<TrayCount> counts;
  };

  std::vector<double> sizes;            // the different numbers of seeds a unit, ascending
  std::vector<Cell> cells;              // by stratum, then by treatment
  std::vector<std::size_t> first_cell;  // of each stratum, and one past the last
  std::vector<int> units;               // of each treatment
  // Treatments that strata tie together carry the same number here; only these can be compared.
  // -1: the treatment has no units.
  std::vector<int> tied;
  // Of each stratum: its weight in the standardised means, the share of units among the strata that
  // hold every treatment of those tied together. Adds up to 1 over these.
  std::vector<double> share;
  std::vector<bool> gaps_filled;  // by number in `tied`: no stratum holds all, so all count
  double rank = 0;                // strata + treatments - sets tied together
  double df = 0;                  // units - rank, at least 0
  double harmonic = 1;            // mean of the seeds a unit

  std::size_t strata() const { return share.size(); }
  std::size_t treatments() const { return units.size(); }
};

// Order of units means nothing. Throws std::domain_error for counts or treatments that cannot be.
StandLayout lay_out(std::span<const PlacedUnit> units, int treatments);

}  // namespace plumule::stats
