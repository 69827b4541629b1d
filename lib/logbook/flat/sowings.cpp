// Sowings of a flat log: added with their endings, or held against the one that stands.
#include <algorithm>

#include "logbook/flat/bulk_insert.hpp"
#include "logbook/flat/courses.hpp"
#include "logbook/flat/merge.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"

namespace plumule::logbook {
namespace {

using records::Sowing;

// Every column of the table, in its order.
constexpr const char* sowing_columns =
    "id, label, sown_on, sown_time, lot, crop, variety, treatment, batch, trial, block, "
    "units_known, units, grams, metres, unit, seeds_per_cell, counting, wetted_on, wetted_time, "
    "setting, taken_out, depth_mm, medium, place, bench_order, ended_as, ended_on, ended_time, "
    "ended_why, entry";

class Sowings {
 public:
  explicit Sowings(FlatMerge& merge)
      : merge_(merge),
        insert_(merge.store, "sowings", sowing_columns, merge.batch, Rows::whole),
        untreated_(treatment_named(merge.entry.logbook(), records::untreated).id) {
    Query last(merge.store, "select coalesce(max(id), 0) from sowings");
    last.next();
    last_id_ = last.integer(0);
  }

  // The sowing as the logbook has it after this.
  Sowing take(std::uint32_t i);
  void finish() { insert_.finish(); }

 private:
  Sowing bare(std::uint32_t i) const;
  void settle_crop(std::uint32_t i, Sowing& record);
  void add(std::uint32_t i, Sowing& record);
  void complete(std::uint32_t i, Sowing& record);
  void complete_ending(std::uint32_t i, Sowing& record);
  std::optional<records::Id> place(const FactTable& table, const std::vector<records::Id>& ids,
                                   const std::string& name) const;

