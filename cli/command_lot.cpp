// Seed lots: entered, changed, their stock and storage kept, shown.
#include <nlohmann/json.hpp>

#include "cli/cautions.hpp"
#include "cli/lot_fields.hpp"
#include "cli/lot_showing.hpp"
#include "cli/opening.hpp"
#include "cli/wording.hpp"
#include "crops/names.hpp"
#include "logbook/find.hpp"
#include "logbook/lots.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "the lot; without one, all lots", 0, 1);
  declare_lot_fields(options);
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

records::Lot save(const Context& context, logbook::Logbook& logbook, const Arguments& arguments,
                  const std::string& code, std::vector<std::string>& told) {
  logbook::Entry entry = begin(logbook, context);  // what is read below is what is changed
  const auto before = logbook::find_lot(logbook, code);
  if (!before && arguments.has("rename")) logbook::lot_named(logbook, code);  // refuses
  if (!before && !arguments.has("crop") && !arguments.has("parent")) {
    std::vector<std::string> codes;
    for (const records::Lot& lot : logbook::lots(logbook)) codes.push_back(lot.code);
    const std::vector<std::string> near = logbook::nearest(code, codes);
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
    logbook::add_stock(entry, stock_line(arguments, lot.code, context.today));
  if (gives_storage(arguments))
    logbook::add_storage(entry, storage_span(arguments, lot.code, context.today));
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
  if (arguments.words().empty()) {
    if (writes) throw WrongUsage("Which lot? Its name comes first: plumule lot NAME ...");
    logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
    list_lots(context, logbook);
    return 0;
  }
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
