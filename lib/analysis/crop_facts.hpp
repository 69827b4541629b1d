// What is known of a crop, as a finding: what is asked first, all facts with their sources, or the
// names that may have been meant.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "crops/crop.hpp"
#include "crops/gist.hpp"

namespace plumule::analysis {

struct CropFacts {
  std::string asked;
  std::optional<crops::Known> known;      // none where the name is not known
  crops::Gist gist;                       // of what is known
  std::vector<crops::Crop> may_be_meant;  // then
};

CropFacts crop_facts(const std::string& name);

struct CropList {
  std::vector<crops::Crop> crops;  // by name
};
CropList crop_list();

}  // namespace plumule::analysis
