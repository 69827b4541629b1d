#include "bench/ending.hpp"

#include "logbook/record/counts.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::bench {

using records::Sowing;

std::vector<Sowing> sowings_to_end(logbook::Logbook& logbook, const std::string& name) {
  const logbook::Named named = logbook::named(logbook, name);
  if (named.kind == logbook::NameKind::sowing) return {logbook::sowing_named(logbook, name)};
  if (named.kind != logbook::NameKind::trial)
    throw records::Refused(name + " is no sowing and no trial: only those end.");
  std::vector<Sowing> all;
  for (const Sowing& sowing : logbook::open_sowings(logbook))
    if (records::same_label(sowing.trial, named.name)) all.push_back(sowing);
  if (all.empty()) throw records::Refused("No sowing of trial " + named.name + " is open.");
  return all;
}

std::vector<Sowing> not_looked_at(logbook::Logbook& logbook, const std::vector<Sowing>& sowings,
                                  const records::Ending& ending) {
  std::vector<Sowing> found;
  if (ending.kind == records::EndingKind::accident) return found;
  for (const Sowing& sowing : sowings) {
    const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
    if (counts.empty() || counts.back().at.date < ending.at.date) found.push_back(sowing);
  }
  return found;
}

}  // namespace plumule::bench
