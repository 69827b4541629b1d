// Lists of names, and the names that a mistyped one may have meant.
#include "records/names.hpp"

#include <doctest/doctest.h>

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
