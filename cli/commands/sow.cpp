// Sowings: one tray, several alike, or a whole trial laid out at once.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/showing/cautions.hpp"
#include "cli/showing/lot_showing.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "cli/sowing_out.hpp"
#include "cli/stock_taking.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("LABEL", "of each tray; none: a whole trial is laid out and labelled", 0,
                any_number);
  options.texts("lot", "LOT", "the lot sown");
  options.moment("on", "when it was sown; else today");
  options.flag("over", "of this one and the open one of that label, the earlier was sown over");
  declare_sowing_fields(options);
  declare_treatment_fields(options);
  options.text("jar", "NAME", "treated together in this jar, on this mat");
  options.flag("own-jars", "each tray's seed was treated by itself");
  options.heading("The trial");
  options.text("trial", "NAME", "the trial it belongs to; else none");
  options.texts("block", "NAME", "its block");
  options.whole("blocks", "N", "blocks 1 to N", 1, 1000);
  declare_trial_plan(options);
  options.heading("A whole trial laid out (no LABEL)");
  options.whole("trays", "N", "trays of each treatment in a block; else 1", 1, 1000);
  options.text("labels", "TEXT", "labels TEXT1, TEXT2 ...; else a letter a block");
  options.whole("draw", "N", "draw the order of number N again", 0, 1e9);
  options.flag("in-order", "as listed, not drawn at random");
  options.usual(
      {"lot", "on", "seeds", "setting", "place", "treatment", "soak", "trial", "blocks", "until"});
}

Json answer(const Context& context, logbook::Logbook& logbook, const Sown& sown) {
  const auto last = last_day_of(logbook, sown.all.front().trial, context.today);
  Json sowings = Json::array();
  Json stock = Json::object();
  for (const records::Sowing& sowing : sown.all) {
    sowings.push_back(to_json(sowing));
    if (sowing.lot.empty()) continue;
    const Stock left = stock_left(logbook, sowing.lot);
    stock[sowing.lot] = left.kept() ? Json{{"seeds", left.seeds}, {"grams", left.grams}} : Json();
  }
  return {{"sowings", sowings},
          {"draw", or_null(sown.draw)},
          {"stock", stock},
          {"last_day", last ? Json(records::to_text(last->day)) : Json()},
          {"last_day_planned", last ? Json(last->planned) : Json()},
          {"cautions", to_json(sown.cautions)}};
}

void show(const Context& context, logbook::Logbook& logbook, const Sown& sown,
          const std::optional<LastDay>& before) {
  const Screen& screen = context.screen;
  const records::Sowing& first = sown.all.front();
  if (sown.all.size() == 1) {
    screen.paragraph(fmt::format("{}: {}, sown {}.", first.label, described(first),
                                 day_of(first.sown, context.today)));
  } else {
    screen.line(
        fmt::format("{} sown {}:", number_of(static_cast<std::int64_t>(sown.all.size()), "sowing"),
                    day_of(first.sown, context.today)));
    Table table({"sowing", "block", "lot", "treatment", "sown"});
    for (const records::Sowing& sowing : sown.all)
      table.row({sowing.label, sowing.block, sowing.lot, sowing.treatment, sown_amount(sowing)});
    table.print(screen);
  }
  if (sown.draw)
    screen.paragraph(
        fmt::format("The order in each block was drawn at random; --draw {} draws the same again.",
                    *sown.draw));
  for (const std::string& line : sown.told) screen.paragraph(line);
  if (!first.trial.empty())
    screen.paragraph(
        last_day_words(first.trial, before, last_day_of(logbook, first.trial, context.today)));
  std::vector<std::string> done;
  for (const records::Sowing& sowing : sown.all) {
    if (sowing.lot.empty() || std::find(done.begin(), done.end(), sowing.lot) != done.end())
      continue;
    done.push_back(sowing.lot);
    const Stock left = stock_left(logbook, sowing.lot);
    if (!left.kept()) continue;
    screen.line(fmt::format("{}: {}.", sowing.lot, in_words(left)));
    if (left.overdrawn()) screen.paragraph(overdrawn_hint(sowing.lot, left));
    const std::string hint = not_taken_hint(logbook, sown.all, sowing.lot);
    if (!hint.empty()) screen.paragraph(hint);
  }
  show_cautions(context, sown.cautions);
}

int run(Context& context, const Arguments& arguments) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  logbook::Entry entry = begin(logbook, context);
  const auto before = last_day_of(logbook, arguments.text("trial").value_or(""), context.today);
  const Sown sown = sow(entry, context, arguments);
  std::vector<std::string> labels;
  for (const records::Sowing& sowing : sown.all) labels.push_back(sowing.label);
  entry.say("Sowed " + listed(labels));
  entry.commit();
  if (context.json)
    print_json(context, answer(context, logbook, sown));
  else
    show(context, logbook, sown, before);
  return 0;
}

}  // namespace

extern const Command sow_command;
const Command sow_command{
    .name = "sow",
    .group = Group::keep,
    .summary = "a tray, or a whole trial",
    .about =
        "Enters what was sown: a tray by its label, several alike by their labels, or, with no "
        "label, a whole trial at once: every --lot with every --treatment (or --soak) in every "
        "block, in an order drawn at random within the block. The lot's stock goes down by what "
        "was sown.",
    .example = "plumule sow --trial MINI --lot BEAN-25 --soak 0 --soak 8 --blocks 3 --seeds 20",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
