// See the header.
#include "stats/stand/layout.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <stdexcept>
#include <tuple>

#include "stats/trays/tray_likelihood.hpp"

namespace plumule::stats {
namespace {

void check(std::span<const PlacedUnit> units, int treatments) {
  if (treatments < 1) throw std::domain_error("a trial needs at least one treatment");
  std::vector<TrayCount> counts;
  for (const auto& unit : units) {
    if (unit.treatment < 0 || unit.treatment >= treatments)
      throw std::domain_error("a unit's treatment must be one of those of the trial");
    counts.push_back({unit.up, unit.sown});
  }
  check_trays(counts);
}

// Cells with their counts, strata numbered as they ascend.
void fill_cells(StandLayout& made, std::vector<PlacedUnit> units) {
  std::sort(units.begin(), units.end(), [](const PlacedUnit& a, const PlacedUnit& b) {
    return std::tie(a.stratum, a.treatment, a.sown, a.up) <
           std::tie(b.stratum, b.treatment, b.sown, b.up);
  });
  int stratum = 0;
  for (const auto& unit : units) {
    const auto treatment = static_cast<std::size_t>(unit.treatment);
    if (made.cells.empty() || unit.stratum != stratum) {
      made.first_cell.push_back(made.cells.size());
      stratum = unit.stratum;
    }
    if (made.first_cell.back() == made.cells.size() || made.cells.back().treatment != treatment) {
      auto& cell = made.cells.emplace_back();
      cell.treatment = treatment;
      cell.stratum = made.first_cell.size() - 1;
    }
    auto& cell = made.cells.back();
    cell.units += 1;
    cell.counts.push_back({unit.up, unit.sown});
    ++made.units[treatment];
    made.sizes.push_back(static_cast<double>(unit.sown));
  }
  made.first_cell.push_back(made.cells.size());
}

void fill_groups(StandLayout& made) {
  std::sort(made.sizes.begin(), made.sizes.end());
  double inverse = 0;
  for (const double size : made.sizes) inverse += 1 / size;
  if (inverse > 0) made.harmonic = static_cast<double>(made.sizes.size()) / inverse;
  made.sizes.erase(std::unique(made.sizes.begin(), made.sizes.end()), made.sizes.end());
  for (auto& cell : made.cells)
    for (std::size_t from = 0, to = 0; from < cell.counts.size(); from = to) {
      const auto sown = static_cast<double>(cell.counts[from].sown);
      double up = 0;
      for (; to < cell.counts.size() && cell.counts[to].sown == cell.counts[from].sown; ++to)
        up += static_cast<double>(cell.counts[to].up);
      StandLayout::Group group;
      group.size = static_cast<std::size_t>(
          std::lower_bound(made.sizes.begin(), made.sizes.end(), sown) - made.sizes.begin());
      group.units = static_cast<double>(to - from);
      group.mean = up / (sown * group.units);
      for (std::size_t i = from; i < to; ++i) {
        const double off = static_cast<double>(cell.counts[i].up) / sown - group.mean;
        group.squares += off * off;
      }
      cell.groups.push_back(group);
    }
}

// Which treatments share strata, directly or through others.
void tie(StandLayout& made) {
  std::vector<int> root(made.treatments());
  std::iota(root.begin(), root.end(), 0);
  for (std::size_t b = 0; b + 1 < made.first_cell.size(); ++b) {
    const int to = root[made.cells[made.first_cell[b]].treatment];
    for (std::size_t c = made.first_cell[b] + 1; c < made.first_cell[b + 1]; ++c) {
      const int from = root[made.cells[c].treatment];  // a copy: the root itself is replaced
      std::replace(root.begin(), root.end(), from, to);
    }
  }
  std::map<int, int> numbers;
  for (std::size_t t = 0; t < made.treatments(); ++t)
    made.tied.push_back(
        made.units[t] == 0 ? -1 : numbers.try_emplace(root[t], numbers.size()).first->second);
}

void weigh_strata(StandLayout& made) {
  const std::size_t sets = static_cast<std::size_t>(
      made.tied.empty() ? 0 : *std::max_element(made.tied.begin(), made.tied.end()) + 1);
  std::vector<std::size_t> members(sets), whole(sets);
  for (const int set : made.tied)
    if (set >= 0) ++members[static_cast<std::size_t>(set)];
  const std::size_t strata = made.first_cell.size() - 1;
  const auto set_of = [&](std::size_t b) {
    return static_cast<std::size_t>(made.tied[made.cells[made.first_cell[b]].treatment]);
  };
  const auto holds_all = [&](std::size_t b) {
    return made.first_cell[b + 1] - made.first_cell[b] == members[set_of(b)];
  };
  for (std::size_t b = 0; b < strata; ++b) whole[set_of(b)] += holds_all(b) ? 1U : 0U;
  std::vector<double> sum(sets);
  made.share.assign(strata, 0);
  for (std::size_t b = 0; b < strata; ++b) {
    if (whole[set_of(b)] > 0 && !holds_all(b)) continue;
    for (std::size_t c = made.first_cell[b]; c < made.first_cell[b + 1]; ++c)
      made.share[b] += made.cells[c].units;
    sum[set_of(b)] += made.share[b];
  }
  for (std::size_t b = 0; b < strata; ++b) made.share[b] /= sum[set_of(b)];
  for (const std::size_t some : whole) made.gaps_filled.push_back(some == 0);
  const auto treated = std::accumulate(members.begin(), members.end(), std::size_t{0});
  made.rank = static_cast<double>(strata + treated - sets);
}

}  // namespace

StandLayout lay_out(std::span<const PlacedUnit> units, int treatments) {
  check(units, treatments);
  StandLayout made;
  made.units.assign(static_cast<std::size_t>(treatments), 0);
  fill_cells(made, {units.begin(), units.end()});
  fill_groups(made);
  tie(made);
  weigh_strata(made);
  made.df = std::max(0.0, static_cast<double>(units.size()) - made.rank);
  return made;
}

}  // namespace plumule::stats
