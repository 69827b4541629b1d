#include <algorithm>
#include <array>

#include "logbook/flat/export.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/store/scan.hpp"

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

// Fact::usual of every sowing at once: the file is asked, not each sowing.
void FlatLayout::look_at_sowings(Logbook& logbook) {
  struct Column {
    const char* name;
    const char* used;  // of a sowing s and its lot l
  };
  static constexpr std::array columns{
      Column{"lot", "s.lot is not null"},
      Column{"sowing_crop", "s.lot is not null and l.crop is null and s.crop is not null"},
      Column{"sowing_variety", "s.lot is not null and l.variety is null and s.variety is not null"},
      Column{"trial", "s.trial is not null"},
      Column{"block", "s.block is not null"},
      Column{"treatment", "s.treatment <> 1"},
      Column{"treated_in", "s.batch is not null"},
      Column{"wetted_on", "s.wetted_on is not null"},
      Column{"seeds_known", "s.units_known = 'estimated'"},
      Column{"grams", "s.grams is not null"},
      Column{"metres", "s.metres is not null"},
      Column{"unit", "s.unit <> 'seed'"},
      Column{"seeds_per_cell", "s.seeds_per_cell <> 1"},
      Column{"counting", "s.counting <> 'shoot'"},
      Column{"setting", "s.setting <> 'tray'"},
      Column{"taken_out", "s.taken_out <> (s.setting = 'towel')"},
      Column{"depth_mm", "s.depth_mm is not null"},
      Column{"medium", "s.medium is not null"},
      Column{"place",
             "s.place is not null or exists (select 1 from moves m where m.sowing = s.id)"},
      Column{"bench_order", "s.bench_order <> 0"},
      Column{"crop", "s.lot is null and s.crop is not null"},
      Column{"variety", "s.lot is null and s.variety is not null"},
  };
  std::string sql;
  for (const Column& column : columns)
    sql += (sql.empty() ? "select max(" : ", max(") + std::string(column.used) + ')';
  Query find(logbook.store(), sql + " from sowings s left join lots l on l.id = s.lot");
  if (!find.next()) return;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (find.maybe_integer(static_cast<int>(i)).value_or(0) == 0) continue;
    sowing_facts.use(columns[i].name);
    lot_facts.use(columns[i].name);
  }
}

void FlatLayout::look_at_looks(Logbook& logbook) {
  Store& store = logbook.store();
  // Most rows of most logbooks are plain totals: those are passed over in one read.
  Scan kinds(store,
             "select kind, seedlings is not null, person is not null from counts where kind <> 0 "
             "or seedlings is not null or person is not null");
  while (!(look.newly && look.lost && look.seedlings && look.person) && kinds.next()) {
    look.newly = look.newly || kinds.integer(0) == 1;
    look.lost = look.lost || kinds.integer(0) == 2;
    look.seedlings = look.seedlings || kinds.integer(1) != 0;
    look.person = look.person || kinds.integer(2) != 0;
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
  Query kept(
      store,
      "select s.id from sowings s where s.ended_as is null and s.label in (select label from "
      "sowings group by label having count(*) > 1) and exists (select 1 from sowings l where "
      "l.label = s.label and l.sown_on > s.sown_on)");
  while (kept.next()) kept_open.insert(kept.integer(0));
  look.ended = look.ended || !kept_open.empty();
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
