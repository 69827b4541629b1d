// The record of one sowing as a plain model in memory, written without the library: each rule is
// stated by itself over all looks, the way a grower would check a notebook.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <vector>

namespace plumule::tests {

struct Look {
  bool timed = false;
  int kind = 0;  // 0 total, 1 newly, 2 standing, 3 seedlings only
  std::int64_t value = 0;
  std::optional<std::int64_t> high;
  std::int64_t lost = 0;
  std::optional<std::int64_t> seedlings;
  int who = 0;  // 0: nobody said
};

struct Notebook {
  std::optional<std::int64_t> units = 20;
  int seeds_per_cell = 0;  // 0: units are no cells
  bool taken_out = false;
  std::int64_t sown_day = 0;  // days since 1970
  std::optional<std::int64_t> ended_day;
  bool accident = false;  // ended by one: no new look of that day, which may have been after it
  std::int64_t assessed = 0;
  std::map<std::int64_t, Look> looks;  // by minute

  // How many were ever up at each look, from the last figure for all of them on.
  std::vector<std::int64_t> up() const;
  // Whether what is written down can be.
  bool can_be() const;
};

}  // namespace plumule::tests
