// Laboratory methods against 7 CFR 201.58, and what they say of hard seed.
#include "crops/test_method.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <string_view>

#include "crops/hard_seed.hpp"
#include "crops/known_crop.hpp"
#include "support/csv.hpp"

using plumule::crops::all_crops;
using plumule::crops::hard_seed;
using plumule::crops::substratum;
using plumule::crops::test_methods;
using plumule::crops::TestMethod;
using plumule::crops::Trust;
using plumule::tests::known_crop;
using plumule::tests::read_csv;

TEST_CASE("methods are those of 7 CFR 201.58, Table 2") {
  int checked = 0;
  for (const auto& row : read_csv("reference/regulations/germination_methods.csv")) {
    std::string kind = row.at("kind");
    const std::size_t alternate = kind.find(" (alternate method)");
    const bool second = alternate != std::string::npos;
    if (second) kind.resize(alternate);
    const auto methods = test_methods(known_crop(kind));
    const auto found = std::find_if(methods.begin(), methods.end(),
                                    [&](const TestMethod& m) { return m.alternate == second; });
    REQUIRE_MESSAGE(found != methods.end(), kind);
    CHECK(found->substrata == row.at("substrata"));
    CHECK(found->temperature_c == row.at("temperature_c"));
    CHECK(std::to_string(found->final_count_days) == row.at("final_count_days"));
    CHECK((found->first_count_days ? std::to_string(*found->first_count_days) : "") ==
          row.at("first_count_days"));
    CHECK(found->hard_seed == (row.at("hard_seed_footnote") == "yes"));
    CHECK(found->specific.empty() == row.at("specific_requirements").empty());
    CHECK(found->dormant.empty() == row.at("fresh_or_dormant_seed").empty());
    CHECK(found->origin.trust == Trust::read);
    ++checked;
  }
  CHECK(checked == 114);
}

TEST_CASE("codes of what seed is tested on are those of 7 CFR 201.58(a)(7)") {
  int checked = 0;
  for (const auto& row : read_csv("reference/regulations/substrata_codes.csv")) {
    // Our words differ; what the seed lies on, and whether on top or between, does not.
    const std::string_view ours = substratum(row.at("code"));
    for (const char* word : {"blotter", "between", "top", "towel", "sand or soil",
                             "creped cellulose", "dish", "covers", "punched"}) {
      INFO(row.at("code"), ": ", word);
      CHECK((ours.find(word) != std::string_view::npos) ==
            (row.at("meaning").find(word) != std::string::npos));
    }
    CHECK(!ours.empty());
    ++checked;
  }
  CHECK(checked == 9);
  CHECK(substratum("ZZ").empty());
}

TEST_CASE("last counts that growers ask for most") {
  // 7 CFR 201.58, Table 2, typed in from the text of the section
  CHECK(test_methods(known_crop("parsley"))[0].final_count_days == 28);
  CHECK(test_methods(known_crop("radish"))[0].final_count_days == 6);
  CHECK(test_methods(known_crop("tomato"))[0].final_count_days == 14);
  CHECK(test_methods(known_crop("celery"))[0].final_count_days == 21);
}

TEST_CASE("the regular method comes first") {
  const auto onion = test_methods(known_crop("onion"));
  REQUIRE(onion.size() == 2);
  CHECK(!onion[0].alternate);
  CHECK(onion[0].final_count_days == 10);
  CHECK(onion[1].alternate);
  CHECK(onion[1].final_count_days == 12);
}

TEST_CASE("what is only remembered says so") {
  for (const auto& method : test_methods(known_crop("basil")))
    CHECK(method.origin.trust == Trust::memory);
}

TEST_CASE("every method counts first before it counts last, on known substrata") {
  for (const auto& crop : all_crops())
    for (const TestMethod& method : test_methods(crop)) {
      CHECK(method.final_count_days >= 5);
      CHECK(method.final_count_days <= 28);
      if (method.first_count_days) CHECK(*method.first_count_days < method.final_count_days);
      std::string_view codes = method.substrata;
      while (!codes.empty()) {
        const std::size_t end = std::min(codes.find(", "), codes.size());
        CHECK_MESSAGE(!substratum(codes.substr(0, end)).empty(), std::string(method.substrata));
        codes.remove_prefix(std::min(end + 2, codes.size()));
      }
    }
  CHECK(substratum("T").find("towels") != std::string_view::npos);
  CHECK(substratum("XX").empty());
}

TEST_CASE("hard seed follows the footnote of the table") {
  CHECK(hard_seed(known_crop("okra"))->possible);
  CHECK(hard_seed(known_crop("crimson clover"))->possible);
  CHECK(hard_seed(known_crop("garden bean"))->possible);
  CHECK(!hard_seed(known_crop("beet"))->possible);
  CHECK(hard_seed(known_crop("dry bean"))->possible);
  CHECK(!hard_seed(known_crop("tomato")).has_value());
  for (const auto& crop : all_crops())
    for (const TestMethod& method : test_methods(crop))
      if (method.hard_seed) {
        REQUIRE_MESSAGE(hard_seed(crop).has_value(), std::string(crop.slug));
        CHECK(hard_seed(crop)->possible);
      }
}
