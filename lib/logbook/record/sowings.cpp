#include "logbook/record/sowings.hpp"

#include "logbook/journal/ledger.hpp"
#include "logbook/record/course_rows.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/sowing_rows.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/course.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::logbook {
namespace {

using records::Advice;
using records::Refused;
using records::Sowing;

// The rows that a sowing names.
struct Ties {
  std::optional<records::Id> lot;
  std::optional<std::string> crop;  // of the sowing itself: where its lot has none
  std::optional<std::string> variety;
  records::Id treatment = 0;
  std::optional<records::Id> batch;
  std::optional<records::Id> trial;
  std::optional<records::Id> block;
};

// The lot's word, else the sowing's own; two that differ are refused.
std::optional<std::string> own_word(const Sowing& sowing, const char* what,
                                    const std::string& of_lot, const std::string& own) {
  if (of_lot.empty()) return or_null(own);
  if (!own.empty() && !records::same_label(of_lot, own))
    throw Refused(sowing.label + ": its lot " + sowing.lot + " is of " + what + ' ' + of_lot +
                  ", not of " + own + ". Another lot? A wrong " + what + '?');
  return std::nullopt;
}

records::Id block_of(Entry& entry, const Sowing& sowing, records::Id trial) {
  Store& store = entry.logbook().store();
  {
    Query find(store, "select id from blocks where trial = ? and name = ?", trial, sowing.block);
    if (find.next()) return find.integer(0);
  }
  Query(store,
        "insert into blocks (trial, name, position, entry) values (?1, ?2, "
        "(select coalesce(max(position), 0) + 1 from blocks where trial = ?1), ?3)",
        trial, sowing.block, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

Ties tie(Entry& entry, const Sowing& sowing) {
  Logbook& logbook = entry.logbook();
  Ties ties;
  records::Lot lot;
  if (!sowing.lot.empty()) {
    lot = lot_named(logbook, sowing.lot);
    ties.lot = lot.id;
  }
  ties.crop = own_word(sowing, "crop", lot.crop, sowing.crop);
  ties.variety = own_word(sowing, "variety", lot.variety, sowing.variety);
  const records::Treatment treatment = treatment_named(logbook, sowing.treatment);
  ties.treatment = treatment.id;
  if (!sowing.batch.empty()) {
    const auto batch = find_batch(logbook, sowing.batch);
    if (!batch)
      throw Refused(sowing.label + ": there is no batch " + sowing.batch + " of treated seed.");
    if (!records::same_label(batch->treatment, treatment.label))
      throw Refused(sowing.label + ": batch " + batch->code + " is of treatment " +
                    batch->treatment + ", not " + treatment.label + '.');
    ties.batch = batch->id;
  }
  if (!sowing.trial.empty()) {
    ties.trial = trial_named(logbook, sowing.trial).id;
    if (!sowing.block.empty()) ties.block = block_of(entry, sowing, *ties.trial);
  }
  return ties;
}

void refuse_future(const Sowing& sowing, records::Date date, records::Date today) {
  if (date > today)
    throw Refused(sowing.label + ": " + records::spoken(date, true) +
                  " has not come yet; today is " + records::spoken(today, true) + '.');
}

void refuse_same(Store& store, const Sowing& sowing) {
  Query same(store, select_sowing + "where s.label = ? and s.sown_on = ?", sowing.label,
             sowing.sown.date);
  if (same.next() && same.integer(0) != sowing.id) {
    const Sowing other = sowing_in(same);
    throw Refused(other.label + " was sown on " + records::spoken(other.sown.date, true) +
                      " already. Another one needs another label.",
                  {{Advice::change_sowing, other.open() ? other.label : other.dated_label()}});
  }
  if (!sowing.open()) return;
  Query open(store, select_sowing + "where s.label = ? and s.ended_as is null", sowing.label);
  if (!open.next() || open.integer(0) == sowing.id) return;
  const Sowing other = sowing_in(open);
  throw Refused(
      other.label + " is still open: sown on " + records::spoken(other.sown.date, true) +
          (other.crop.empty() ? "" : " with " + other.crop) + '.',
      {{Advice::end_sowing, other.label}, {Advice::sow_over}, {Advice::give_other_label}});
}

std::int64_t assessed(Store& store, records::Id sowing) {
  Query sum(store, "select coalesce(sum(units), 0) from assessments where sowing = ?", sowing);
  return sum.next() ? sum.integer(0) : 0;
}

// What the counts and assessments that stand say of the sowing as it is to be.
void refuse_against_course(Store& store, const Sowing& sowing) {
  std::vector<records::Count> counts = counts_in(read_course(store, sowing.id));
  if (const auto trouble = derive(sowing, counts))
    throw Refused(explain(sowing, counts, *trouble, counts.size()));
  const std::int64_t found = assessed(store, sowing.id);
  const std::int64_t up = counts.empty() ? 0 : counts.back().total;
  if (sowing.units && found + up > *sowing.units)
    throw Refused(sowing.label + ": " + std::to_string(up) + " came up and " +
                  std::to_string(found) + " were assessed, which is more than " +
                  std::to_string(*sowing.units) + " sown.");
}

void set_moment(RowChange& change, const std::string& day, const std::string& time,
                const std::optional<records::Moment>& at) {
  change.set(day, at ? std::optional(at->date) : std::nullopt);
  change.set(time, at ? time_text(*at) : std::nullopt);
}

void set_ending(RowChange& change, const std::optional<records::Ending>& ending) {
  change.set("ended_as", ending ? std::optional(word(ending->kind)) : std::nullopt);
  set_moment(change, "ended_on", "ended_time", ending ? std::optional(ending->at) : std::nullopt);
  change.set("ended_why", ending ? or_null(ending->why) : std::nullopt);
}

// A changed place is that of the last move, where there was one.
void set_place(Entry& entry, RowChange& change, const Sowing& was, const Sowing& now) {
  if (was.place == now.place) return;
  Query last(entry.logbook().store(),
             "select id from moves where sowing = ? order by day desc, id desc limit 1", now.id);
  if (!last.next()) {
    change.set("place", or_null(now.place));
    return;
  }
  if (now.place.empty())
    throw Refused(now.label + ": it was moved, so it stands somewhere. Name the place.");
  RowChange move(entry, "moves", last.integer(0));
  move.set("place", now.place);
  move.save();
}

}  // namespace

records::Id add_sowing(Entry& entry, const Sowing& sowing) {
  check(sowing);
  Store& store = entry.logbook().store();
  refuse_future(sowing, sowing.sown.date, entry.today());
  if (sowing.ending) refuse_future(sowing, sowing.ending->at.date, entry.today());
  Sowing fresh = sowing;
  fresh.id = 0;
  refuse_same(store, fresh);
  const Ties ties = tie(entry, sowing);
  const auto& wetted = sowing.wetted;
  const auto& ending = sowing.ending;
  Query(store,
        "insert into sowings (label, sown_on, sown_time, lot, crop, variety, treatment, batch, "
        "trial, block, units_known, units, grams, metres, unit, seeds_per_cell, counting, "
        "wetted_on, wetted_time, setting, taken_out, depth_mm, medium, place, bench_order, "
        "ended_as, ended_on, ended_time, ended_why, entry) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
        "?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        sowing.label, sowing.sown.date, time_text(sowing.sown), ties.lot, ties.crop, ties.variety,
        ties.treatment, ties.batch, ties.trial, ties.block, word(sowing.units_known), sowing.units,
        sowing.grams, sowing.metres, word(sowing.unit), sowing.seeds_per_cell,
        word(sowing.counting), wetted ? std::optional(wetted->date) : std::nullopt,
        wetted ? time_text(*wetted) : std::nullopt, word(sowing.setting), sowing.taken_out,
        sowing.depth_mm, or_null(sowing.medium), or_null(sowing.place), sowing.bench_order,
        ending ? std::optional(word(ending->kind)) : std::nullopt,
        ending ? std::optional(ending->at.date) : std::nullopt,
        ending ? time_text(ending->at) : std::nullopt, ending ? or_null(ending->why) : std::nullopt,
        entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

void change_sowing(Entry& entry, const Sowing& sowing) {
  check(sowing);
  Store& store = entry.logbook().store();
  const Sowing was = sowing_by_id(entry.logbook(), sowing.id);
  refuse_future(sowing, sowing.sown.date, entry.today());
  if (sowing.ending) refuse_future(sowing, sowing.ending->at.date, entry.today());
  refuse_same(store, sowing);
  refuse_against_course(store, sowing);
  const Ties ties = tie(entry, sowing);
  RowChange change(entry, "sowings", sowing.id);
  change.set("label", sowing.label);
  set_moment(change, "sown_on", "sown_time", sowing.sown);
  change.set("lot", ties.lot);
  change.set("crop", ties.crop);
  change.set("variety", ties.variety);
  change.set("treatment", ties.treatment);
  change.set("batch", ties.batch);
  change.set("trial", ties.trial);
  change.set("block", ties.block);
  change.set("units_known", word(sowing.units_known));
  change.set("units", sowing.units);
  change.set("grams", sowing.grams);
  change.set("metres", sowing.metres);
  change.set("unit", word(sowing.unit));
  change.set("seeds_per_cell", sowing.seeds_per_cell);
  change.set("counting", word(sowing.counting));
  set_moment(change, "wetted_on", "wetted_time", sowing.wetted);
  change.set("setting", word(sowing.setting));
  change.set("taken_out", sowing.taken_out);
  change.set("depth_mm", sowing.depth_mm);
  change.set("medium", or_null(sowing.medium));
  set_place(entry, change, was, sowing);
  change.set("bench_order", sowing.bench_order);
  set_ending(change, sowing.ending);
  change.save();
}

void end_sowing(Entry& entry, records::Id id, const records::Ending& ending) {
  Store& store = entry.logbook().store();
  Sowing sowing = sowing_by_id(entry.logbook(), id);
  const bool only_sown_over = sowing.ending &&
                              sowing.ending->kind == records::EndingKind::sown_over &&
                              ending.kind != records::EndingKind::sown_over;
  if (sowing.ending && !only_sown_over)
    throw Refused(sowing.label + " ended already, on " +
                      records::spoken(sowing.ending->at.date, true) + " (" +
                      std::string(word(sowing.ending->kind)) + ").",
                  {{Advice::reopen, sowing.dated_label()}});
  refuse_future(sowing, ending.at.date, entry.today());
  sowing.ending = ending;
  check(sowing);
  const auto course = read_course(store, id);
  if (!course.empty() && earlier(ending.at, course.back().count.at))
    throw Refused(sowing.label + " was counted on " + records::to_text(course.back().count.at) +
                      " (" + in_words(course.back().count.entered) + "), after an ending on " +
                      records::to_text(ending.at) + '.',
                  {{Advice::remove_look, sowing.label, course.back().count.at}});
  RowChange change(entry, "sowings", id);
  set_ending(change, ending);
  change.save();
}

void reopen_sowing(Entry& entry, records::Id id) {
  Sowing sowing = sowing_by_id(entry.logbook(), id);
  if (sowing.open()) throw Refused(sowing.label + " is open: there is no ending to take back.");
  sowing.ending.reset();
  refuse_same(entry.logbook().store(), sowing);
  RowChange change(entry, "sowings", id);
  set_ending(change, std::nullopt);
  change.save();
}

}  // namespace plumule::logbook
