// What the day asks for, in walking order.
#include <fmt/format.h>

#include <set>

#include "analysis/due_today.hpp"
#include "bench/on_the_bench.hpp"
#include "cli/asking.hpp"
#include "cli/opening.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/trials.hpp"
#include "report/today.hpp"

namespace plumule::cli {
namespace {

void declare(Options&) {}

// Trials with a planned last day that has come, and sowings of it that are open.
void show_last_days(const Context& context, logbook::Logbook& logbook,
                    const std::vector<records::Trial>& trials,
                    const std::vector<records::History>& open) {
  std::set<std::string> standing;  // trials of sowings on the bench
  for (const records::History& history : open)
    if (history.sowing.sown.date <= context.today) standing.insert(history.sowing.trial);
  for (const records::Trial& trial : trials) {
    if (!trial.closes_on && trial.inspections.empty()) continue;
    if (!standing.contains(trial.code)) continue;
    const auto last = last_day_of(logbook, trial.code, context.today);
    if (!last || !last->planned || last->day > context.today) continue;
    context.screen.line("");
    context.screen.paragraph(
        last->day == context.today
            ? fmt::format("Last day of {0}: count every tray, then plumule end {0}", trial.code)
            : fmt::format("The last day of {0} was {1}, and sowings of it are open still. Nothing "
                          "more to count? plumule end {0}",
                          trial.code, records::spoken({last->day, {}}, context.today)));
  }
}

int run(Context& context, const Arguments&) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  const auto open = bench::on_the_bench(logbook);
  const auto trials = logbook::trials(logbook);
  const auto finding = analysis::due_today(open, trials, context.today);
  if (context.json) {
    context.screen.line(report::today_json(finding));
    return 0;
  }
  context.screen.print(report::today_text(style_of(context), finding));
  show_last_days(context, logbook, trials, open);
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
