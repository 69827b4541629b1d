// A verified copy of the logbook, also while others write.
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("FILE", "the copy; nothing may stand there yet", 1, 1);
}

int run(Context& context, const Arguments& arguments) {
  const std::string& path = arguments.words()[0];
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  tell(context, logbook::backup(logbook, path));
  made(context, "The copy was made all the same, and checked: " + path + '.');
  if (context.json)
    print_json(context, {{"logbook", context.log}, {"backup", path}});
  else
    context.screen.line("A copy, opened and checked: " + path);
  return 0;
}

}  // namespace

extern const Command backup_command;
const Command backup_command{
    .name = "backup",
    .group = Group::mind,
    .summary = "a checked copy of it",
    .about =
        "Copies the logbook into one file, opens the copy and checks it. Others may write in the "
        "meantime. To go back to it: plumule restore FILE. To look into it: --log FILE.",
    .example = "plumule backup log-copy.db",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
