#include "logbook/journal/sowings_changed.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "logbook/journal/first_count.hpp"
#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"
#include "records/label.hpp"

namespace plumule::logbook {
namespace {

struct Watched {
  std::string_view column;
  const char* called;
};
constexpr std::array watched = {Watched{"treatment", "treatment"}, Watched{"block", "block"},
                                Watched{"lot", "lot"}, Watched{"units", "number sown"},
                                Watched{"batch", "jar"}};

// Of each sowing changed after that entry, what its changed columns held then.
std::map<records::Id, Row> as_they_stood(Store& store, records::Id trial, records::Id entry) {
  std::map<records::Id, Row> stood;
  Query find(store,
             "select json_extract(c.key, '$.id'), c.before from changes c join journal j on j.id = "
             "c.entry where c.tab = 'sowings' and c.undone = 0 and j.undone_at is null and c.after "
             "is not null and c.entry > ?2 and (json_extract(c.before, '$.trial') = ?1 or "
             "json_extract(c.key, '$.id') in (select id from sowings where trial = ?1)) "
             "order by c.entry, c.seq",
             trial, entry);
  while (find.next()) {
    Row& row = stood[find.integer(0)];
    for (auto& pair : from_json(find.text(1)))
      if (column(row, pair.first) == nullptr) row.push_back(std::move(pair));
  }
  return stood;
}

void take(records::SowingsChanged& found, const Row& then, const Row& now, records::Id trial) {
  const std::string label = std::get<std::string>(*column(now, "label"));
  const auto was_in = [&](const Row& row) { return *column(row, "trial") == Value(trial); };
  const bool before = column(then, "trial") != nullptr ? was_in(then) : was_in(now);
  if (before != was_in(now)) {
    (before ? found.left : found.joined).push_back(label);
    return;
  }
  std::vector<std::string> fields;
  for (const Watched& one : watched) {
    const Value* was = column(then, one.column);
    if (was == nullptr || *was == *column(now, one.column)) continue;
    if (one.column == "batch" && std::holds_alternative<std::monostate>(*was)) continue;
    fields.emplace_back(one.called);
  }
  if (before && !fields.empty()) found.changed.push_back({label, std::move(fields)});
}

}  // namespace

std::optional<records::SowingsChanged> sowings_changed(Logbook& logbook,
                                                       const records::Trial& trial) {
  Store& store = logbook.store();
  const auto entry = first_count(store, trial.id);
  if (!entry) return std::nullopt;
  records::SowingsChanged found;
  for (const auto& [id, then] : as_they_stood(store, trial.id, *entry)) {
    Query find(store, "select * from sowings where id = ?", id);
    if (find.next()) take(found, then, row_of(find), trial.id);
  }
  if (found.left.empty() && found.joined.empty() && found.changed.empty()) return std::nullopt;
  for (auto* names : {&found.left, &found.joined})
    std::sort(names->begin(), names->end(), records::label_before);
  std::sort(found.changed.begin(), found.changed.end(),
            [](const auto& a, const auto& b) { return records::label_before(a.label, b.label); });
  return found;
}

}  // namespace plumule::logbook
