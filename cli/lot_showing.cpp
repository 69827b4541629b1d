// A lot on the screen, and as JSON.
#include "cli/lot_showing.hpp"

#include <nlohmann/json.hpp>

#include "cli/cautions.hpp"
#include "cli/table.hpp"
#include "cli/wording.hpp"
#include "logbook/lots.hpp"
#include "records/number_check.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

std::string kept_how(const records::StorageSpan& span) {
  std::vector<std::string> parts;
  if (!span.place.empty()) parts.push_back(span.place);
  if (span.temperature_c) parts.push_back(records::shown(*span.temperature_c) + " C");
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
  context.screen.line("  " + left + wrapped(value, context.screen.width(), 16));
}

}  // namespace

Stock stock_left(logbook::Logbook& logbook, const std::string& lot) {
  Stock stock;
  for (const records::StockLine& line : logbook::stock_of(logbook, lot)) {
    stock.by_number = stock.by_number || line.seeds.has_value();
    stock.by_weight = stock.by_weight || line.grams.has_value();
    stock.seeds += line.seeds.value_or(0);
    stock.grams += line.grams.value_or(0);
  }
  return stock;
}

std::string in_words(const Stock& stock) {
  if (!stock.kept()) return "no ledger";
  if (!stock.by_weight) return number_of(stock.seeds, "seed") + " left";
  const std::string grams = records::shown(stock.grams) + " g";
  if (!stock.by_number) return grams + " left";
  return number_of(stock.seeds, "seed") + " and " + grams + " left";
}

void list_lots(const Context& context, logbook::Logbook& logbook) {
  const std::vector<records::Lot> all = logbook::lots(logbook);
  if (context.json) {
    Json list = Json::array();
    for (const records::Lot& lot : all) list.push_back(lot_answer(logbook, lot));
    print_json(context, {{"lots", list}});
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
               in_words(stock_left(logbook, lot.code))});
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
    line_of(context, "kept", kept_how(span) + ", since " + records::spoken(span.since, true));
  const Stock stock = stock_left(logbook, lot.code);
  line_of(context, "stock", in_words(stock));
  if (stock.kept()) {
    Table ledger({"", "", "", ""});
    for (const records::StockLine& line : logbook::stock_of(logbook, lot.code))
      ledger.row(
          {"    " + records::to_text(line.on),
           line.seeds ? (*line.seeds > 0 ? "+" : "") + std::to_string(*line.seeds) : "",
           line.grams ? (*line.grams > 0 ? "+" : "") + records::shown(*line.grams) + " g" : "",
           line.reason});
    ledger.print(context.screen);
  }
  show_cautions(context, cautions_for(lot));
}

Json lot_answer(logbook::Logbook& logbook, const records::Lot& lot) {
  Json out = to_json(lot);
  const Stock stock = stock_left(logbook, lot.code);
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
  out["cautions"] = to_json(cautions_for(lot));
  return out;
}

}  // namespace plumule::cli
