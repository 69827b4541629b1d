// The crop of a name that the tests take to be known.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "crops/names.hpp"

namespace plumule::tests {

inline const crops::Crop& known_crop(const std::string& name) {
  const crops::Match match = crops::find_crop(name);
  REQUIRE_MESSAGE(match.crop != nullptr, name, " is not known");
  return *match.crop;
}

}  // namespace plumule::tests
