// Looking the whole logbook over.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/hint_words.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/upkeep/upkeep.hpp"

namespace plumule::cli {
namespace {

void declare(Options&) {}

int run(Context& context, const Arguments&) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  std::vector<std::string> troubles;
  for (const records::Refusal& trouble : logbook::check(logbook))
    troubles.push_back(in_words(trouble));
  if (context.json) {
    print_json(context,
               {{"logbook", context.log}, {"sound", troubles.empty()}, {"troubles", troubles}});
  } else if (troubles.empty()) {
    context.screen.paragraph(
        "Sound: its structure, its keys, every rule of the record and the journal hold.");
  } else {
    context.screen.line(number_of(static_cast<std::int64_t>(troubles.size()), "thing") +
                        " wrong in this logbook:");
    for (const std::string& trouble : troubles) context.screen.paragraph("  " + trouble);
    context.screen.paragraph("What to do: plumule --log " + context.log +
                             " restore COPY.db puts your last backup in its place, and keeps this "
                             "file as it is. Without one, plumule export may still save what can "
                             "be read.");
  }
  return troubles.empty() ? 0 : 1;
}

}  // namespace

extern const Command check_command;
const Command check_command{.name = "check",
                            .group = Group::mind,
                            .summary = "look the logbook over",
                            .about =
                                "Verifies the file's structure, its keys, every rule of the record "
                                "over every sowing, and the journal. Changes nothing. Exit status "
                                "1 where something is wrong.",
                            .example = "plumule check",
                            .declare = declare,
                            .run = run};

}  // namespace plumule::cli
