#include "logbook/record/lots.hpp"

#include <algorithm>

#include "logbook/journal/ledger.hpp"
#include "logbook/record/find.hpp"
#include "logbook/store/store.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::logbook {
namespace {

using records::Advice;
using records::Lot;
using records::Refused;

constexpr const char* columns =
    "select id, code, crop, variety, source, harvest_year, packed_year, label_germination, "
    "label_tested_on, coating, seed_treatment, seeds_per_gram, irreplaceable from lots ";

std::optional<int> year_in(const Query& row, int column) {
  const auto year = row.maybe_integer(column);
  if (!year) return std::nullopt;
  return static_cast<int>(*year);
}

Lot lot_in(Store& store, const Query& row) {
  Lot lot;
  lot.id = row.integer(0);
  lot.code = row.text(1);
  lot.crop = row.text(2);
  lot.variety = row.text(3);
  lot.source = row.text(4);
  lot.harvest_year = year_in(row, 5);
  lot.packed_year = year_in(row, 6);
  lot.label_germination = row.maybe_real(7);
  lot.label_tested_on = row.maybe_date(8);
  lot.coating = row.text(9);
  lot.seed_treatment = row.text(10);
  lot.seeds_per_gram = row.maybe_real(11);
  lot.irreplaceable = row.integer(12) != 0;
  Query parents(store,
                "select l.code, p.descent from lot_parents p join lots l on l.id = p.parent "
                "where p.lot = ? order by p.id",
                lot.id);
  while (parents.next())
    lot.parents.push_back(
        {parents.text(0),
         records::from_word<records::Descent>(parents.text(1)).value_or(records::Descent::split)});
  return lot;
}

// A lot must not come from itself, not by way of others either.
bool comes_from(Store& store, records::Id lot, records::Id ancestor) {
  return Query(store,
               "with recursive back(lot) as (values (?1) union select p.parent from lot_parents p "
               "join back on back.lot = p.lot) select 1 from back where lot = ?2",
               lot, ancestor)
      .next();
}

struct ParentRow {
  records::Id id = 0;
  records::Descent descent = records::Descent::split;
};

// The rows of the lot's parents (`id`: the lot's own row, 0 for a new one), before anything is
// written.
std::vector<ParentRow> parents_of(Logbook& logbook, const Lot& lot, records::Id id) {
  std::vector<ParentRow> rows;
  for (const records::Parent& parent : lot.parents) {
    const Lot from = lot_named(logbook, parent.lot);
    if (id != 0 && comes_from(logbook.store(), from.id, id))
      throw Refused("Lot " + lot.code + ": " + from.code +
                    " comes from it, so it cannot be its parent.");
    rows.push_back({from.id, parent.descent});
  }
  return rows;
}

void write_parents(Entry& entry, const std::vector<ParentRow>& parents, records::Id id) {
  Store& store = entry.logbook().store();
  for (const ParentRow& parent : parents) {
    Query find(store, "select id from lot_parents where lot = ? and parent = ?", id, parent.id);
    if (find.next()) {
      RowChange change(entry, "lot_parents", find.integer(0));
      change.set("descent", word(parent.descent));
      change.save();
    } else {
      Query(store, "insert into lot_parents (lot, parent, descent, entry) values (?, ?, ?, ?)", id,
            parent.id, word(parent.descent), entry.id())
          .run();
    }
  }
}

void refuse_future(const Entry& entry, const Lot& lot) {
  const int now = static_cast<int>(std::chrono::year_month_day(entry.today()).year());
  if (lot.harvest_year && *lot.harvest_year > now)
    throw Refused("Lot " + lot.code + ": the harvest of " + std::to_string(*lot.harvest_year) +
                  " has not come yet; this year is " + std::to_string(now) + '.');
  if (lot.packed_year && *lot.packed_year > now)
    throw Refused(
        "Lot " + lot.code + ": " + std::to_string(*lot.packed_year) + " has not come yet.",
        {{.advice = Advice::packed_year, .number = now}});
  if (lot.label_tested_on && *lot.label_tested_on > entry.today())
    throw Refused("Lot " + lot.code + ": its label's test on " +
                  records::spoken(*lot.label_tested_on, true) + " has not come yet.");
}

}  // namespace

