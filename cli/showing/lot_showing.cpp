// A lot on the screen, and as JSON.
#include "cli/showing/lot_showing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "cli/showing/cautions.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/settings.hpp"
#include "logbook/record/stock.hpp"
#include "records/number_check.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

std::string kept_how(const records::StorageSpan& span, records::Degrees shown_in) {
  std::vector<std::string> parts;
  if (!span.place.empty()) parts.push_back(span.place);
  if (span.temperature_c)
    parts.push_back(records::shown_temperature(*span.temperature_c, shown_in));
  if (span.humidity) parts.push_back(records::shown(*span.humidity * 100) + " % humidity");
  if (span.moisture)
    parts.push_back("seed at " + records::shown(*span.moisture * 100) + " % moisture");
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

void line_of(const Context& context, std::string_view name, const std::string& value) {
  if (value.empty()) return;
  std::string left(name);
  left.resize(14, ' ');
  context.screen.line("  " + left + context.screen.in_lines(value, 16));
}

}  // namespace

std::string in_words(const bench::Stock& stock) {
  if (!stock.kept()) return "no ledger";
  if (stock.overdrawn()) {
    std::vector<std::string> short_of;
    if (stock.seeds < 0) short_of.push_back(number_of(-stock.seeds, "seed"));
    if (stock.grams < 0) short_of.push_back(grams_shown(-stock.grams) + " g");
    return listed(short_of) + " more went out than came in";
  }
  if (!stock.by_weight) return number_of(stock.seeds, "seed") + " left";
  const std::string grams = grams_shown(stock.grams) + " g";
  if (!stock.by_number) return grams + " left";
  return number_of(stock.seeds, "seed") + " and " + grams + " left";
}

// A kitchen scale's figures: what a sowing took is reckoned by seeds per gram, and no finer.
std::string grams_shown(double grams) {
  const double size = std::abs(grams);
  const double step = size >= 1000 ? 1 : size >= 10 ? 0.1 : size >= 1 ? 0.01 : 0.001;
  return records::shown(std::round(grams / step) * step);
}

std::string overdrawn_hint(const std::string& lot, const bench::Stock& stock) {
  if (!stock.overdrawn()) return {};
  return "Its ledger lacks what came in: plumule lot " + lot +
         " --seeds N (or --grams G). A slip? "
         "plumule undo";
}

std::string not_taken_hint(logbook::Logbook& logbook, const std::vector<records::Sowing>& sown,
                           const std::string& lot) {
  const auto found = bench::took_nothing(logbook, sown, lot);
  if (!found) return {};
  const bench::Stock stock = bench::stock_left(logbook, lot);
  if (logbook::lot_named(logbook, lot).seeds_per_gram)
    return fmt::format(
        "Nothing was taken off: how much went out is not known. If you know it: plumule lot {} "
        "--{} --out",
        lot, stock.by_number ? "seeds N" : "grams G");
  return fmt::format(
      "Nothing was taken off: its stock is kept by {}, and {} cannot be told in {} without its "
      "seeds in a gram. What went out: plumule lot {} --{} --out. For the next: plumule lot {} "
      "--per-gram N",
      stock.by_number ? "number" : "weight", sown_amount(*found),
      stock.by_number ? "seeds" : "grams", lot, stock.by_number ? "seeds N" : "grams G", lot);
}

void list_lots(const Context& context, logbook::Logbook& logbook,
               const std::function<bool(const records::Lot&)>& fits) {
  std::vector<records::Lot> all;
  const std::vector<records::Lot> known = logbook::lots(logbook);
  std::copy_if(known.begin(), known.end(), std::back_inserter(all), fits);
  if (context.json) {
    Json list = Json::array();
    for (const records::Lot& lot : all) list.push_back(lot_answer(logbook, lot));
    print_json(context, {{"lots", list}});
    return;
  }
  if (all.empty() && !known.empty()) {
    context.screen.line(fmt::format("None of the {} is of that kind.",
                                    number_of(static_cast<std::int64_t>(known.size()), "lot")));
    return;
  }
  if (all.empty()) {
    context.screen.line("No lots yet. The first: plumule lot BEAN-25 --crop bean --year 2025");
    return;
  }
  Table table({"lot", "crop", "variety", "year", "label", "stock"});
  for (const records::Lot& lot : all) {
    const std::optional<int> year = lot.harvest_year ? lot.harvest_year : lot.packed_year;
    table.row({lot.code, lot.crop, lot.variety, year ? std::to_string(*year) : "",
               lot.label_germination ? records::shown(*lot.label_germination * 100) + " %" : "",
               in_words(bench::stock_left(logbook, lot.code))});
  }
  table.print(context.screen);
}

void show_lot(const Context& context, logbook::Logbook& logbook, const records::Lot& lot) {
  context.screen.paragraph(context.screen.toned(Tone::strong, "Lot " + lot.code) + ": " +
                           described(lot));
  line_of(context, "source", lot.source);
  for (const records::Parent& parent : lot.parents)
    line_of(context, "from", parent.lot + " (" + std::string(records::word(parent.descent)) + ")");
  if (lot.label_tested_on)
    line_of(context, "label tested", records::spoken(*lot.label_tested_on, true));
  line_of(context, "coating", lot.coating);
  line_of(context, "dressing", lot.seed_treatment);
  if (lot.seeds_per_gram) line_of(context, "seeds a gram", records::shown(*lot.seeds_per_gram));
  if (lot.irreplaceable) line_of(context, "irreplaceable", "yes");
  for (const records::StorageSpan& span : logbook::storage_of(logbook, lot.code))
    line_of(context, "kept",
            kept_how(span, logbook::shown_unit(logbook)) + ", since " +
                records::spoken(span.since, true));
  const bench::Stock stock = bench::stock_left(logbook, lot.code);
  line_of(context, "stock", in_words(stock));
  if (stock.kept()) {
    Table ledger({"", "", "", ""});
    for (const records::StockLine& line : logbook::stock_of(logbook, lot.code))
      ledger.row({"    " + records::to_text(line.on),
                  line.seeds ? (*line.seeds > 0 ? "+" : "") + std::to_string(*line.seeds) : "",
                  line.grams ? (*line.grams > 0 ? "+" : "") + grams_shown(*line.grams) + " g" : "",
                  line.reason});
    ledger.print(context.screen);
  }
}

Json lot_answer(logbook::Logbook& logbook, const records::Lot& lot) {
  Json out = to_json(lot);
  const bench::Stock stock = bench::stock_left(logbook, lot.code);
  out["stock"] = stock.kept() ? Json{{"seeds", stock.seeds}, {"grams", stock.grams}} : Json();
  Json ledger = Json::array();
  for (const records::StockLine& line : logbook::stock_of(logbook, lot.code))
    ledger.push_back({{"on", records::to_text(line.on)},
                      {"seeds", or_null(line.seeds)},
                      {"grams", or_null(line.grams)},
                      {"reason", line.reason}});
  out["ledger"] = ledger;
  Json storage = Json::array();
  for (const records::StorageSpan& span : logbook::storage_of(logbook, lot.code))
    storage.push_back({{"since", records::to_text(span.since)},
                       {"temperature_c", or_null(span.temperature_c)},
                       {"humidity", or_null(span.humidity)},
                       {"moisture", or_null(span.moisture)},
                       {"place", or_null(span.place)}});
  out["storage"] = storage;
  out["cautions"] = to_json(bench::cautions_for(lot));
  return out;
}

}  // namespace plumule::cli
