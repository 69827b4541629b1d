// From what was typed to a lot, a line of its stock or a span of its storage.
#include "cli/options/lot_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/options/degrees.hpp"
#include "crops/names.hpp"
#include "logbook/record/lots.hpp"
#include "records/label.hpp"
#include "records/number_check.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

constexpr std::string_view fields[] = {"crop",     "variety",  "source",        "year",
                                       "packed",   "label",    "tested",        "coating",
                                       "dressing", "per-gram", "irreplaceable", "replaceable",
                                       "parent",   "descent",  "forget",        "rename"};

std::string percent(const std::optional<double>& share) {
  return share ? records::shown(*share * 100) + " %" : "";
}

std::string year(const std::optional<int>& value) { return value ? std::to_string(*value) : ""; }

void add(std::vector<std::string>& to, std::string_view name, const std::string& before,
         const std::string& after) {
  if (before == after) return;
  to.push_back(fmt::format("{}: {}, was {}", name, after.empty() ? "not known" : after,
                           before.empty() ? "not known" : before));
}

// Words that say no more than that there is none; "organic" and the like are kept.
bool is_none(const std::string& word) {
  for (const char* none : {"none", "no", "nothing", "untreated", "undressed", "-"})
    if (word == none) return true;
  return false;
}

std::string parents(const records::Lot& lot) {
  std::string text;
  for (const records::Parent& parent : lot.parents)
    text += (text.empty() ? "" : ", ") + parent.lot + " (" +
            std::string(records::word(parent.descent)) + ")";
  return text;
}

void lay_parents(const Arguments& arguments, records::Lot& lot) {
  const std::vector<std::string> names = arguments.texts("parent");
  const auto word = arguments.text("descent");
  if (names.empty()) {
    if (word) throw WrongUsage("--descent says how the lot came from its --parent: name that too.");
    return;
  }
  if (names.size() == 1 && !word)
    throw WrongUsage(fmt::format(
        "How did the lot come from {}? --descent own-harvest (its seed, grown here), split (part "
        "of the same seed) or mix.",
        names[0]));
  const auto descent = word ? *records::from_word<records::Descent>(*word) : records::Descent::mix;
  lot.parents.clear();
  for (const std::string& name : names) lot.parents.push_back({name, descent});
}

}  // namespace

void declare_lot_fields(Options& options) {
  options.text("crop", "CROP", "what it is, in your word for it");
  options.text("variety", "NAME", "the variety");
  options.text("source", "NAME", "where it came from");
  options.whole("year", "YEAR", "year of harvest", 1800, 9999);
  options.whole("packed", "YEAR", "year of packing", 1800, 9999);
  options.share("label", "SHARE", "germination on the label: 0.9 or 90%");
  options.date("tested", "day of the label's test");
  options.text("coating", "WORD", "pelleted, film ...");
  options.text("dressing", "WORD", "what the seed was treated with");
  options.number("per-gram", "N", "seeds in a gram");
  options.flag("irreplaceable", "there is no other of it");
  options.flag("replaceable", "there is, after all");
  options.texts("parent", "LOT", "the lot it came from");
  options.choice("descent", "HOW", {"own-harvest", "split", "mix"}, "how it came from its parent");
  for (const char* name : {"variety", "source", "coating", "dressing"}) options.erasable(name);
  options.heading("Its stock");
  options.whole("seeds", "N", "seeds that came in", 1, 1e12);
  options.number("grams", "G", "grams that came in", 0, 1e12);
  options.flag("out", "they went out instead");
  for (const char* name : {"clusters", "cells"})
    options.elsewhere(name,
                      "A lot's stock is in --seeds or --grams; clusters and cells are said where "
                      "they are sown: plumule sow A1 --lot LOT --clusters 20.");
  options.text("reason", "WORD", "bought, harvest, given, lost, correction ...");
  options.heading("How it is kept");
  options.temperature("kept-at", "at which temperature");
  options.share("humidity", "SHARE", "relative humidity");
  options.share("moisture", "SHARE", "moisture of the seed");
  options.text("kept-in", "PLACE", "where");
  options.heading("The day, and second thoughts");
  options.date("on", "day of the stock or the storage; else today");
  options.text("rename", "NAME", "another name for it");
  options.choice("forget", "FIELD", {"year", "packed", "label", "tested", "per-gram", "parent"},
                 "a field that is not known after all");
}

std::vector<std::string_view> lot_options() {
  Options options;
  declare_lot_fields(options);
  std::vector<std::string_view> names;
  for (const Option& option : options.all()) names.push_back(option.name);
  return names;
}

bool gives_lot_fields(const Arguments& arguments) {
  return std::any_of(std::begin(fields), std::end(fields),
                     [&](std::string_view name) { return arguments.has(name); });
}

bool gives_stock(const Arguments& arguments) {
  return arguments.has("seeds") || arguments.has("grams");
}

bool gives_storage(const Arguments& arguments) {
  return arguments.has("kept-at") || arguments.has("humidity") || arguments.has("moisture") ||
         arguments.has("kept-in");
}

