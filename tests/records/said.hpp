// The sentence with which something is refused, for tests of the words.
#pragma once

#include <string>

#include "records/refused.hpp"

namespace plumule::tests {

// What `act` is refused with; "(not refused)" where it is not.
template <class Act>
std::string said(const Act& act) {
  try {
    act();
  } catch (const records::Refused& refused) {
    return refused.what();
  }
  return "(not refused)";
}

}  // namespace plumule::tests
