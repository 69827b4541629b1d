// Lists of names, and the names that a mistyped one may have meant.
#include "records/names.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>
#include <string>
#include <utility>

using namespace plumule::records;

namespace {
using Names = std::vector<std::string>;
}

TEST_CASE("names in a list, the last after a word") {
  CHECK(listed({}).empty());
  CHECK(listed({"A1"}) == "A1");
  CHECK(listed({"A1", "A2"}) == "A1 and A2");
  CHECK(listed({"A1", "A2", "A3"}, "or") == "A1, A2 or A3");
  CHECK(listed_some({"A1", "A2", "A3"}, 3) == "A1, A2 and A3");
  CHECK(listed_some({"A1", "A2", "A3", "A4"}, 2) == "A1, A2 and 2 more");
}

TEST_CASE("the nearest in spelling, at most three") {
  CHECK(nearest("A1", {"B7", "A2", "A10", "C9"}) == Names{"A2", "A10"});
  CHECK(nearest("tomato", {"potato", "tomatoe", "toamto", "bean"}) ==
        Names{"tomatoe", "toamto", "potato"});
  CHECK(nearest("UNTREATED", {"untreated"}) == Names{"untreated"});
  CHECK(nearest("x", {}).empty());
  CHECK(nearest("soak24", {"chill"}).empty());
  CHECK(nearest("A", {"B", "C", "D", "E"}).size() == 3);
}

TEST_CASE("a name is found by whatever so many slips make of it") {
  std::mt19937 random(1);
  const auto below = [&random](std::size_t end) { return random() % end; };
  const auto letter = [&] { return "abcdeABCDE_19 "[below(14)]; };
  for (int i = 0; i < 20000; ++i) {
    std::string name(1 + below(12), ' ');
    for (char& one : name) one = letter();
    std::string typed = name;
    std::size_t slips = 0;
    for (const std::size_t wanted = below(7); slips < wanted; ++slips) {
      const std::size_t at = below(typed.size());
      const std::size_t kind = below(4);
      if (kind == 0) typed[at] = letter();
      if (kind == 1) typed.insert(at, 1, letter());
      if (kind == 2 && typed.size() > 1) typed.erase(at, 1);
      if (kind == 3 && at > 0 && wanted == 1) std::swap(typed[at], typed[at - 1]);
    }
    if (slips > std::max<std::size_t>(1, typed.size() / 2)) continue;
    CAPTURE(name);
    CAPTURE(typed);
    CHECK(nearest(typed, {name}) == Names{name});
  }
}
