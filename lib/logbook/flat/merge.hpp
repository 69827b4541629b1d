// A flat log into the logbook: every name it speaks of found there or added, every sowing, look,
// temperature and note. What stands already is nothing new; what differs from it is an error.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "logbook/flat/log_reader.hpp"
#include "logbook/journal/entry.hpp"
#include "logbook/store/store.hpp"
#include "records/refused.hpp"
#include "records/sowing.hpp"

namespace plumule::logbook {

// What the steps share: where the rows of the file lie in the logbook.
struct FlatPlaces {
  std::vector<records::Id> lots, treatments, batches, trials, blocks;  // by the file's things
  std::vector<std::string> lot_crops, lot_varieties;                   // likewise
  std::vector<records::Id> sowings;  // by the file's sowings; 0 until it is added
  std::vector<std::uint8_t> stood;   // of each sowing: the logbook had it
  // Sowings of the file that end because their label is sown again, and when.
  std::unordered_map<std::uint32_t, records::Date> sown_over;
  std::unordered_map<TextId, std::optional<records::Id>> people;
};

struct FlatMerge {
  Entry& entry;
  Store& store;
  FlatFile& file;
  FlatErrors& errors;
  ImportSummary& summary;
  std::size_t batch;  // rows that go into a table together; 1 where its guards look at each
  FlatPlaces places;

  std::string text(TextId id) const { return std::string(file.texts.text(id)); }
  std::optional<records::Id> person_of(TextId name);
  // One thing more of a kind that stood got what a column says.
  void filled_in(std::string_view kind, std::string_view column);
};

// Lots, treatments, batches, trials and their blocks: found or added.
void merge_names(FlatMerge& merge);
// Which sowings the logbook has, and which end because their label is sown again; those of the
// logbook are ended.
void settle_labels(FlatMerge& merge);
// Every sowing with its ending, then its looks as a whole course.
void merge_sowings(FlatMerge& merge);
// Temperatures and notes.
void merge_seen(FlatMerge& merge);

// The record of a sowing as the file has it.
records::Sowing said_sowing(const FlatMerge& merge, std::uint32_t sowing);

// Sets in `record`, of that kind, what the file says of a thing. True where that changed it; an
// error where the record says something else already, unless it is a fresh one, of which nothing
// was said.
template <class Record>
bool take_said(FlatMerge& merge, std::string_view kind, std::span<const Fact<Record>> facts,
               const FactTable& table, std::uint32_t thing, Record& record, bool fresh) {
  bool changed = false;
  for (std::size_t i = 0; i < facts.size(); ++i) {
    const TextId said = table.said(thing, i);
    if (said == 0) continue;
    const std::string_view text = merge.file.texts.text(said);
    const std::string there = facts[i].get(record);
    if (there == text) continue;
    if (!fresh && !there.empty() && there != "unknown") {
      // A label may differ in its letters' case.
      if (records::is_label(text) && records::same_label(there, text)) continue;
      merge.errors.add(table.line(thing), facts[i].column, text,
                       "the logbook has \"" + there + "\" for " + merge.text(table.name(thing)) +
                           "; mend the file, or the logbook",
                       {{records::Advice::amend_logbook}});
      continue;
    }
    if (Reason reason = facts[i].set(record, text); !reason.empty())
      merge.errors.add(table.line(thing), facts[i].column, text, std::move(reason));
    if (!fresh) merge.filled_in(kind, facts[i].column);
    changed = true;
  }
  return changed;
}

// The column that a refusal of `record` is about: the one without which it would pass, as said
// alone over `bare`; empty where it takes several together.
template <class Record>
std::string_view blamed_column(const FlatMerge& merge, std::span<const Fact<Record>> facts,
                               const FactTable& table, std::uint32_t thing, const Record& bare) {
  for (std::size_t i = 0; i < facts.size(); ++i) {
    if (table.said(thing, i) == 0) continue;
    Record one = bare;
    facts[i].set(one, merge.file.texts.text(table.said(thing, i)));
    try {
      check(one);
    } catch (const records::Refused&) {
      return facts[i].column;
    }
  }
  return {};
}

// Runs `act`; a refusal becomes an error of the thing's line, at the column to blame.
template <class Record, class Act>
void or_error(FlatMerge& merge, std::span<const Fact<Record>> facts, const FactTable& table,
              std::uint32_t thing, const Record& bare, const Act& act) {
  try {
    act();
  } catch (const records::Refused& refused) {
    const std::string_view column = blamed_column(merge, facts, table, thing, bare);
    std::string_view value;
    for (std::size_t i = 0; i < facts.size(); ++i)
      if (facts[i].column == column) value = merge.file.texts.text(table.said(thing, i));
    merge.errors.add(table.line(thing), column, value, refused.what(), refused.hints());
  }
}

}  // namespace plumule::logbook
