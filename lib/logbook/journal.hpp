// The journal: what each command wrote, and taking the last one back.
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

// Takes the last command that still stands back, whole: its rows go, what it changed is as it was,
// derived totals follow. Refused where nothing is left to take back, and with `of` where the
// command was another's than that person's.
JournalLine undo(Logbook& logbook, const std::string& by, const std::string& of = {});

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
