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
    for (const auto* near : match.nearest) result.may_be_meant.push_back(*near);
  }
  return result;
}

CropList crop_list() {
  CropList result;
  const auto all = crops::all_crops();
  result.crops.assign(all.begin(), all.end());
  return result;
}

}  // namespace plumule::analysis
