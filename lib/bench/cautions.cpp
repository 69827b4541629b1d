// Texts and sources are the crop tables'; here they are only called for.
#include "bench/cautions.hpp"

#include <algorithm>

namespace plumule::bench {

void add_cautions(std::vector<crops::Caution>& to, const std::vector<crops::Caution>& more) {
  for (const crops::Caution& caution : more) {
    const bool there = std::any_of(to.begin(), to.end(), [&](const crops::Caution& other) {
      return other.text == caution.text;
    });
    if (!there) to.push_back(caution);
  }
}

std::vector<crops::Caution> cautions_of_dressing(const records::Lot& lot) {
  std::vector<crops::Caution> all;
  if (records::is_dressing(lot.seed_treatment)) {
    all.push_back(crops::caution_about(crops::Hazard::treated_seed));
    add_cautions(all, crops::cautions_in(lot.seed_treatment));
  }
  add_cautions(all, crops::cautions_in(lot.coating));
  return all;
}

std::vector<crops::Caution> cautions_for(const records::Lot& lot) {
  std::vector<crops::Caution> all = cautions_of_dressing(lot);
  if (const crops::Crop* crop = crops::find_crop(lot.crop).crop)
    add_cautions(all, crops::cautions_of(*crop));
  return all;
}

std::vector<crops::Caution> cautions_for(const records::Treatment& treatment) {
  std::vector<crops::Caution> all = crops::cautions_in(treatment.scarification);
  add_cautions(all, crops::cautions_in(treatment.priming));
  add_cautions(all, crops::cautions_in(treatment.label));
  if (treatment.water_c && *treatment.water_c >= 40)  // hot enough to scald or to kill seed
    add_cautions(all, {crops::caution_about(crops::Hazard::hot_water)});
  return all;
}

void drop_overlapping(std::vector<crops::Caution>& cautions) {
  const bool said = std::any_of(cautions.begin(), cautions.end(), [](const crops::Caution& one) {
    return one.hazard == crops::Hazard::treated_seed ||
           one.hazard == crops::Hazard::sprouts_for_eating;
  });
  if (!said) return;
  cautions.erase(std::remove_if(cautions.begin(), cautions.end(),
                                [](const crops::Caution& one) {
                                  return one.hazard == crops::Hazard::tested_seedlings;
                                }),
                 cautions.end());
}

}  // namespace plumule::bench
