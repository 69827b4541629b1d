#include "analysis/crop_facts.hpp"

namespace plumule::analysis {

CropFacts crop_facts(const std::string& name) {
  CropFacts result;
  result.asked = name;
  auto match = crops::find_crop(name);
  if (match.crop) {
    result.known = crops::known_of(*match.crop);
    result.gist = crops::gist_of(*match.crop);
  } else {
    result.may_be_meant = std::move(match.nearest);
  }
  return result;
}

CropList crop_list() {
  CropList result;
  for (const auto& crop : crops::all_crops()) result.crops.push_back(&crop);
  return result;
}

}  // namespace plumule::analysis
