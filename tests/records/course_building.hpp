// Short ways to write a sowing and its counts in tests.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "records/course.hpp"

namespace plumule::tests {

// K3: twenty seeds in a tray, sown on Fri 3 Apr 2026.
inline records::Sowing k3() {
  records::Sowing sowing;
  sowing.label = "K3";
  sowing.sown = *records::parse_moment("2026-04-03");
  sowing.units = 20;
  return sowing;
}

// {"2026-04-10", "=14"}: a moment, and what was typed after the label.
inline std::vector<records::Count> counts(
    std::initializer_list<std::pair<const char*, const char*>> looks) {
  std::vector<records::Count> all;
  for (const auto& [at, typed] : looks) {
    records::Count count;
    count.at = *records::parse_moment(at);
    count.entered = records::parse_pair(std::string("K3") + typed).entered;
    all.push_back(std::move(count));
  }
  return all;
}

}  // namespace plumule::tests
