// Trial layouts: every combination once a block, labels by their rule, the same draw again.
#include "bench/layout.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

using plumule::bench::lay_out;
using plumule::bench::Layout;
using plumule::bench::Place;

namespace {

Layout soak_layout() {
  Layout layout;
  layout.lots = {"K", "L"};
  layout.treatments = {"untreated", "soak-8h", "soak-24h"};
  layout.blocks = {"1", "2", "3", "4"};
  layout.draw = 7;
  return layout;
}

std::vector<std::string> labels(const std::vector<Place>& places) {
  std::vector<std::string> all;
  for (const Place& place : places) all.push_back(place.label);
  return all;
}

}  // namespace

TEST_CASE("each block holds every lot with every treatment as often as there are trays") {
  Layout layout = soak_layout();
  layout.trays = 2;
  std::map<std::string, int> seen;
  std::set<std::string> names;
  for (const Place& place : lay_out(layout, {})) {
    ++seen[place.block + place.lot + place.treatment];
    names.insert(place.label);
  }
  CHECK(seen.size() == 24);
  CHECK(std::all_of(seen.begin(), seen.end(), [](const auto& one) { return one.second == 2; }));
  CHECK(names.size() == 48);
}

TEST_CASE("labels are a letter a block, and letters in use are passed over") {
  Layout layout = soak_layout();
  layout.lots = {"K"};
  layout.treatments = {"untreated"};
  CHECK(labels(lay_out(layout, {})) == std::vector<std::string>{"A1", "B1", "C1", "D1"});
  CHECK(labels(lay_out(layout, {"b7", "C-1", "D"})) ==
        std::vector<std::string>{"A1", "C1", "D1", "E1"});
}

TEST_CASE("with a prefix the numbers run on over the blocks, after those in use") {
  Layout layout = soak_layout();
  layout.lots = {"K"};
  layout.treatments = {"untreated"};
  layout.prefix = std::string("S");
  CHECK(labels(lay_out(layout, {})) == std::vector<std::string>{"S1", "S2", "S3", "S4"});
  CHECK(labels(lay_out(layout, {"S9", "SX1", "S"})) ==
        std::vector<std::string>{"S10", "S11", "S12", "S13"});
}

TEST_CASE("after Z comes AA") {
  Layout layout;
  layout.lots = {""};
  layout.treatments = {"untreated"};
  for (int i = 0; i < 28; ++i) layout.blocks.push_back(std::to_string(i));
  const auto all = labels(lay_out(layout, {}));
  CHECK(all[25] == "Z1");
  CHECK(all[26] == "AA1");
  CHECK(all[27] == "AB1");
}

TEST_CASE("the same number draws the same order, another one another, and in order none is drawn") {
  const auto order = [](const Layout& layout) {
    std::string text;
    for (const Place& place : lay_out(layout, {})) text.append(place.lot).append(place.treatment);
    return text;
  };
  Layout layout = soak_layout();
  const std::string first = order(layout);
  CHECK(order(layout) == first);
  layout.draw = 8;
  CHECK(order(layout) != first);
  layout.in_order = true;
  const auto places = lay_out(layout, {});
  CHECK(places[0].treatment == "untreated");
  CHECK(places[2].treatment == "soak-24h");
  CHECK(places[3].lot == "L");
}

// Each of the six orders of three should turn up about 1000 times in 6000: more than 5 standard
// deviations (29 each) away would be no fair draw.
TEST_CASE("every order is drawn about equally often") {
  Layout layout;
  layout.lots = {""};
  layout.treatments = {"a", "b", "c"};
  layout.blocks = {"1"};
  std::map<std::string, int> seen;
  for (layout.draw = 0; layout.draw < 6000; ++layout.draw) {
    std::string order;
    for (const Place& place : lay_out(layout, {})) order += place.treatment;
    ++seen[order];
  }
  CHECK(seen.size() == 6);
  for (const auto& one : seen) CHECK_MESSAGE(std::abs(one.second - 1000) < 145, one.first);
}
