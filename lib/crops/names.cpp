// The list of crops, and the search of their names: by comparison, as some hundred names are soon
// gone through.
#include "crops/names.hpp"

#include <algorithm>
#include <string>

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

template <class Take>
void for_each_name(Take take) {
  for (const Crop& crop : all_crops()) {
    take(crop.name, crop);
    take(crop.slug, crop);
    for (const std::string_view synonym : crop.synonyms) take(synonym, crop);
  }
}

// The set of letters in a name, but for those that the singular changes: it rules nearly every
// other name out at once, so that no index need be built. (Words that name_words drops, such as
// "and", may stand in what is asked but not in crops.csv.)
unsigned letters_of(std::string_view name) {
  unsigned letters = 0;
  for (const char c : name) {
    const char small = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (small >= 'a' && small <= 'z' && small != 's' && small != 'e' && small != 'i' &&
        small != 'y')
      letters |= 1U << static_cast<unsigned>(small - 'a');
  }
  return letters;
}

const Crop* by_name(const std::vector<std::string>& words) {
  const std::string joined = joined_key(words);
  const std::string sorted = sorted_key(words);
  const unsigned letters = letters_of(joined);
  const Crop* found = nullptr;
  for_each_name([&](std::string_view name, const Crop& crop) {
    if (found != nullptr || letters_of(name) != letters) return;
    std::vector<std::string> known = name_words(name);
    if (joined_key(known) == joined || sorted_key(std::move(known)) == sorted) found = &crop;
  });
  return found;
}

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
// they do not share; `unlike` where they have neither in common.
constexpr std::size_t unlike = 1000;

std::size_t unlikeness(const std::vector<std::string>& asked, const std::string& asked_joined,
                       const std::vector<std::string>& name) {
  const std::size_t letters = edit_distance(asked_joined, joined_key(name));
  std::size_t best =
      letters <= std::max<std::size_t>(1, asked_joined.size() / 3) ? letters : unlike;
  std::size_t shared = 0;
  for (const std::string& word : asked)
    if (std::find(name.begin(), name.end(), word) != name.end()) ++shared;
  if (shared > 0) best = std::min(best, 1 + asked.size() + name.size() - 2 * shared);
  return best;
}

std::vector<const Crop*> nearest(const std::vector<std::string>& words) {
  const std::string joined = joined_key(words);
  std::vector<std::pair<std::size_t, const Crop*>> likely;
  for_each_name([&](std::string_view name, const Crop& crop) {
    const std::size_t distance = unlikeness(words, joined, name_words(name));
    if (distance < unlike) likely.emplace_back(distance, &crop);
  });
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
  const std::vector<std::string> words = name_words(name);
  if (words.empty()) return {};
  if (const Crop* crop = by_name(words)) return {crop, {}};
  std::vector<const Crop*> species = by_botanical_name(words);
  if (species.size() == 1) return {species[0], {}};
  if (species.size() > 3) species.resize(3);
  if (!species.empty()) return {nullptr, std::move(species)};
  return {nullptr, nearest(words)};
}

const Crop* crop_by_slug(std::string_view slug) {
  for (const Crop& crop : all_crops())
    if (crop.slug == slug) return &crop;
  return nullptr;
}

}  // namespace plumule::crops
