// What each journal line of a file wrote, found anew from the rows that stand and from the ledger
// of changes, by which a row is led back to what the line had made of it.
#pragma once

#include <cstdint>
#include <map>
#include <vector>

#include "logbook/journal/tally.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {

using Tallies = std::map<std::int64_t, Tally>;  // by the line's id

// Of every line that was not taken back (whose rows are gone), the line itself in its digest.
Tallies retally(Store& store);

// A line that keeps another tally than the file gives it.
struct Mistallied {
  std::int64_t line = 0;
  std::string command;
  Tally kept;
  Tally found;
};
// In order of the lines; those of before keep none and are not among them.
std::vector<Mistallied> mistallied(Store& store);

// Makes what stands the known state of each of them; `at` is when (UTC). Within a transaction.
void accept_tallies(Store& store, const std::vector<Mistallied>& lines, const std::string& at);

}  // namespace plumule::logbook