records::Id add_lot(Entry& entry, const Lot& lot) {
  check(lot);
  Store& store = entry.logbook().store();
  if (const auto found = find_lot(entry.logbook(), lot.code))
    throw Refused("There is a lot " + found->code + " already" +
                      (found->crop.empty() ? "" : " (" + found->crop + ')') + '.',
                  {{Advice::change_lot, found->code}});
  refuse_future(entry, lot);
  const std::vector<ParentRow> parents = parents_of(entry.logbook(), lot, 0);
  Query(store,
        "insert into lots (code, crop, variety, source, harvest_year, packed_year, "
        "label_germination, label_tested_on, coating, seed_treatment, seeds_per_gram, "
        "irreplaceable, entry) values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        lot.code, or_null(lot.crop), or_null(lot.variety), or_null(lot.source), lot.harvest_year,
        lot.packed_year, lot.label_germination, lot.label_tested_on, or_null(lot.coating),
        or_null(lot.seed_treatment), lot.seeds_per_gram, lot.irreplaceable, entry.id())
      .run();
  const records::Id id = store.database().getLastInsertRowid();
  write_parents(entry, parents, id);
  return id;
}

void change_lot(Entry& entry, const Lot& lot) {
  check(lot);
  Store& store = entry.logbook().store();
  const auto same = find_lot(entry.logbook(), lot.code);
  if (same && same->id != lot.id)
    throw Refused("There is a lot " + same->code + " already. Give this one another code.");
  refuse_future(entry, lot);
  const std::vector<ParentRow> parents = parents_of(entry.logbook(), lot, lot.id);
  RowChange change(entry, "lots", lot.id);
  change.set("code", lot.code);
  change.set("crop", or_null(lot.crop));
  change.set("variety", or_null(lot.variety));
  change.set("source", or_null(lot.source));
  change.set("harvest_year", lot.harvest_year);
  change.set("packed_year", lot.packed_year);
  change.set("label_germination", lot.label_germination);
  change.set("label_tested_on", lot.label_tested_on);
  change.set("coating", or_null(lot.coating));
  change.set("seed_treatment", or_null(lot.seed_treatment));
  change.set("seeds_per_gram", lot.seeds_per_gram);
  change.set("irreplaceable", lot.irreplaceable);
  change.save();
  std::vector<records::Id> gone;
  {
    Query had(store, "select id, parent from lot_parents where lot = ?", lot.id);
    while (had.next())
      if (std::none_of(parents.begin(), parents.end(),
                       [&had](const ParentRow& parent) { return parent.id == had.integer(1); }))
        gone.push_back(had.integer(0));
  }
  for (const records::Id row : gone) take_out(entry, "lot_parents", row);
  write_parents(entry, parents, lot.id);
}

std::optional<Lot> find_lot(Logbook& logbook, const std::string& code) {
  Query find(logbook.store(), std::string(columns) + "where code = ?", code);
  if (!find.next()) return std::nullopt;
  return lot_in(logbook.store(), find);
}

Lot lot_named(Logbook& logbook, const std::string& code) {
  if (auto lot = find_lot(logbook, code)) return *lot;
  if (!records::is_label(code)) throw Refused("No lot: " + records::label_trouble(code) + '.');
  std::vector<std::string> known;
  std::string of_crop;
  for (const Lot& lot : lots(logbook)) {
    known.push_back(lot.code);
    if (records::same_label(lot.crop, code)) of_crop += (of_crop.empty() ? "" : ", ") + lot.code;
  }
  if (!of_crop.empty())
    throw Refused("\"" + code + "\" is a crop, not a lot. Its lots: " + of_crop + '.');
  throw Refused(unknown_name("lot", code, known), {{Advice::add_lot, code}});
}

std::vector<Lot> lots(Logbook& logbook) {
  std::vector<Lot> all;
  Query find(logbook.store(), columns);
  while (find.next()) all.push_back(lot_in(logbook.store(), find));
  std::sort(all.begin(), all.end(),
            [](const Lot& a, const Lot& b) { return records::label_before(a.code, b.code); });
  return all;
}

}  // namespace plumule::logbook
