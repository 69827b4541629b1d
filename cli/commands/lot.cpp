// Seed lots: entered, changed, their stock and storage kept, shown.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/options/lot_fields.hpp"
#include "cli/showing/cautions.hpp"
#include "cli/showing/change_showing.hpp"
#include "cli/showing/lot_showing.hpp"
#include "cli/showing/wording.hpp"
#include "crops/names.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/stock.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "the lot; without one all lots, or those of a --crop, a --variety", 0, 1);
  declare_lot_fields(options);
  options.usual({"crop", "variety", "source", "year", "label", "dressing", "seeds", "grams", "out",
                 "reason", "on"});
}

// An unknown crop is taken, and said: its published minimum and days are then not known either.
void say_unknown_crop(const Context& context, const records::Lot& lot) {
  const crops::Match match = crops::find_crop(lot.crop);
  if (match.crop != nullptr || lot.crop.empty()) return;
  std::vector<std::string> near;
  for (const crops::Crop* crop : match.nearest) near.emplace_back(crop->name);
  context.screen.remark("The crop \"" + lot.crop +
                        "\" is not in the crop tables, so nothing published is known of it." +
                        (near.empty() ? "" : " Did you mean " + listed(near, "or") + "?"));
}

std::string lowered(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

// Whether the lot is of that crop (by any name of it) and of a variety with those words.
bool fits(const records::Lot& lot, const std::optional<std::string>& crop,
          const std::optional<std::string>& variety) {
  if (variety && lowered(lot.variety).find(lowered(*variety)) == std::string::npos) return false;
  return !crop || of_crop(lot, *crop);
}

int list(Context& context, const Arguments& arguments) {
  std::vector<std::string_view> others = lot_options();
  for (const std::string_view name : others)
    if (name != "crop" && name != "variety" && arguments.has(name))
      throw WrongUsage("Which lot? Its name comes first: plumule lot NAME ...");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  list_lots(context, logbook, [&](const records::Lot& lot) {
    return fits(lot, arguments.text("crop"), arguments.text("variety"));
  });
  return 0;
}

// A second line of the ledger like one of that day may be a second packet, or a command that was
// run again to mend another field.
void take_stock(logbook::Entry& entry, const records::StockLine& line, bool new_lot,
                bool changes_fields, std::vector<std::string>& told) {
  const bool there = !new_lot && bench::stands_already(entry.logbook(), line);
  if (there && changes_fields) {
    told.push_back(
        "The same stock of that day is in the ledger already, and was not added again. "
        "A second packet? Give it alone: plumule lot " +
        line.lot + " --seeds N");
    return;
  }
  logbook::add_stock(entry, line);
  if (there)
    told.push_back(
        "The same stood in the ledger of that day already: a second packet then. The "
        "same one? plumule undo");
  const std::string hint = overdrawn_hint(line.lot, bench::stock_left(entry.logbook(), line.lot));
  if (!hint.empty()) told.push_back(hint);
}

records::Lot save(const Context& context, logbook::Logbook& logbook, const Arguments& arguments,
                  const std::string& code, std::vector<std::string>& told) {
  logbook::Entry entry = begin(logbook, context);  // what is read below is what is changed
  const auto before = logbook::find_lot(logbook, code);
  if (!before && arguments.has("rename")) logbook::lot_named(logbook, code);  // refuses
  if (!before && !arguments.has("crop") && !arguments.has("parent")) {
    std::vector<std::string> codes;
    for (const records::Lot& lot : logbook::lots(logbook)) codes.push_back(lot.code);
    const std::vector<std::string> near = records::nearest(code, codes);
    throw records::Refused("There is no lot " + code + " yet" +
                           (near.empty() ? "" : " (but " + listed(near) + ")") +
                           ". A new one needs its crop: plumule lot " + code + " --crop bean.");
  }
  records::Lot lot = before.value_or(records::Lot{});
  if (!before) lot.code = code;
  lay_fields(arguments, lot);
  if (!before) told = fill_new_lot(logbook, arguments, lot);

  if (!before)
    logbook::add_lot(entry, lot);
  else if (gives_lot_fields(arguments))
    logbook::change_lot(entry, lot);
  if (gives_stock(arguments))
    take_stock(entry, stock_line(arguments, lot.code, context.today), !before,
               gives_lot_fields(arguments), told);
  if (gives_storage(arguments))
    logbook::add_storage(entry, storage_span(arguments, lot.code, entry));
  entry.say((before ? "Changed lot " + before->code : "Entered lot " + lot.code));
  entry.commit();
  if (before)
    for (const std::string& difference : differences(*before, lot)) told.push_back(difference);
  return lot;
}

int run(Context& context, const Arguments& arguments) {
  const bool writes =
      gives_lot_fields(arguments) || gives_stock(arguments) || gives_storage(arguments);
  if (arguments.flag("out") && !gives_stock(arguments))
    throw WrongUsage("How much went out? --seeds N or --grams G beside --out.");
  if (arguments.words().empty()) return list(context, arguments);
  const std::string& code = arguments.words()[0];
  logbook::Logbook logbook =
      open_logbook(context, writes ? logbook::Access::write : logbook::Access::read);
  std::vector<std::string> told;
  const records::Lot lot =
      writes ? save(context, logbook, arguments, code, told) : logbook::lot_named(logbook, code);
  if (context.json) {
    print_json(context, lot_answer(logbook, lot));
  } else {
    show_lot(context, logbook, lot);
    for (const std::string& line : told) context.screen.paragraph(line);
    if (!writes)
      show_changes(context, field_changes_of(logbook, records::About::lot, lot.id));
    else if (arguments.has("crop") || arguments.has("parent") || arguments.has("dressing") ||
             arguments.has("coating"))
      show_cautions(context, bench::cautions_for(lot));
  }
  if (writes) say_unknown_crop(context, lot);
  return 0;
}

}  // namespace

extern const Command lot_command;
const Command lot_command{
    .name = "lot",
    .group = Group::keep,
    .summary = "seed lots and their stock",
    .about =
        "Enters a seed lot, or changes what is given of one that is there; takes seed in and out "
        "of its stock, and keeps how it was stored. With a name alone it shows the lot, without a "
        "name all lots. A lot of your own harvest takes nothing over from its parent.",
    .example = "plumule lot LEEK-26 --crop leek --year 2025 --label 85% --seeds 300",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
