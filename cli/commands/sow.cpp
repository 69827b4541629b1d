// Sowings: one tray, several alike, or a whole trial laid out at once.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "bench/sow.hpp"
#include "cli/opening.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/showing/cautions.hpp"
#include "cli/showing/lot_showing.hpp"
#include "cli/showing/plan_showing.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "crops/names.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

using bench::Sown;

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

std::vector<std::string> blocks_typed(const Arguments& arguments) {
  std::vector<std::string> blocks = arguments.texts("block");
  if (const auto count = arguments.whole("blocks")) {
    if (!blocks.empty()) throw WrongUsage("--block and --blocks are both given. Which is it?");
    for (std::int64_t i = 1; i <= *count; ++i) blocks.push_back(std::to_string(i));
  }
  return blocks;
}

// What every tray of this command has in common.
records::Sowing each_typed(const Arguments& arguments, const Context& context) {
  records::Sowing sowing;
  sowing.units_known = records::UnitsKnown::unknown;
  lay_fields(arguments, sowing);
  if (!arguments.has("counting") &&
      (sowing.setting == records::Setting::towel || sowing.setting == records::Setting::dish))
    sowing.counting = records::Counting::root_seen;
  sowing.sown = arguments.moment("on").value_or(records::Moment{context.today, {}});
  return sowing;
}

// A stray word would be sown as a tray of that name: labels of one command look alike.
void refuse_stray_words(const std::vector<std::string>& labels) {
  const auto kind = [](const std::string& label) {
    const bool digits = label.find_first_of("0123456789") != std::string::npos;
    const bool others = label.find_first_not_of("0123456789") != std::string::npos;
    return std::pair(digits, others);
  };
  for (std::size_t i = 1; i < labels.size(); ++i) {
    const bool crop = crops::find_crop(labels[i]).crop != nullptr;
    const bool number = !kind(labels[i]).second;
    const bool setting = records::from_word<records::Setting>(labels[i]).has_value();
    if (kind(labels[i]) == kind(labels[0]) && !setting) continue;
    const char* option = setting ? "setting" : number ? "seeds" : crop ? "crop" : nullptr;
    throw WrongUsage(fmt::format(
        "\"{}\" would be sown as one more tray, and is no label like {}. If it is one, sow it in a "
        "command of its own. Else {}.",
        labels[i], labels[0],
        option == nullptr ? "give the option that it belongs to"
                          : fmt::format("name what it is: --{} {}", option, labels[i])));
  }
}

