// The journal: what each command wrote, and what was corrected.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "logbook/logbook.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

struct JournalLine {
  records::Id id = 0;
  std::string at;  // UTC, YYYY-MM-DDTHH:MM:SSZ
  std::string by;
  std::string command;
  std::string summary;
  bool undone = false;
  // Sowings of a blind trial whose counts a single command of counting or amending wrote: its words
  // name their figures.
  std::vector<std::string> blind_counts = {};
};

// Latest first, at most `limit`.
std::vector<JournalLine> journal(Logbook& logbook, std::size_t limit);

// The corrections of one sowing's counts: when, by whom, from what, to what.
struct Correction {
  std::string at;
  std::string by;
  std::string before;  // in words: "Mon 6 Apr: 14 up in all"
  std::string after;
  records::Id entry = 0;  // its line of the journal
};
std::vector<Correction> corrections_of(Logbook& logbook, records::Id sowing);

}  // namespace plumule::logbook
