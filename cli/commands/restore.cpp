// Going back to a backup, and telling how to come back from it.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/typed_words.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/upkeep/restore.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) { options.words("FILE", "the backup; it stays as it is", 1, 1); }

void say(const Context& context, const std::string& backup, const logbook::Restored& restored) {
  const Screen& screen = context.screen;
  std::string holds = number_of(restored.sowings, "sowing");
  if (restored.last_entry)
    holds += fmt::format(", last entry {} {} (UTC)", restored.last_entry->substr(0, 10),
                         restored.last_entry->substr(11, 5));
  screen.line(fmt::format("Back to {}: {}", backup, holds));
  if (!restored.former) {
    screen.line("No logbook stood at " + context.log + " before.");
    return;
  }
  screen.line("What stood there before is kept: " + *restored.former);
  if (restored.former_sound) {
    screen.line("To go back to it:");
    screen.line(fmt::format("  plumule --log {} restore {}", quoted(context.log),
                            quoted(*restored.former)));
  } else {
    screen.line("It is no sound logbook, and is kept in case something of it can be saved.");
  }
}

Json to_json(const Context& context, const std::string& backup, const logbook::Restored& restored) {
  Json answer{{"logbook", context.log}, {"backup", backup}, {"sowings", restored.sowings}};
  answer["last_entry"] = restored.last_entry ? Json(*restored.last_entry) : Json();
  answer["former"] = restored.former ? Json(*restored.former) : Json();
  answer["former_sound"] = restored.former ? Json(restored.former_sound) : Json();
  return answer;
}

int run(Context& context, const Arguments& arguments) {
  context.reads_only = true;  // each refusal says itself that all is as it was
  const std::string& backup = arguments.words()[0];
  const logbook::Restored restored = logbook::restore(backup, context.log);
  made(context, "The backup stands in the logbook's place all the same" +
                    (restored.former ? "; what stood there before is kept: " + *restored.former
                                     : std::string()) +
                    '.');
  tell(context, restored.leftovers);
  if (context.json)
    print_json(context, to_json(context, backup, restored));
  else
    say(context, backup, restored);
  return 0;
}

}  // namespace

extern const Command restore_command;
const Command restore_command{
    .name = "restore",
    .group = Group::mind,
    .summary = "go back to a backup",
    .about =
        "Checks the backup and puts a copy of it in the logbook's place. What stands there, sound "
        "or damaged, is kept under another name beside it, and the answer says how to go back to "
        "it. Also where there is no logbook any more. Nothing changes unless all of it succeeds.",
    .example = "plumule restore log-copy.db",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
