#include <algorithm>

#include "logbook/flat_export.hpp"
#include "logbook/lots.hpp"
#include "logbook/sowing_rows.hpp"
#include "logbook/trials.hpp"

namespace plumule::logbook {
namespace {

using records::Batch;
using records::Lot;
using records::Sowing;
using records::Treatment;
using records::Trial;

std::vector<Batch> all_batches(Logbook& logbook) {
  std::vector<Batch> batches;
  Query find(logbook.store(),
             "select b.id, b.code, t.label, b.made_on from batches b "
             "join treatments t on t.id = b.treatment order by b.id");
  while (find.next())
    batches.push_back({find.integer(0), find.text(1), find.text(2), find.maybe_date(3)});
  return batches;
}

// The crop and variety of a sowing without a lot stand in the lot's columns.
Lot lotless(const Sowing& sowing) {
  Lot lot;
  lot.crop = sowing.crop;
  lot.variety = sowing.variety;
  return lot;
}

bool any(Query& query) { return query.next() && query.integer(0) != 0; }

}  // namespace

FlatLayout::FlatLayout(Logbook& logbook)
    : lot_facts(logbook::lot_facts()),
      treatment_facts(logbook::treatment_facts()),
      batch_facts(logbook::batch_facts()),
      trial_facts(logbook::trial_facts()),
      sowing_facts(logbook::sowing_facts()) {
  sowing_facts.use("seeds");
  look_at_names(logbook);
  look_at_sowings(logbook);
  look_at_looks(logbook);
  // Now that the columns are known: the cells of each name.
  for (const Lot& lot : logbook::lots(logbook)) lot_facts.append_cells(lots[lot.code].cells, lot);
  for (const Treatment& treatment : logbook::treatments(logbook))
    treatment_facts.append_cells(treatments[treatment.label].cells, treatment);
  for (const Batch& batch : all_batches(logbook))
    batch_facts.append_cells(batches[batch.code].cells, batch);
  for (const Trial& trial : logbook::trials(logbook))
    trial_facts.append_cells(trials[trial.code].cells, trial);
  lot_facts.append_only(lots[""].cells, {}, {});
  treatment_facts.append_only(treatments[""].cells, {}, {});
  batch_facts.append_only(batches[""].cells, {}, {});
  trial_facts.append_only(trials[""].cells, {}, {});
}

void FlatLayout::look_at_names(Logbook& logbook) {
  for (const Lot& lot : logbook::lots(logbook)) {
    lot_facts.look_at(lot);
    sowing_facts.use("lot");
    lots[lot.code].crop = lot.crop;
    lots[lot.code].variety = lot.variety;
  }
  for (const Treatment& treatment : logbook::treatments(logbook)) {
    treatment_facts.look_at(treatment);
    if (treatment.label != records::untreated) sowing_facts.use("treatment");
  }
  for (const Batch& batch : all_batches(logbook)) {
    batch_facts.look_at(batch);
    batches[batch.code].treatment = batch.treatment;
    sowing_facts.use("treated_in");
    sowing_facts.use("treatment");
  }
  for (const Trial& trial : logbook::trials(logbook)) {
    trial_facts.look_at(trial);
    sowing_facts.use("trial");
  }
}

void FlatLayout::look_at_sowings(Logbook& logbook) {
  Query find(logbook.store(), select_sowing + "order by s.id");
  while (find.next()) {
    Sowing sowing = sowing_in(find);
    if (sowing.lot.empty()) lot_facts.look_at(lotless(sowing));
    const auto lot = lots.find(sowing.lot);
    if (sowing.lot.empty() || !lot->second.crop.empty()) sowing.crop.clear();
    if (sowing.lot.empty() || !lot->second.variety.empty()) sowing.variety.clear();
    sowing_facts.look_at(sowing);
  }
}

void FlatLayout::look_at_looks(Logbook& logbook) {
  Store& store = logbook.store();
  Query kinds(store,
              "select max(kind = 1), max(kind = 2), max(seedlings is not null), "
              "max(person is not null) from counts");
  if (kinds.next()) {
    look.newly = kinds.maybe_integer(0).value_or(0) != 0;
    look.lost = kinds.maybe_integer(1).value_or(0) != 0;
    look.seedlings = kinds.maybe_integer(2).value_or(0) != 0;
    look.person = kinds.maybe_integer(3).value_or(0) != 0;
  }
  Query seen(store,
             "select max(spot_c is not null), max(min_c is not null), max(max_c is not null), "
             "max(person is not null) from temperatures where sowing is not null");
  if (seen.next()) {
    look.spot = seen.maybe_integer(0).value_or(0) != 0;
    look.low = seen.maybe_integer(1).value_or(0) != 0;
    look.high = seen.maybe_integer(2).value_or(0) != 0;
    look.person = look.person || seen.maybe_integer(3).value_or(0) != 0;
  }
  Query notes(store, "select count(*), max(person is not null) from notes where about = 'sowing'");
  if (notes.next()) {
    look.note = notes.integer(0) != 0;
    look.person = look.person || notes.maybe_integer(1).value_or(0) != 0;
  }
  Query ended(store, "select exists (select 1 from sowings where ended_as is not null)");
  look.ended = any(ended);
  // The day of an ending is that of the last look, unless it is given.
  Query dated(store,
              "select exists (select 1 from sowings s where s.ended_as is not null and not exists "
              "(select 1 from counts c where c.sowing = s.id and c.timed = (s.ended_time is not "
              "null) and c.at = unixepoch(s.ended_on || 'T' || coalesce(s.ended_time, '12:00')) / "
              "60 and c.at = (select max(l.at) from counts l where l.sowing = s.id)))");
  look.ended_on = any(dated);
  Query why(store, "select exists (select 1 from sowings where ended_why is not null)");
  look.ended_why = any(why);
}

std::string FlatLayout::header() const {
  std::string row = "sowing,sown_on";
  sowing_facts.append_names(row);
  lot_facts.append_names(row);
  treatment_facts.append_names(row);
  batch_facts.append_names(row);
  trial_facts.append_names(row);
  return row + look.names();
}

std::string LookColumns::names() const {
  std::string row = ",counted_on,emerged";
  if (newly) row += ",newly_emerged";
  if (lost) row += ",lost";
  if (seedlings) row += ",seedlings";
  if (spot) row += ",soil_temp_c";
  if (low) row += ",soil_min_c";
  if (high) row += ",soil_max_c";
  if (person) row += ",counted_by";
  if (ended) row += ",ended";
  if (ended_on) row += ",ended_on";
  if (ended_why) row += ",ended_why";
  if (note) row += ",note";
  return row;
}

const std::string& FlatLayout::cells_of(const CellsByName& names, const std::string& name) const {
  const auto found = names.find(name);
  return found == names.end() ? names.find("")->second.cells : found->second.cells;
}

std::string FlatLayout::sowing_cells(const Sowing& sowing) {
  Sowing own = sowing;
  const auto lot = lots.find(sowing.lot);
  std::string cells;
  if (sowing.lot.empty())
    lot_facts.append_only(cells, "crop", sowing.crop, "variety", sowing.variety);
  else
    cells = lot->second.cells;
  if (sowing.lot.empty() || !lot->second.crop.empty()) own.crop.clear();
  if (sowing.lot.empty() || !lot->second.variety.empty()) own.variety.clear();
  lots[sowing.lot].sown = treatments[sowing.treatment].sown = batches[sowing.batch].sown =
      trials[sowing.trial].sown = true;
  std::string row = own.label + ',' + records::to_text(own.sown);
  sowing_facts.append_cells(row, own);
  return row + cells + cells_of(treatments, own.treatment) + cells_of(batches, own.batch) +
         cells_of(trials, own.trial);
}

std::vector<std::string> FlatLayout::rows_of_unsown() const {
  std::vector<std::string> rows;
  const std::string names = look.names();
  const std::string blank_look(
      static_cast<std::size_t>(std::count(names.begin(), names.end(), ',')), ',');
  const auto add = [&](std::string_view column, const std::string& name, const std::string& lot,
                       const std::string& treatment, const std::string& batch,
                       const std::string& trial) {
    std::string row = ",";
    sowing_facts.append_only(row, column, name, column == "treated_in" ? "treatment" : "",
                             treatment);
    rows.push_back(row + cells_of(lots, lot) + cells_of(treatments, treatment) +
                   cells_of(batches, batch) + cells_of(trials, trial) + blank_look);
  };
  for (const auto& [name, of] : lots)
    if (!of.sown && !name.empty()) add("lot", name, name, "", "", "");
  for (const auto& [name, of] : treatments)
    if (!of.sown && !name.empty() && name != records::untreated)
      add("treatment", name, "", name, "", "");
  for (const auto& [name, of] : batches)
    if (!of.sown && !name.empty()) add("treated_in", name, "", of.treatment, name, "");
  for (const auto& [name, of] : trials)
    if (!of.sown && !name.empty()) add("trial", name, "", "", "", name);
  return rows;
}

}  // namespace plumule::logbook
