// Logbooks of several shapes, and the commands that are tried on each.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "faults/session.hpp"

namespace plumule::tests {

struct Deal {
  std::string name;  // as typed, or what is called
  std::function<Answer(const std::string& folder)> run;
  bool writes = true;  // else what it prints is compared
};

struct Scene {
  std::string name;
  std::string folder;  // as it is before a command; log.db in it, if there is one
  std::vector<Deal> deals;
};

// A command as typed on {}/log.db on 20 May 2026.
Answer type_in(const std::string& line, const std::string& folder, const std::string& input = "");
Deal typed(const std::string& line, const std::string& input = "");
Deal asked(const std::string& line);  // one that writes nothing

// Lays all of them in folders of their own below `folder`. `large` takes most of the time.
std::vector<Scene> lay_scenes(const std::string& folder, bool with_large);

}  // namespace plumule::tests
