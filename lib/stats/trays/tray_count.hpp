// What one sowing (tray, row, towel) gave in the end: units up of units sown. The experimental unit
// of every tray-aware piece.
#pragma once

#include <cstdint>

namespace plumule::stats {

// 0 <= up <= sown, 1 <= sown <= 1e9; functions that take one throw std::domain_error otherwise.
struct TrayCount {
  std::int64_t up = 0;
  std::int64_t sown = 0;
};

}  // namespace plumule::stats
