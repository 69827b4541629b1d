// Is this lot still worth sowing?
#include <nlohmann/json.hpp>

#include "analysis/lot_viability.hpp"
#include "analysis/sowing_course.hpp"
#include "cli/asking.hpp"
#include "cli/json.hpp"
#include "cli/opening.hpp"
#include "logbook/lots.hpp"
#include "records/refused.hpp"
#include "report/viability_json.hpp"
#include "report/viability_text.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("LOT", "the lot's code", 1, 1);
  options.share("standard", "SHARE",
                "the line to hold it to, 0.85 or 85%; else the crop's least for sale, else its "
                "label");
  options.text("level", "LEVEL", "of the intervals: 0.95 unless told");
  options.number("rho", "RHO", "how alike seeds of one test are, instead of what is assumed", 0,
                 0.999);
}

int run(Context& context, const Arguments& arguments) {
  analysis::ViabilityQuestion question;
  question.today = context.today;
  question.level = level_of(arguments);
  question.rho = arguments.number("rho");
  question.standard = arguments.number("standard");
  if (question.standard && *question.standard <= 0)
    throw WrongUsage("--standard: a share above 0, for example 0.85 or 85%.");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  const auto lot = logbook::lot_named(logbook, arguments.words()[0]);
  logbook::Selection selection;
  selection.lot = lot.code;
  auto histories = logbook::histories(logbook, selection);
  if (arguments.has("today"))
    for (auto& history : histories) history = analysis::as_of(history, context.today);
  const auto finding = analysis::lot_viability(lot, histories, question);
  if (context.json)
    print_json(context, report::viability_json(finding));
  else
    context.screen.print(report::viability_text(style_of(context), finding));
  return 0;
}

}  // namespace

extern const Command viability_command;
const Command viability_command{
    .name = "viability",
    .group = Group::answer,
    .summary = "is this lot worth sowing?",
    .about =
        "The tests of a lot in order, how many of its seeds are alive, the chance that it meets "
        "its standard, and what to do: sow as usual, sow thicker, test more, or replace. A lot "
        "that can't be replaced is never told to be.",
    .example = "plumule viability ONI-22",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