void check_labels(const bench::ToSow& wanted) {
  const std::vector<std::string>& labels = wanted.labels;
  if (!labels.empty() &&
      (wanted.lots.size() > 1 || wanted.treatments.size() > 1 || wanted.blocks.size() > 1))
    throw WrongUsage(
        "Labels are given, so there is one lot, one treatment and one block. For a whole trial "
        "leave the labels out: they are made.");
  for (std::size_t i = 0; i < labels.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (records::same_label(labels[i], labels[j]))
        throw WrongUsage(fmt::format("{} is typed twice.", labels[i]));
  refuse_stray_words(labels);
}

// The name of something else would be sown so too.
void refuse_other_names(logbook::Logbook& logbook, const std::vector<std::string>& labels) {
  for (std::size_t i = 1; i < labels.size(); ++i) {
    const char* what = logbook::find_lot(logbook, labels[i])         ? "lot"
                       : logbook::find_trial(logbook, labels[i])     ? "trial"
                       : logbook::find_treatment(logbook, labels[i]) ? "treatment"
                                                                     : nullptr;
    if (what != nullptr)
      throw records::Refused(fmt::format(
          "{0} is a {1}, and would be sown as one more tray. Meant as that? --{1} {0}. A tray of "
          "that label? Sow it in a command of its own.",
          labels[i], what));
  }
}

bench::ToSow typed(const Arguments& arguments, const Context& context) {
  bench::ToSow wanted;
  wanted.each = each_typed(arguments, context);
  wanted.order = arguments.whole("order");
  wanted.number_not_known = arguments.flag("unknown");
  wanted.labels = arguments.words();
  wanted.lots = arguments.texts("lot");
  wanted.treatments = treatments_typed(arguments);
  if (wanted.labels.empty() && !arguments.has("trial") && !arguments.has("labels") &&
      !arguments.has("trays") && !arguments.has("blocks"))
    throw WrongUsage(
        "What is its label? plumule sow LABEL --lot LOT --seeds N. For a whole trial: --trial "
        "NAME.");
  wanted.trial = trial_typed(arguments, wanted.labels.empty());
  wanted.blocks = blocks_typed(arguments);
  check_labels(wanted);
  wanted.jars = {arguments.text("jar").value_or(""), arguments.flag("own-jars")};
  wanted.over = arguments.flag("over");
  wanted.trays = static_cast<int>(arguments.whole("trays").value_or(1));
  wanted.prefix = arguments.text("labels").value_or("");
  wanted.in_order = arguments.flag("in-order");
  if (const auto draw = arguments.whole("draw")) wanted.draw = static_cast<std::uint64_t>(*draw);
  return wanted;
}

// Defaults that were taken, and what was made.
std::vector<std::string> told_of(const Sown& sown, const Arguments& arguments) {
  const records::Sowing& first = sown.all.front();
  std::vector<std::string> told;
  for (const std::string& label : sown.treatments.made)
    told.push_back(fmt::format("Treatment {} is new.", label));
  if (sown.trial.made) told.push_back(fmt::format("Trial {} is new.", sown.trial.code));
  if (const auto& open = sown.trial.open_with_lot; !open.empty())
    told.push_back(fmt::format(
        "In no trial. Of this lot {} is open; part of it? plumule amend {} --trial {}",
        listed(open), arguments.words().empty() ? "NAME" : arguments.words()[0], open[0]));
  if (sown.labels_go_on)
    told.push_back(fmt::format(
        "The labels begin with {}: open sowings have those before it. --labels TEXT names others.",
        first.label));
  if (!sown.passed_over.empty())
    told.push_back(fmt::format(
        "No block is lettered {}: open sowings are. --labels TEXT names them otherwise.",
        listed(sown.passed_over, "or")));
  if (sown.nothing_named)
    told.push_back(
        fmt::format("Neither lot nor crop is named, so nothing can be said of it beyond itself: "
                    "plumule amend {} --lot LOT",
                    first.label));
  if (sown.by_weight)
    told.push_back(fmt::format("About {}, by the weight and the lot's seeds a gram.",
                               number_of(*sown.by_weight, "seed")));
  for (const records::Sowing& over : sown.over_already)
    told.push_back(
        fmt::format("{0} is closed as sown over on {1}, when {2} was sown again; plumule "
                    "end {0} says how it truly ended.",
                    over.dated_label(), records::spoken(over.ending->at.date, true), over.label));
  return told;
}

Json answer(const Context& context, logbook::Logbook& logbook, const Sown& sown) {
  const auto last = last_day_of(logbook, sown.all.front().trial, context.today);
  Json sowings = Json::array();
  Json stock = Json::object();
  for (const records::Sowing& sowing : sown.all) {
    sowings.push_back(to_json(sowing));
    if (sowing.lot.empty()) continue;
    const bench::Stock left = bench::stock_left(logbook, sowing.lot);
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
          const std::vector<std::string>& told, const std::optional<LastDay>& before,
          bool another_day) {
  const Screen& screen = context.screen;
  const records::Sowing& first = sown.all.front();
  if (sown.all.size() == 1) {
    screen.paragraph(fmt::format("{}: {}, sown {}.", first.label, described(first),
                                 records::spoken(first.sown, context.today)));
  } else {
    screen.line(
        fmt::format("{} sown {}:", number_of(static_cast<std::int64_t>(sown.all.size()), "sowing"),
                    records::spoken(first.sown, context.today)));
    Table table({"sowing", "block", "lot", "treatment", "sown"});
    for (const records::Sowing& sowing : sown.all)
      table.row({sowing.label, sowing.block, sowing.lot, sowing.treatment, sown_amount(sowing)});
    table.print(screen);
  }
  if (sown.draw)
    screen.paragraph(
        fmt::format("The order in each block was drawn at random; --draw {} draws the same again.",
                    *sown.draw));
  for (const std::string& line : told) screen.paragraph(line);
  if (!first.trial.empty()) {
    const auto last = last_day_of(logbook, first.trial, context.today);
    screen.paragraph(last_day_words(first.trial, before, last));
    if (another_day && last && last->moved) screen.paragraph(day_moved_words(*last));
  }
  std::vector<std::string> done;
  for (const records::Sowing& sowing : sown.all) {
    if (sowing.lot.empty() || std::find(done.begin(), done.end(), sowing.lot) != done.end())
      continue;
    done.push_back(sowing.lot);
    const bench::Stock left = bench::stock_left(logbook, sowing.lot);
    if (!left.kept()) continue;
    screen.line(fmt::format("{}: {}.", sowing.lot, in_words(left)));
    if (left.overdrawn()) screen.paragraph(overdrawn_hint(sowing.lot, left));
    const std::string hint = not_taken_hint(logbook, sown.all, sowing.lot);
    if (!hint.empty()) screen.paragraph(hint);
  }
  show_cautions(context, sown.cautions);
}

int run(Context& context, const Arguments& arguments) {
  bench::ToSow wanted = typed(arguments, context);
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  refuse_other_names(logbook, wanted.labels);
  logbook::Entry entry = begin(logbook, context);
  lay_temperatures(arguments, entry, wanted.treatments);
  const std::string trial = wanted.trial.name.value_or("");
  const auto before = last_day_of(logbook, trial, context.today);
  const auto known = logbook::find_trial(logbook, trial);
  check_looks(wanted.trial.plan, known ? known->closes_on : std::nullopt, wanted.each.sown.date);
  const bool another_day =  // of a trial that is there already
      known && wanted.trial.plan.until && known->closes_on != wanted.trial.plan.until;
  const Sown sown = bench::sow(entry, wanted);
  std::vector<std::string> labels;
  for (const records::Sowing& sowing : sown.all) labels.push_back(sowing.label);
  entry.say("Sowed " + listed(labels));
  entry.commit();
  if (context.json)
    print_json(context, answer(context, logbook, sown));
  else
    show(context, logbook, sown, told_of(sown, arguments), before, another_day);
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
