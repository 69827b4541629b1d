// Makes a new, empty logbook.
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "logbook/logbook.hpp"

namespace plumule::cli {
namespace {

void declare(Options&) {}

int make(Context& context, const Arguments&) {
  tell(context, logbook::Logbook::create(context.log).leftovers());
  made(context, "The logbook was made all the same: " + context.log + '.');
  if (context.json) {
    print_json(context, {{"logbook", context.log}});
    return 0;
  }
  context.screen.line("A new logbook: " + context.log);
  context.screen.line("Next, a lot and a tray of it:");
  context.screen.line("  plumule lot BEAN-25 --crop bean --year 2025 --seeds 200");
  context.screen.line("  plumule sow A1 --lot BEAN-25 --seeds 50");
  return 0;
}

}  // namespace

extern const Command init_command;
const Command init_command{.name = "init",
                           .group = Group::keep,
                           .summary = "start a logbook",
                           .about =
                               "Makes a new, empty logbook: at --log FILE, else $PLUMULE_LOG, else "
                               "plumule/plumule.db in your data folder. An existing file is never "
                               "touched.",
                           .example = "plumule --log /tmp/beans.db init",
                           .writes = true,
                           .declare = declare,
                           .run = make};

}  // namespace plumule::cli
