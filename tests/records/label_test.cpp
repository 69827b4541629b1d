#include "records/label.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

using namespace plumule::records;

TEST_SUITE("labels") {
  TEST_CASE(
      "a label is letters, digits, dot, underscore and dash, beginning with one of the first") {
    for (const char* good : {"A1", "a", "7", "A-1", "soak.8h", "X_2"}) CHECK(is_label(good));
    CHECK(is_label(std::string(64, 'a')));
    for (const char* bad : {"", "-A", ".a", "_a", "A 1", "A=1", "A+1", "A@1", "lot:A", "Ä1", "A\n"})
      CHECK_FALSE(is_label(bad));
    CHECK_FALSE(is_label(std::string(65, 'a')));
  }

  TEST_CASE("what is no label is told why") {
    CHECK(label_trouble("") == "a label is missing");
    CHECK(label_trouble("A 1") ==
          "\"A 1\" is no label: use letters, digits, '.', '_' and '-', and begin with a letter or "
          "digit");
    CHECK(label_trouble(std::string(70, 'b')) ==
          "\"bbbbbbbbbbbbbbbbbbbb...\" is too long for a label: 64 characters at most");
  }

  TEST_CASE("numbers within labels go by their value") {
    std::vector<std::string> labels = {"B1", "A10", "a2",   "A1", "A01",
                                       "A",  "A2b", "A100", "10", "9"};
    std::sort(labels.begin(), labels.end(), label_before);
    CHECK(labels ==
          std::vector<std::string>{"9", "10", "A", "A01", "A1", "a2", "A2b", "A10", "A100", "B1"});
  }

  TEST_CASE("the order is whole") {
    const std::vector<std::string> labels = {"A1", "a1", "A01", "A001", "A1b", "A", "", "A1-", "B"};
    for (const auto& a : labels)
      for (const auto& b : labels) {
        CHECK_FALSE((label_before(a, b) && label_before(b, a)));
        if (!label_before(a, b) && !label_before(b, a)) CHECK(same_label(a, b));
        for (const auto& c : labels)
          if (label_before(a, b) && label_before(b, c)) CHECK(label_before(a, c));
      }
  }
}