  FlatMerge& merge_;
  BulkInsert insert_;
  records::Id untreated_;
  records::Id last_id_ = 0;
};

Sowing Sowings::bare(std::uint32_t i) const {
  Sowing record = unsaid_sowing();
  record.label = merge_.text(merge_.file.sowings.name(i));
  record.sown.date = records::Date(std::chrono::days(merge_.file.sown_day[i]));
  return record;
}

std::optional<records::Id> Sowings::place(const FactTable& table,
                                          const std::vector<records::Id>& ids,
                                          const std::string& name) const {
  if (name.empty()) return std::nullopt;
  const std::uint32_t thing = table.find(merge_.file.texts, folded(name));
  if (thing == FactTable::none) return std::nullopt;
  return ids[thing];
}

// The crop is the lot's. Where a row gave it without the lot, they must agree.
void Sowings::settle_crop(std::uint32_t i, Sowing& record) {
  if (record.lot.empty()) return;
  const std::uint32_t lot = merge_.file.lots.find(merge_.file.texts, folded(record.lot));
  const auto settle = [&](std::string& own, const std::string& of_lot, const char* column) {
    if (own.empty() || of_lot.empty()) return;
    if (folded(own) != folded(of_lot))
      merge_.errors.add(merge_.file.sowings.line(i), column, own,
                        "lot " + record.lot + " is " + of_lot);
    own.clear();
  };
  settle(record.crop, merge_.places.lot_crops[lot], "crop");
  settle(record.variety, merge_.places.lot_varieties[lot], "variety");
}

void Sowings::add(std::uint32_t i, Sowing& record) {
  ++merge_.summary.sowings_new;
  settle_crop(i, record);
  record.id = ++last_id_;
  merge_.places.sowings[i] = record.id;
  or_error(merge_, sowing_facts(), merge_.file.sowings, i, bare(i), [&] { check(record); });
  if (merge_.errors.any()) return;
  const FlatFile& file = merge_.file;
  const FlatPlaces& places = merge_.places;
  const auto treatment = place(file.treatments, places.treatments, record.treatment);
  std::optional<records::Id> block;
  if (!record.block.empty())
    block = places.blocks[merge_.file.blocks.find(
        merge_.file.texts, folded(record.trial) + ' ' + folded(record.block))];
  insert_.add(record.id);
  insert_.add(record.label);
  insert_.add(records::to_text(record.sown.date));
  insert_.add(time_text(record.sown));
  insert_.add(place(file.lots, places.lots, record.lot));
  insert_.add(or_null(record.crop));
  insert_.add(or_null(record.variety));
  insert_.add(treatment.value_or(untreated_));
  insert_.add(place(file.batches, places.batches, record.batch));
  insert_.add(place(file.trials, places.trials, record.trial));
  insert_.add(block);
  insert_.add(std::string(word(record.units_known)));
  insert_.add(record.units);
  insert_.add(record.grams);
  insert_.add(record.metres);
  insert_.add(std::string(word(record.unit)));
  insert_.add(std::int64_t{record.seeds_per_cell});
  insert_.add(std::string(word(record.counting)));
  insert_.add(record.wetted ? std::optional(records::to_text(record.wetted->date)) : std::nullopt);
  insert_.add(record.wetted ? time_text(*record.wetted) : std::nullopt);
  insert_.add(std::string(word(record.setting)));
  insert_.add(std::int64_t{record.taken_out});
  insert_.add(record.depth_mm);
  insert_.add(or_null(record.medium));
  insert_.add(or_null(record.place));
  insert_.add(record.bench_order);
  const auto& ending = record.ending;
  insert_.add(ending ? std::optional(std::string(word(ending->kind))) : std::nullopt);
  insert_.add(ending ? std::optional(records::to_text(ending->at.date)) : std::nullopt);
  insert_.add(ending ? time_text(ending->at) : std::nullopt);
  insert_.add(ending ? or_null(ending->why) : std::nullopt);
  insert_.add(merge_.entry.id());
}

void Sowings::complete_ending(std::uint32_t i, Sowing& record) {
  const auto said = merge_.file.endings.find(i);
  if (said == merge_.file.endings.end()) return;  // also where it is said to be open still
  records::Ending ending;
  ending.kind = said->second.kind;
  ending.at = said->second.time.moment();
  ending.why = merge_.text(said->second.why);
  if (record.ending) {
    if (record.ending->kind != ending.kind || record.ending->at != ending.at ||
        (!ending.why.empty() && record.ending->why != ending.why))
      merge_.errors.add(said->second.line, "ended", word(ending.kind),
                        "the logbook has it ended as " + std::string(word(record.ending->kind)) +
                            " on " + records::to_text(record.ending->at) +
                            "; mend the file, or take that back",
                        {{records::Advice::amend_ending, record.dated_label()}});
    return;
  }
  record.ending = ending;
}

// What the file says beyond what stands is added to it.
void Sowings::complete(std::uint32_t i, Sowing& record) {
  const bool was_open = record.open();
  bool changed = take_said(merge_, "sowing", sowing_facts(), merge_.file.sowings, i, record, false);
  if (const TextId sown = merge_.file.sowings.said(i, merge_.file.sown_on()); sown != 0) {
    const auto moment = *records::parse_moment(merge_.file.texts.text(sown));
    if (record.sown.minute_of_day && record.sown != moment)
      merge_.errors.add(merge_.file.sowings.line(i), "sown_on", merge_.text(sown),
                        "the logbook has it sown at " + records::to_text(record.sown));
    if (record.sown != moment) merge_.filled_in("sowing", "sown_on");
    changed = changed || record.sown != moment;
    record.sown = moment;
  }
  complete_ending(i, record);
  const bool ends = was_open && record.ending;
  if (merge_.errors.any() || !(changed || ends)) return;
  or_error(merge_, sowing_facts(), merge_.file.sowings, i, bare(i), [&] {
    if (changed) {
      Sowing open = record;
      if (ends) open.ending.reset();
      change_sowing(merge_.entry, open);
    }
  });
}

Sowing Sowings::take(std::uint32_t i) {
  if (merge_.places.stood[i] == 0) {
    Sowing record = said_sowing(merge_, i);
    add(i, record);
    return record;
  }
  Sowing record = sowing_by_id(merge_.entry.logbook(), merge_.places.sowings[i]);
  complete(i, record);
  return record;
}

}  // namespace

Sowing said_sowing(const FlatMerge& merge, std::uint32_t sowing) {
  const FlatFile& file = merge.file;
  const auto facts = sowing_facts();
  static const std::size_t treatment = FlatFile::sowing_fact("treatment");
  static const std::size_t batch = FlatFile::sowing_fact("treated_in");
  static const std::size_t taken_out = FlatFile::sowing_fact("taken_out");
  Sowing record = unsaid_sowing();
  record.label = merge.text(file.sowings.name(sowing));
  record.sown.date = records::Date(std::chrono::days(file.sown_day[sowing]));
  for (std::size_t f = 0; f < facts.size(); ++f)
    if (const TextId said = file.sowings.said(sowing, f); said != 0)
      facts[f].set(record, file.texts.text(said));
  if (const TextId sown = file.sowings.said(sowing, file.sown_on()); sown != 0)
    record.sown = *records::parse_moment(file.texts.text(sown));
  // Treated together with others, and the treatment told only there.
  if (file.sowings.said(sowing, treatment) == 0 && file.sowings.said(sowing, batch) != 0) {
    const std::uint32_t jar = file.batches.find(file.texts, folded(record.batch));
    if (const TextId said = file.batches.said(jar, file.batch_treatment()); said != 0)
      record.treatment = merge.text(said);
  }
  if (file.sowings.said(sowing, taken_out) == 0)
    record.taken_out = record.setting == records::Setting::towel && file.untaken[sowing] == 0;
  if (const auto ended = file.endings.find(sowing); ended != file.endings.end())
    record.ending = records::Ending{ended->second.kind, ended->second.time.moment(),
                                    merge.text(ended->second.why)};
  else if (const auto over = merge.places.sown_over.find(sowing);
           over != merge.places.sown_over.end())
    record.ending =
        records::Ending{records::EndingKind::sown_over, {over->second, std::nullopt}, {}};
  return record;
}

void merge_sowings(FlatMerge& merge) {
  Sowings sowings(merge);
  FlatCourses courses(merge);
  for (std::uint32_t i = 0; i < merge.file.sowings.size(); ++i) {
    const Sowing record = sowings.take(i);
    courses.take(i, record);
    const bool ends = merge.places.stood[i] != 0 && record.ending && !merge.errors.any() &&
                      sowing_by_id(merge.entry.logbook(), record.id).open();
    if (!ends) continue;
    or_error(merge, sowing_facts(), merge.file.sowings, i, record, [&] {
      end_sowing(merge.entry, record.id, *record.ending);
      ++merge.summary.endings_new;
    });
  }
  if (merge.errors.any()) return;
  sowings.finish();
  courses.finish();
}

}  // namespace plumule::logbook
