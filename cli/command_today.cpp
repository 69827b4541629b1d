// What the day asks for, in walking order.
#include <map>
#include <nlohmann/json.hpp>

#include "analysis/due_today.hpp"
#include "cli/asking.hpp"
#include "cli/json.hpp"
#include "cli/opening.hpp"
#include "logbook/sowings.hpp"
#include "logbook/trials.hpp"
#include "report/today_json.hpp"
#include "report/today_text.hpp"

namespace plumule::cli {
namespace {

void declare(Options&) {}

// Open sowings with all that was seen of them, as one walks.
std::vector<records::History> walk(logbook::Logbook& logbook) {
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

int run(Context& context, const Arguments&) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  const auto finding = analysis::due_today(walk(logbook), logbook::trials(logbook), context.today);
  if (context.json)
    print_json(context, report::today_json(finding));
  else
    context.screen.print(report::today_text(style_of(context), finding));
  return 0;
}

}  // namespace

extern const Command today_command;
const Command today_command{
    .name = "today",
    .group = Group::keep,
    .summary = "what the day asks for",
    .about =
        "Which sowings to count, in walking order; which were missed, are done, should have been "
        "up by now, or are unlikely to give more. Another day: --today DATE.",
    .example = "plumule today --today 2026-05-10",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
