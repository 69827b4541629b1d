// Cautions by cautions.csv.
#include "crops/caution.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "crops/normal_name.hpp"
#include "crops/table.hpp"

namespace plumule::crops {
namespace {

struct NamedHazard {
  std::string_view name;
  Hazard hazard;
};

constexpr NamedHazard hazards[] = {
    {"acid", Hazard::acid},
    {"bleach", Hazard::bleach},
    {"peroxide", Hazard::peroxide},
    {"hot_water", Hazard::hot_water},
    {"treated_seed", Hazard::treated_seed},
    {"poisonous_seed", Hazard::poisonous_seed},
    {"sprouts_for_eating", Hazard::sprouts_for_eating},
    {"tested_seedlings", Hazard::tested_seedlings},
};

Hazard hazard_of(std::string_view name) {
  for (const NamedHazard& known : hazards)
    if (known.name == name) return known.hazard;
  throw std::logic_error("cautions.csv has no such hazard: " + std::string(name));
}

const Table& cautions() {
  static const Table table("cautions.csv");
  return table;
}

Caution caution(const Table::Row& row) {
  return {hazard_of(row["hazard"]), row["text"], origin(row)};
}

// Whether one of the phrases ("hot water; boiling") stands in the words, whole.
bool says(const std::string& spaced_words, std::string_view phrases) {
  while (!phrases.empty()) {
    const std::size_t end = std::min(phrases.find("; "), phrases.size());
    std::string phrase = " ";
    for (const std::string& word : name_words(phrases.substr(0, end))) phrase += word + " ";
    if (spaced_words.find(phrase) != std::string::npos) return true;
    phrases.remove_prefix(std::min(end + 2, phrases.size()));
  }
  return false;
}

}  // namespace

Caution caution_about(Hazard hazard) {
  for (const auto& row : cautions().rows())
    if (row["crop"] == "any" && hazard_of(row["hazard"]) == hazard) return caution(row);
  throw std::logic_error("cautions.csv lacks a hazard");
}

std::vector<Caution> cautions_of(const Crop& crop) {
  std::vector<Caution> found;
  for (const auto& row : cautions().rows())
    if (row["crop"] == crop.slug) found.push_back(caution(row));
  return found;
}

std::vector<Caution> cautions_in(std::string_view treatment_words) {
  std::string spaced = " ";
  for (const std::string& word : name_words(treatment_words)) spaced += word + " ";
  std::vector<Caution> found;
  for (const auto& row : cautions().rows())
    if (row["crop"] == "any" && says(spaced, row["words"])) found.push_back(caution(row));
  return found;
}

}  // namespace plumule::crops
