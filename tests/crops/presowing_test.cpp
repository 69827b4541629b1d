// Treatments before sowing and the cautions that go with them.
#include "crops/presowing.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

#include "crops/caution.hpp"
#include "crops/crop.hpp"
#include "crops/known_crop.hpp"
#include "support/close.hpp"

using namespace plumule::crops;
using plumule::tests::known_crop;

namespace {

bool warns_of(const std::vector<Caution>& cautions, Hazard hazard) {
  for (const Caution& caution : cautions)
    if (caution.hazard == hazard) return true;
  return false;
}

}  // namespace

TEST_CASE("what a laboratory does to seed before its test is known") {
  // 7 CFR 201.58(b)(3): beet soaked 2 h
  bool found = false;
  for (const Presowing& advice : presowing_of(known_crop("beet")))
    found = found || (advice.topic == PresowingTopic::soaking && advice.low == 2 &&
                      advice.unit == "h" && advice.origin.kind == "law");
  CHECK(found);
}

TEST_CASE("topics come in order, general advice last in each") {
  for (const Crop& crop : all_crops()) {
    const auto advice = presowing_of(crop);
    for (std::size_t i = 0; i + 1 < advice.size(); ++i) {
      CHECK(advice[i].topic <= advice[i + 1].topic);
      if (advice[i].topic == advice[i + 1].topic) CHECK(advice[i].general <= advice[i + 1].general);
    }
    for (const Presowing& one : advice) {
      CHECK(!one.treatment.empty());
      if (one.low && one.high) CHECK(*one.low <= *one.high);
      if (one.low) CHECK(!one.unit.empty());
    }
  }
}

TEST_CASE("no hot water for cucurbits but cucumber") {
  // Ohio State University Extension HYG-5818
  const auto forbidden = [](const char* name) {
    for (const Presowing& advice : presowing_of(known_crop(name)))
      if (advice.topic == PresowingTopic::hot_water && advice.limit == "do not" &&
          advice.origin.source.find("HYG-5818") != std::string_view::npos)
        return true;
    return false;
  };
  for (const char* name : {"pumpkin", "squash", "melon", "watermelon"}) CHECK(forbidden(name));
  CHECK(!forbidden("cucumber"));
}

TEST_CASE("every hazard has a caution, and dangerous work defers to label and local codes") {
  for (const Hazard hazard :
       {Hazard::acid, Hazard::bleach, Hazard::peroxide, Hazard::treated_seed}) {
    const Caution caution = caution_about(hazard);
    CHECK(caution.text.find("label") != std::string_view::npos);
    CHECK(caution.text.find("local codes") != std::string_view::npos);
    CHECK(!caution.origin.source.empty());
  }
  CHECK(caution_about(Hazard::hot_water).text.find("leaflet") != std::string_view::npos);
  CHECK(caution_about(Hazard::poisonous_seed).text.find("poison") != std::string_view::npos);
  CHECK(caution_about(Hazard::sprouts_for_eating).text.find("food codes") !=
        std::string_view::npos);
  CHECK(!caution_about(Hazard::tested_seedlings).text.empty());
}

TEST_CASE("poisonous seed is named") {
  // Illinois Poison Center 2011: castor bean, morning glory, foxglove
  for (const char* name : {"castor bean", "morning glory", "foxglove", "sweet pea", "kidney bean"})
    CHECK_MESSAGE(warns_of(cautions_of(known_crop(name)), Hazard::poisonous_seed), name);
  CHECK(cautions_of(known_crop("castor bean"))[0].text.find("ricin") != std::string_view::npos);
  CHECK(cautions_of(known_crop("carrot")).empty());
  CHECK(warns_of(cautions_of(known_crop("mung bean")), Hazard::sprouts_for_eating));
}

TEST_CASE("what is done to a crop's seed brings its cautions") {
  CHECK(warns_of(known_of(known_crop("tomato")).cautions, Hazard::hot_water));
  CHECK(warns_of(known_of(known_crop("sugar beet")).cautions, Hazard::acid));
  // a bean is not to be put into hot water at all
  CHECK(!warns_of(known_of(known_crop("garden bean")).cautions, Hazard::hot_water));
  CHECK(warns_of(known_of(known_crop("garden bean")).cautions, Hazard::peroxide));
}

TEST_CASE("a treatment's own words call for its cautions") {
  CHECK(warns_of(cautions_in("10 % bleach, 10 min"), Hazard::bleach));
  CHECK(warns_of(cautions_in("Hot-water 50 C, 20 min"), Hazard::hot_water));
  CHECK(warns_of(cautions_in("thiram"), Hazard::treated_seed));
  CHECK(warns_of(cautions_in("TREATED"), Hazard::treated_seed));
  CHECK(warns_of(cautions_in("sulphuric acid 1 h"), Hazard::acid));
  CHECK(cautions_in("sulphuric acid 1 h").size() == 1);
  for (const char* harmless : {"", "soak 12 h", "untreated", "warm water", "chill 30 days"})
    CHECK_MESSAGE(cautions_in(harmless).empty(), harmless);
}
