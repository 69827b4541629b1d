// The facts with which something is refused, and the advice beside them, for tests of both.
#pragma once

#include <string>
#include <vector>

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

using Advised = std::vector<records::Advice>;

// What may mend it, in order; none where it is not refused.
template <class Act>
Advised advised(const Act& act) {
  Advised advised;
  try {
    act();
  } catch (const records::Hinted& refused) {
    for (const records::Hint& hint : refused.hints()) advised.push_back(hint.advice);
  }
  return advised;
}

}  // namespace plumule::tests
