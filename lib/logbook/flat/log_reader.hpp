// A flat log, read whole: what its rows say of sowings, lots, treatments, batches and trials, each
// once, and every look in short form. Knows nothing of the logbook that it will go into.
#pragma once

#include <cstdint>
#include <limits>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "logbook/flat/csv_reader.hpp"
#include "logbook/flat/errors.hpp"
#include "logbook/flat/facts.hpp"
#include "logbook/flat/header.hpp"
#include "logbook/flat/rows.hpp"
#include "logbook/flat/texts.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// A day with its time of day where one was given, as a look has it.
struct FlatTime {
  std::int32_t day = 0;
  std::int16_t minute = -1;

  records::Moment moment() const;
};

struct FlatTemperature {
  std::uint32_t sowing = 0;
  FlatTime time;
  TextId person = 0;
  double spot = none, low = none, high = none;  // none is NaN

  static constexpr double none = std::numeric_limits<double>::quiet_NaN();
};

struct FlatNote {
  std::uint32_t sowing = 0;
  std::int32_t day = 0;
  TextId person = 0;
  TextId text = 0;
};

struct FlatEnding {
  records::EndingKind kind = records::EndingKind::finished;
  FlatTime time;
  bool dated = false;  // by `ended_on`, not by the row's look
  TextId why = 0;
  std::uint32_t line = 0;
};

struct FlatFile {
  FlatFile();

  FlatHeader header;
  std::int64_t rows = 0;
  Texts texts;
  // A name's facts by the place of each in lot_facts() and so on.
  FactTable lots, treatments, trials;
  FactTable batches;  // beyond batch_facts(): the treatment's name
  FactTable blocks;   // "TRIAL BLOCK", in order of appearance; its one fact is the trial's name
  FactTable sowings;  // beyond sowing_facts(): sown_on, with its time of day
  std::vector<std::int32_t> sown_day;      // of each sowing
  std::vector<TextId> key_label;           // of each sowing: its label, folded
  std::vector<std::uint8_t> untaken;       // of each: a row gives `emerged` without `newly_emerged`
  std::vector<std::uint8_t> spoilt;        // of each: a bad row, so that its course is not complete
  std::unordered_set<std::string> broken;  // labels, folded, of rows that could not be told apart
  std::unordered_map<std::uint32_t, FlatEnding> endings;
  std::unordered_set<std::uint32_t> kept_open;  // ended says `open`, though sown again later
  FlatLooks looks;
  std::vector<FlatTemperature> temperatures;
  std::vector<FlatNote> notes;

  std::size_t batch_treatment() const { return batch_facts().size(); }
  std::size_t sown_on() const { return sowing_facts().size(); }
  // The place of a column in sowing_facts(); it must be there.
  static std::size_t sowing_fact(std::string_view column);
};

// Reads it to its end, bad rows and columns included. False where that could not be done: no
// header, none of sowing and sown_on, bytes that are no CSV; the errors say which.
bool read_flat_file(const Reader& read, const ImportOptions& options, records::Date today,
                    FlatFile& file, FlatErrors& errors, std::vector<std::string>& ignored);

}  // namespace plumule::logbook
