#include "bench/on_the_bench.hpp"

#include <map>

#include "logbook/record/histories.hpp"
#include "logbook/record/sowings.hpp"

namespace plumule::bench {

std::vector<records::History> on_the_bench(logbook::Logbook& logbook) {
  const auto sowings = logbook::open_sowings(logbook);
  if (sowings.empty()) return {};
  logbook::Selection selection;
  std::map<records::Id, std::size_t> order;
  for (const auto& sowing : sowings) {
    order[sowing.id] = selection.sowings.size();
    selection.sowings.push_back(sowing.id);
  }
  std::vector<records::History> histories(sowings.size());
  logbook::each_history(logbook, selection, [&](const records::History& history) {
    histories[order.at(history.sowing.id)] = history;
  });
  return histories;
}

}  // namespace plumule::bench
