// The list of crops, and the index of all their names, built when a name is first asked for.
#include "crops/names.hpp"

#include <algorithm>
#include <string>
#include <unordered_map>

#include "crops/normal_name.hpp"
#include "crops/table.hpp"

namespace plumule::crops {
namespace {

std::vector<std::string_view> split(std::string_view list) {
  std::vector<std::string_view> parts;
  while (!list.empty()) {
    const std::size_t end = std::min(list.find("; "), list.size());
    parts.push_back(list.substr(0, end));
    list.remove_prefix(std::min(end + 2, list.size()));
  }
  return parts;
}

std::vector<Crop> read_crops() {
  static const Table table("crops.csv");
  std::vector<Crop> crops;
  for (const auto& row : table.rows())
    crops.push_back(
        {row["crop"], row["name"], row["botanical"], row["group"], split(row["synonyms"])});
  return crops;
}

struct Known_name {
  std::vector<std::string> words;
  std::string joined;
  const Crop* crop;
};

struct Index {
  std::vector<Known_name> names;
  std::unordered_map<std::string, const Crop*> by_key;  // sorted and joined keys alike

  Index() {
    for (const Crop& crop : all_crops()) {
      add(crop.name, crop);
      add(crop.slug, crop);
      for (const std::string_view synonym : crop.synonyms) add(synonym, crop);
    }
  }
  void add(std::string_view name, const Crop& crop) {
    std::vector<std::string> words = name_words(name);
    std::string joined = joined_key(words);
    by_key.emplace(sorted_key(words), &crop);
    by_key.emplace(joined, &crop);
    names.push_back({std::move(words), std::move(joined), &crop});
  }
};

// The crops whose botanical name begins with these words, genus and species at least: "Daucus
// carota" is enough for "Daucus carota subsp. sativus".
std::vector<const Crop*> by_botanical_name(const std::vector<std::string>& words) {
  std::vector<const Crop*> found;
  if (words.size() < 2) return found;
  for (const Crop& crop : all_crops()) {
    const std::vector<std::string> whole = name_words(crop.botanical);
    if (whole.size() >= words.size() && std::equal(words.begin(), words.end(), whole.begin()))
      found.push_back(&crop);
  }
  return found;
}

// How unlike two names are: misspelt letters, or, of names that share a whole word, the words that
// they do not share. Large where nothing speaks for it.
std::size_t unlikeness(const std::vector<std::string>& asked, const std::string& asked_joined,
                       const Known_name& name) {
  constexpr std::size_t none = 1000;
  const std::size_t letters = edit_distance(asked_joined, name.joined);
  std::size_t best = letters <= std::max<std::size_t>(1, asked_joined.size() / 3) ? letters : none;
  std::size_t shared = 0;
  for (const std::string& word : asked)
    if (std::find(name.words.begin(), name.words.end(), word) != name.words.end()) ++shared;
  if (shared > 0) best = std::min(best, 1 + asked.size() + name.words.size() - 2 * shared);
  return best;
}

std::vector<const Crop*> nearest(const Index& index, const std::vector<std::string>& words) {
  const std::string joined = joined_key(words);
  std::vector<std::pair<std::size_t, const Crop*>> likely;
  for (const Known_name& name : index.names) {
    const std::size_t distance = unlikeness(words, joined, name);
    if (distance < 1000) likely.emplace_back(distance, name.crop);
  }
  std::stable_sort(likely.begin(), likely.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<const Crop*> found;
  for (const auto& [distance, crop] : likely) {
    if (found.size() == 3) break;
    if (std::find(found.begin(), found.end(), crop) == found.end()) found.push_back(crop);
  }
  return found;
}

}  // namespace

std::span<const Crop> all_crops() {
  static const std::vector<Crop> crops = read_crops();
  return crops;
}

Match find_crop(std::string_view name) {
  static const Index index;
  const std::vector<std::string> words = name_words(name);
  if (words.empty()) return {};
  for (const std::string& key : {sorted_key(words), joined_key(words)}) {
    const auto found = index.by_key.find(key);
    if (found != index.by_key.end()) return {found->second, {}};
  }
  std::vector<const Crop*> species = by_botanical_name(words);
  if (species.size() == 1) return {species[0], {}};
  if (species.size() > 3) species.resize(3);
  if (!species.empty()) return {nullptr, std::move(species)};
  return {nullptr, nearest(index, words)};
}

const Crop* crop_by_slug(std::string_view slug) {
  for (const Crop& crop : all_crops())
    if (crop.slug == slug) return &crop;
  return nullptr;
}

}  // namespace plumule::crops
