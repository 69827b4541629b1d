// What is believed of rho, as it was asked for: the published prior of each setting, one value, or
// what the grower's own replicated sowings say.
#pragma once

#include <array>
#include <cstdint>
#include <optional>

namespace plumule::analysis {

// Settings in which seeds of one sowing resemble each other about as much.
enum class SettingKind { paper, soil, row };  // towels, dishes; trays, cells, pots; rows
inline constexpr std::size_t setting_kinds = 3;

struct OwnRho {
  std::int64_t groups = 0;  // seen in the logbook
  std::optional<double> b;  // of rho ~ Beta(1, b); none where they are too few
};

struct RhoChoice {
  std::optional<double> fixed;                           // in [0, 1): whatever the setting
  std::optional<std::array<OwnRho, setting_kinds>> own;  // by kind; where none can be told, as
                                                         // published
  RhoChoice() = default;
  RhoChoice(double value) : fixed(value) {}                 // NOLINT(google-explicit-constructor)
  RhoChoice(std::optional<double> value) : fixed(value) {}  // NOLINT(google-explicit-constructor)
};

}  // namespace plumule::analysis
