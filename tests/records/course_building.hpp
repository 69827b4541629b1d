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
    count.entered = records::parse_pair(std::string("K3") + typed).typed.entered;
    all.push_back(std::move(count));
  }
  return all;
}

// What is wrong with looks that are all new; their totals are set.
inline std::optional<records::Trouble> trouble_of(const records::Sowing& sowing,
                                                  std::vector<records::Count>& all) {
  if (const auto trouble = records::derive(sowing, all)) return trouble;
  return records::more_lost_than_stood({}, all, all.size(), 0);
}

}  // namespace plumule::tests
