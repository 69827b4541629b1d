// What a grower asks first of a crop, drawn together from all tables: one figure or one range a
// question. Where sources disagree the range takes them all in; which says what is in crop.hpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "crops/clusters.hpp"
#include "crops/emergence.hpp"
#include "crops/give_up.hpp"
#include "crops/seed_life.hpp"
#include "crops/standard.hpp"
#include "crops/test_method.hpp"

namespace plumule::crops {

// From the least to the most that a source says; both ends the same where all agree.
struct Span {
  double low = 0;
  double high = 0;
};

// Over every table of soil temperatures that has the crop, in degrees Celsius.
struct SoilGist {
  std::optional<Span> lowest;   // at which it comes up at all
  std::optional<Span> best;     // from the coldest to the warmest that any table calls best
  std::optional<Span> highest;  // at which it still comes up
  int tables = 0;
};

// One thing done to seed before it is sown.
struct BeforeSowing {
  std::string_view topic;      // "soaking", "hot water", ...
  std::string_view treatment;  // in words, where there is one source; else empty
  std::optional<Span> amount;  // over the sources that give one in `unit`
  std::string_view unit;       // of the first source that gives a figure
  std::string_view limit;  // the most that is safe, in words; empty where none or many are given
  int advised = 0;         // by so many sources
  int refused = 0;         // "do not", by so many
};

struct Gist {
  std::optional<Standard> standard;
  std::optional<TestMethod> test;  // the regular one
  std::vector<Emergence> days;     // the temperatures that have days, coldest first
  std::optional<GiveUp> wait;      // in soil, no temperature being known
  SoilGist soil;
  std::optional<SeedLifeSummary> life;
  std::optional<Span> seedlings;  // to a cluster; none for single seeds. High is infinite where a
                                  // source says "or more"
  bool hard_seed = false;         // may be present
  std::vector<BeforeSowing> before;  // for this crop, not for any seed
};

Gist gist_of(const Crop& crop);

}  // namespace plumule::crops
