#include "analysis/comparison/contrast.hpp"

namespace plumule::analysis {

std::string verdict_code(stats::StandCode stand, SpeedCode speed) {
  if (stand == stats::StandCode::open || speed == SpeedCode::open) return "open";
  std::string code;
  const auto claim = [&](const char* word) {
    if (!code.empty()) code += '+';
    code += word;
  };
  if (stand == stats::StandCode::more) claim("more");
  if (stand == stats::StandCode::fewer) claim("fewer");
  if (speed == SpeedCode::sooner) claim("sooner");
  if (speed == SpeedCode::sooner_after_sowing) claim("sooner-after-sowing");
  if (speed == SpeedCode::later) claim("later");
  if (!code.empty()) return code;
  return stand == stats::StandCode::neither && speed == SpeedCode::neither ? "neither"
                                                                           : "too-small";
}

}  // namespace plumule::analysis
