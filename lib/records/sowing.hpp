// A sowing: one tray, row, towel or set of cells. It is the experimental unit.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "records/date.hpp"
#include "records/label.hpp"
#include "records/lot.hpp"

namespace plumule::records {

enum class Setting { towel, dish, tray, cells, pot, row };
enum class UnitKind { seed, cluster, cell };                   // what one unit sown is
enum class Counting { root_seen, shoot_up, usable_seedling };  // what counts as up; never pooled
enum class UnitsKnown { exact, estimated, unknown };
enum class EndingKind { finished, accident, failed, given_up, sown_over };

// finished: counted to its end. accident: figures stop at the last good look. failed: dried out or
// damped off, a result that stays in. given_up: no more was looked for. sown_over: the label was
// sown again.
struct Ending {
  EndingKind kind = EndingKind::finished;
  Moment at;
  std::string why = {};
};

struct Sowing {
  Id id = 0;
  std::string label = {};
  Moment sown;
  std::string lot = {};      // code; empty: none recorded
  std::string crop = {};     // the lot's, else what was given for the sowing itself
  std::string variety = {};  // likewise
  std::string treatment = "untreated";
  std::string batch = {};  // code of the jar or mat; empty: none recorded
  std::string trial = {};  // code; empty: none
  std::string block = {};  // name; empty: none
  UnitsKnown units_known = UnitsKnown::exact;
  std::optional<std::int64_t> units = {};  // 1 to 1e9; none where unknown
  std::optional<double> grams = {};        // sown by weight
  std::optional<double> metres = {};       // of row
  UnitKind unit = UnitKind::seed;
  int seeds_per_cell = 1;
  Counting counting = Counting::shoot_up;
  std::optional<Moment> wetted = {};  // when a soak began; none: soak hours before sowing
  Setting setting = Setting::tray;
  bool taken_out = false;  // sprouts are taken out at each look (a towel)
  std::optional<double> depth_mm = {};
  std::string medium = {};
  std::string place = {};
  std::int64_t bench_order = 0;  // the walk goes by this, then by label
  std::optional<Ending> ending = {};

  bool open() const { return !ending; }
  // "A1@2026-04-03": tells sowings apart that share a label.
  std::string dated_label() const;
};

inline constexpr std::int64_t most_units = 1'000'000'000;

// Throws Refused: a label that is none, units outside 1 to 1e9 (or given where they are said to be
// unknown), wetted after sown, an ending before the sowing, a depth, weight or length that is
// negative or absurd, a block without a trial.
void check(const Sowing& sowing);

}  // namespace plumule::records
