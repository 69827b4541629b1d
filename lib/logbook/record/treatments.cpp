#include "logbook/record/treatments.hpp"

#include <algorithm>

#include "logbook/journal/ledger.hpp"
#include "logbook/record/find.hpp"
#include "logbook/store/store.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Refused;
using records::Treatment;

constexpr const char* columns =
    "select id, label, soak_hours, water_c, scarification, chill_days, chill_c, priming "
    "from treatments ";

Treatment treatment_in(const Query& row) {
  Treatment treatment;
  treatment.id = row.integer(0);
  treatment.label = row.text(1);
  treatment.soak_hours = row.maybe_real(2);
  treatment.water_c = row.maybe_real(3);
  treatment.scarification = row.text(4);
  treatment.chill_days = row.maybe_real(5);
  treatment.chill_c = row.maybe_real(6);
  treatment.priming = row.text(7);
  return treatment;
}

}  // namespace

records::Id add_treatment(Entry& entry, const Treatment& treatment) {
  check(treatment);
  if (const auto found = find_treatment(entry.logbook(), treatment.label))
    throw Refused("There is a treatment " + found->label +
                  " already. What was done differently needs a label of its own.");
  Store& store = entry.logbook().store();
  Query(store,
        "insert into treatments (label, soak_hours, water_c, scarification, chill_days, chill_c, "
        "priming, entry) values (?, ?, ?, ?, ?, ?, ?, ?)",
        treatment.label, treatment.soak_hours, treatment.water_c, or_null(treatment.scarification),
        treatment.chill_days, treatment.chill_c, or_null(treatment.priming), entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

void change_treatment(Entry& entry, const Treatment& treatment) {
  check(treatment);
  const auto same = find_treatment(entry.logbook(), treatment.label);
  if (same && same->id != treatment.id)
    throw Refused("There is a treatment " + same->label + " already.");
  if (treatment.id == 1 && !records::same_label(treatment.label, records::untreated))
    throw Refused("The treatment untreated keeps its name.");
  RowChange change(entry, "treatments", treatment.id);
  change.set("label", treatment.label);
  change.set("soak_hours", treatment.soak_hours);
  change.set("water_c", treatment.water_c);
  change.set("scarification", or_null(treatment.scarification));
  change.set("chill_days", treatment.chill_days);
  change.set("chill_c", treatment.chill_c);
  change.set("priming", or_null(treatment.priming));
  change.save();
}

std::optional<Treatment> find_treatment(Logbook& logbook, const std::string& label) {
  Query find(logbook.store(), std::string(columns) + "where label = ?", label);
  if (!find.next()) return std::nullopt;
  return treatment_in(find);
}

Treatment treatment_named(Logbook& logbook, const std::string& label) {
  if (auto treatment = find_treatment(logbook, label)) return *treatment;
  std::vector<std::string> known;
  for (const Treatment& treatment : treatments(logbook)) known.push_back(treatment.label);
  throw Refused(unknown_name("treatment", label, known));
}

std::vector<Treatment> treatments(Logbook& logbook) {
  std::vector<Treatment> all;
  Query find(logbook.store(), columns);
  while (find.next()) all.push_back(treatment_in(find));
  std::sort(all.begin(), all.end(), [](const Treatment& a, const Treatment& b) {
    if ((a.id == 1) != (b.id == 1)) return a.id == 1;
    return records::label_before(a.label, b.label);
  });
  return all;
}

records::Id add_batch(Entry& entry, const records::Batch& batch) {
  check(batch);
  if (find_batch(entry.logbook(), batch.code))
    throw Refused("There is a batch " + batch.code +
                  " already: each jar or mat of seed needs a code of its own.");
  const Treatment treatment = treatment_named(entry.logbook(), batch.treatment);
  if (batch.made_on && *batch.made_on > entry.today())
    throw Refused("Batch " + batch.code + ": " + records::spoken(*batch.made_on, true) +
                  " has not come yet.");
  Store& store = entry.logbook().store();
  Query(store, "insert into batches (code, treatment, made_on, entry) values (?, ?, ?, ?)",
        batch.code, treatment.id, batch.made_on, entry.id())
      .run();
  return store.database().getLastInsertRowid();
}

std::optional<records::Batch> find_batch(Logbook& logbook, const std::string& code) {
  Query find(logbook.store(),
             "select b.id, b.code, t.label, b.made_on from batches b "
             "join treatments t on t.id = b.treatment where b.code = ?",
             code);
  if (!find.next()) return std::nullopt;
  records::Batch batch;
  batch.id = find.integer(0);
  batch.code = find.text(1);
  batch.treatment = find.text(2);
  batch.made_on = find.maybe_date(3);
  return batch;
}

}  // namespace plumule::logbook
