// Is this lot still worth sowing?
#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "analysis/course/sowing_course.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "bench/stock.hpp"
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
  options.date("on", "the day of sowing that it is asked for; else today");
  options.flag("next-season", "as on the 1st of March to come");
  options.number("price", "MONEY", "of a fresh packet, in any money; with --season-value");
  options.number("season-value", "MONEY",
                 "what the season's crop is worth, in the same; unless told six packets");
  options.flag("full", "every figure by its name, and every test");
  options.text("level", "LEVEL", "of the intervals: 0.95 unless told");
  declare_rho(options,
              "how alike seeds of one test are, instead of what is assumed; own: as your own "
              "replicated sowings say");
}

// By the ledger; of a lot kept by weight as far as its seeds per gram are known.
std::optional<std::int64_t> seeds_left(logbook::Logbook& logbook, const records::Lot& lot) {
  const auto stock = bench::stock_left(logbook, lot.code);
  if (stock.by_number) return stock.seeds;
  if (!stock.by_weight || !lot.seeds_per_gram) return std::nullopt;
  return std::llround(stock.grams * *lot.seeds_per_gram);
}

records::Date first_of_march_after(records::Date today) {
  using namespace std::chrono;
  const year_month_day now(today);
  const sys_days march(now.year() / March / 1);
  return march > today ? march : sys_days((now.year() + years(1)) / March / 1);
}

// The day asked about, and the grower's costs.
void take_season(const Arguments& arguments, analysis::ViabilityQuestion& question) {
  question.as_of = arguments.date("on");
  if (question.as_of && arguments.flag("next-season"))
    throw WrongUsage("--on names a day, and --next-season another. Which is it?");
  if (arguments.flag("next-season")) question.as_of = first_of_march_after(question.today);
  if (question.as_of && *question.as_of < question.today)
    throw WrongUsage("--on: today or a day to come; for a day that is past use --today.");
  question.price = arguments.number("price");
  question.season_value = arguments.number("season-value");
  if (question.price.has_value() != question.season_value.has_value())
    throw WrongUsage("--price and --season-value go together: one is weighed against the other.");
  if (question.price && (*question.price <= 0 || *question.season_value <= 0))
    throw WrongUsage("--price and --season-value: more than 0, in the same money.");
}

analysis::LotViability viability_of(logbook::Logbook& logbook, const records::Lot& lot,
                                    bool as_of_today, analysis::ViabilityQuestion question) {
  logbook::Selection selection;
  selection.lot = lot.code;
  auto histories = logbook::histories(logbook, selection);
  if (as_of_today)
    for (auto& history : histories) history = analysis::as_of(history, question.today);
  question.seeds_left = seeds_left(logbook, lot);
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
  take_season(arguments, question);
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  question.rho = rho_of(logbook, arguments);
  if (arguments.words().empty()) return all_lots(context, arguments, logbook, question);
  if (arguments.has("crop")) throw WrongUsage("A lot is named, and --crop too. Which is it?");
  const auto lot = logbook::lot_named(logbook, arguments.words()[0]);
  const auto finding = viability_of(logbook, lot, arguments.has("today"), question);
  if (context.json)
    context.screen.line(report::viability_json(finding, in_words));
  else
    context.screen.print(
        report::viability_text(style_of(context), finding, arguments.flag("full")) +
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
        "What to do with a lot: sow it as usual or thicker, have a fresh packet at hand, nick hard "
        "seed, test more, or replace; by its tests, each at its age, and by what the season would "
        "lose. A lot that can't be replaced is never told to be. Without a lot: all that were "
        "tested, a line each.",
    .example = "plumule viability ONI-22",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
