// Is this lot still worth sowing?
#include <fmt/format.h>

#include "analysis/course/sowing_course.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "cli/asking.hpp"
#include "cli/opening.hpp"
#include "cli/options/lot_fields.hpp"
#include "cli/options/own_rho.hpp"
#include "cli/showing/hint_words.hpp"
#include "logbook/record/lots.hpp"
#include "records/refused.hpp"
#include "report/own_rho.hpp"
#include "report/viability.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("LOT", "the lot's code; none: all of them, the poorest first", 0, 1);
  options.text("crop", "CROP", "the lots of this crop, in one table");
  options.share("standard", "SHARE",
                "the line to hold it to, 0.85 or 85%; else the crop's least for sale, else its "
                "label");
  options.text("level", "LEVEL", "of the intervals: 0.95 unless told");
  declare_rho(options,
              "how alike seeds of one test are, instead of what is assumed; own: as your own "
              "replicated sowings say");
}

analysis::LotViability viability_of(logbook::Logbook& logbook, const records::Lot& lot,
                                    bool as_of_today, const analysis::ViabilityQuestion& question) {
  logbook::Selection selection;
  selection.lot = lot.code;
  auto histories = logbook::histories(logbook, selection);
  if (as_of_today)
    for (auto& history : histories) history = analysis::as_of(history, question.today);
  return analysis::lot_viability(lot, histories, question);
}

// One lot after the other: no more than a line of each is held.
int all_lots(Context& context, const Arguments& arguments, logbook::Logbook& logbook,
             analysis::ViabilityQuestion question) {
  question.plan_test = false;
  const auto crop = arguments.text("crop");
  report::ViabilityTable table(in_words);
  bool any = false;
  for (const records::Lot& lot : logbook::lots(logbook)) {
    if (crop && !of_crop(lot, *crop)) continue;
    any = true;
    table.take(viability_of(logbook, lot, arguments.has("today"), question));
  }
  if (!any && crop)
    throw records::Refused(
        fmt::format("No lot of {} is in the logbook. All lots: plumule lot", *crop));
  if (context.json)
    context.screen.line(table.json());
  else if (!any)
    context.screen.line("No lots yet. The first: plumule lot BEAN-25 --crop bean --year 2025");
  else
    context.screen.print(table.text(style_of(context)) +
                         report::own_rho_text(style_of(context), question.rho));
  return 0;
}

int run(Context& context, const Arguments& arguments) {
  analysis::ViabilityQuestion question;
  question.today = context.today;
  question.level = level_of(arguments);
  question.standard = arguments.number("standard");
  if (question.standard && *question.standard <= 0)
    throw WrongUsage("--standard: a share above 0, for example 0.85 or 85%.");
  if (question.standard && *question.standard > 0.99)
    throw WrongUsage(
        "--standard: 99 % at most, as no test can show that every seed of a lot is alive.");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  question.rho = rho_of(logbook, arguments);
  if (arguments.words().empty()) return all_lots(context, arguments, logbook, question);
  if (arguments.has("crop")) throw WrongUsage("A lot is named, and --crop too. Which is it?");
  const auto lot = logbook::lot_named(logbook, arguments.words()[0]);
  const auto finding = viability_of(logbook, lot, arguments.has("today"), question);
  if (context.json)
    context.screen.line(report::viability_json(finding, in_words));
  else
    context.screen.print(report::viability_text(style_of(context), finding) +
                         report::own_rho_text(style_of(context), question.rho));
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
        "its standard, and what to do: sow as usual, sow thicker, nick hard seed, test more, or "
        "replace. A lot that can't be replaced is never told to be. Without a lot: all that were "
        "tested, a line "
        "each.",
    .example = "plumule viability ONI-22",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
