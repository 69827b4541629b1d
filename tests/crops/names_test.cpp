// Names of crops as growers write them.
#include <map>
#include <set>
#include <string>

#include "crops/known_crop.hpp"
#include "crops/names.hpp"
#include "crops/normal_name.hpp"
#include "support/csv.hpp"

using plumule::crops::all_crops;
using plumule::crops::Crop;
using plumule::crops::crop_by_slug;
using plumule::crops::edit_distance;
using plumule::crops::find_crop;
using plumule::tests::known_crop;

namespace {

std::string name_of(const std::string& asked) {
  const auto match = find_crop(asked);
  return match.crop == nullptr ? "" : std::string(match.crop->name);
}

std::string first_suggestion(const std::string& asked) {
  const auto match = find_crop(asked);
  REQUIRE(match.crop == nullptr);
  return match.nearest.empty() ? "" : std::string(match.nearest[0]->name);
}

}  // namespace

TEST_CASE("a garden bean by every name that growers give it") {
  for (const char* name :
       {"Garden bean", "bean", "Beans", "Bean (snap)", "bean, garden", "GARDEN BEANS",
        "french bean", "Beans, French", "green beans", "  snap-bean  ", "garden-bean", "Bean seed",
        "bean (snap, bush and pole)"})
    CHECK_MESSAGE(name_of(name) == "Garden bean", name);
}

TEST_CASE("names that two countries give one crop") {
  // common practice, no source: garden words of Britain and America
  const std::map<std::string, std::string> pairs = {{"beetroot", "Beet"},
                                                    {"aubergines", "Eggplant"},
                                                    {"courgette", "Squash"},
                                                    {"rocket", "Arugula"},
                                                    {"cilantro", "Coriander"},
                                                    {"swede", "Rutabaga"},
                                                    {"lambs lettuce", "Corn salad"},
                                                    {"Lamb's Lettuce", "Corn salad"},
                                                    {"broadbean", "Broad bean"},
                                                    {"cantaloupe", "Melon"},
                                                    {"sweetcorn", "Sweet corn"},
                                                    {"maize", "Field corn"},
                                                    {"bok choy", "Pak choi"},
                                                    {"chillies", "Pepper"},
                                                    {"radishes", "Radish"},
                                                    {"tomatoes", "Tomato"},
                                                    {"cresses", "Garden cress"},
                                                    {"asparagus", "Asparagus"},
                                                    {"silver beet", "Swiss chard"},
                                                    {"lucerne", "Alfalfa"}};
  for (const auto& pair : pairs) CHECK_MESSAGE(name_of(pair.first) == pair.second, pair.first);
}

TEST_CASE("every name, slug and synonym finds its own crop and no other") {
  std::map<std::string, const Crop*> owner;
  const auto check = [&](std::string_view name, const Crop& crop) {
    CHECK_MESSAGE(find_crop(name).crop == &crop, std::string(name));
    const auto key = plumule::crops::joined_key(plumule::crops::name_words(name));
    const auto [at, fresh] = owner.emplace(key, &crop);
    CHECK_MESSAGE(at->second == &crop, std::string(name), " is given to two crops");
  };
  for (const Crop& crop : all_crops()) {
    check(crop.name, crop);
    check(crop.slug, crop);
    for (const std::string_view synonym : crop.synonyms) check(synonym, crop);
  }
}

TEST_CASE("slugs are unique, and botanical names and groups are given") {
  std::set<std::string_view> slugs;
  const std::set<std::string_view> groups = {"vegetable", "herb", "field crop", "flower"};
  for (const Crop& crop : all_crops()) {
    CHECK_MESSAGE(slugs.insert(crop.slug).second, std::string(crop.slug));
    CHECK(crop_by_slug(crop.slug) == &crop);
    CHECK(!crop.botanical.empty());
    CHECK_MESSAGE(groups.count(crop.group) == 1, std::string(crop.slug));
  }
  CHECK(slugs.size() >= 60);
  CHECK(crop_by_slug("Garden bean") == nullptr);
}

TEST_CASE("every kind of the regulations is a known crop") {
  // 7 CFR 201.31 and 201.58, N.H. Agr 2203.01: tests/reference/regulations
  std::set<const Crop*> federal;
  for (const auto& row :
       plumule::tests::read_csv("reference/regulations/germination_standards.csv"))
    federal.insert(&known_crop(row.at("kind")));
  CHECK(federal.size() == 68);
  for (const auto& row :
       plumule::tests::read_csv("reference/regulations/germination_standards_state_extra.csv"))
    if (row.at("kind").rfind("ALL OTHER", 0) != 0) known_crop(row.at("kind"));
}

TEST_CASE("a botanical name is found where one crop alone bears it") {
  CHECK(name_of("Daucus carota") == "Carrot");
  CHECK(name_of("daucus carota subsp. sativus") == "Carrot");
  CHECK(name_of("Raphanus sativus") == "Radish");
  const auto shared = find_crop("Zea mays");  // sweet, field and popcorn
  CHECK(shared.crop == nullptr);
  CHECK(shared.nearest.size() == 3);
  CHECK(find_crop("Brassica").crop == nullptr);  // a genus is not enough
}

TEST_CASE("a misspelling is suggested and never taken") {
  CHECK(first_suggestion("carot") == "Carrot");
  CHECK(first_suggestion("Tomatoe") == "Tomato");
  CHECK(first_suggestion("lettcue") == "Lettuce");
  CHECK(first_suggestion("brocolli") == "Broccoli");
  CHECK(first_suggestion("yellow plum tomato") == "Tomato");
  CHECK(find_crop("xyzzyplugh").nearest.empty());
}

TEST_CASE("nothing is found for no name") {
  for (const char* name : {"", "   ", "seeds", "-,-", "()"}) {
    CHECK(find_crop(name).crop == nullptr);
    CHECK(find_crop(name).nearest.empty());
  }
}

TEST_CASE("edit distance") {
  CHECK(edit_distance("kitten", "sitting") == 3);  // the textbook example, from memory
  CHECK(edit_distance("ca", "abc") == 3);          // 2 with free swaps: optimal string alignment
  CHECK(edit_distance("ab", "ba") == 1);
  CHECK(edit_distance("", "leek") == 4);
  CHECK(edit_distance("leek", "leek") == 0);
}