void lay_fields(const Arguments& arguments, records::Lot& lot) {
  const auto lay_text = [&](std::string_view name, std::string& field) {
    if (const auto text = arguments.text(name)) field = *text;
  };
  const auto lay_year = [&](std::string_view name, std::optional<int>& field) {
    if (const auto value = arguments.whole(name)) field = static_cast<int>(*value);
  };
  lay_text("rename", lot.code);
  lay_text("crop", lot.crop);
  lay_text("variety", lot.variety);
  lay_text("source", lot.source);
  lay_text("coating", lot.coating);
  lay_text("dressing", lot.seed_treatment);
  if (!records::is_dressing(lot.seed_treatment) && is_none(lot.seed_treatment))
    lot.seed_treatment.clear();
  lay_year("year", lot.harvest_year);
  lay_year("packed", lot.packed_year);
  if (const auto share = arguments.number("label")) lot.label_germination = share;
  if (const auto day = arguments.date("tested")) lot.label_tested_on = day;
  if (const auto seeds = arguments.number("per-gram")) lot.seeds_per_gram = seeds;
  if (arguments.flag("irreplaceable") && arguments.flag("replaceable"))
    throw WrongUsage("--irreplaceable and --replaceable are both given. Which is it?");
  if (arguments.flag("irreplaceable")) lot.irreplaceable = true;
  if (arguments.flag("replaceable")) lot.irreplaceable = false;
  lay_parents(arguments, lot);
  if (const auto forgotten = arguments.text("forget")) {
    if (*forgotten == "year") lot.harvest_year.reset();
    if (*forgotten == "packed") lot.packed_year.reset();
    if (*forgotten == "label") lot.label_germination.reset();
    if (*forgotten == "tested") lot.label_tested_on.reset();
    if (*forgotten == "per-gram") lot.seeds_per_gram.reset();
    if (*forgotten == "parent") lot.parents.clear();
  }
}

std::vector<std::string> differences(const records::Lot& before, const records::Lot& after) {
  std::vector<std::string> all;
  add(all, "name", before.code, after.code);
  add(all, "crop", before.crop, after.crop);
  add(all, "variety", before.variety, after.variety);
  add(all, "source", before.source, after.source);
  add(all, "harvest", year(before.harvest_year), year(after.harvest_year));
  add(all, "packed", year(before.packed_year), year(after.packed_year));
  add(all, "label", percent(before.label_germination), percent(after.label_germination));
  const auto day = [](const std::optional<records::Date>& date) {
    return date ? records::to_text(*date) : std::string();
  };
  add(all, "label tested on", day(before.label_tested_on), day(after.label_tested_on));
  add(all, "coating", before.coating, after.coating);
  add(all, "dressing", before.seed_treatment, after.seed_treatment);
  const auto figure = [](const std::optional<double>& value) {
    return value ? records::shown(*value) : std::string();
  };
  add(all, "seeds per gram", figure(before.seeds_per_gram), figure(after.seeds_per_gram));
  add(all, "irreplaceable", before.irreplaceable ? "yes" : "no",
      after.irreplaceable ? "yes" : "no");
  add(all, "from", parents(before), parents(after));
  return all;
}

std::vector<std::string> fill_new_lot(logbook::Logbook& logbook, const Arguments& arguments,
                                      records::Lot& lot) {
  std::vector<std::string> told;
  const bool split = lot.parents.size() == 1 && lot.parents[0].descent == records::Descent::split;
  if (split) {
    records::Lot parent = logbook::lot_named(logbook, lot.parents[0].lot);
    const std::vector<records::Parent> parents = lot.parents;
    parent.code = lot.code;
    parent.id = 0;
    parent.parents = parents;
    lay_fields(arguments, parent);
    lot = parent;
    told.push_back("Taken over from " + parents[0].lot + ", of which it is a part.");
    return told;
  }
  return told;
}

records::StockLine stock_line(const Arguments& arguments, const std::string& lot,
                              records::Date today) {
  const bool out = arguments.flag("out");
  records::StockLine line;
  line.lot = lot;
  line.on = arguments.date("on").value_or(today);
  if (const auto seeds = arguments.whole("seeds")) line.seeds = out ? -*seeds : *seeds;
  if (const auto grams = arguments.number("grams")) line.grams = out ? -*grams : *grams;
  line.reason = arguments.text("reason").value_or(out ? "taken out" : "bought");
  return line;
}

records::StorageSpan storage_span(const Arguments& arguments, const std::string& lot,
                                  logbook::Entry& entry) {
  DegreesTyped degrees(entry);
  records::StorageSpan span;
  span.lot = lot;
  span.since = arguments.date("on").value_or(entry.today());
  span.temperature_c = degrees.read(arguments, "kept-at", {-273, 90});
  degrees.settle();
  span.humidity = arguments.number("humidity");
  span.moisture = arguments.number("moisture");
  span.place = arguments.text("kept-in").value_or("");
  return span;
}

bool of_crop(const records::Lot& lot, const std::string& crop) {
  if (records::same_label(lot.crop, crop)) return true;
  const crops::Crop* wanted = crops::find_crop(crop).crop;
  return wanted != nullptr && crops::find_crop(lot.crop).crop == wanted;
}

}  // namespace plumule::cli
