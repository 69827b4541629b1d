// What was sown, where and how it is counted: from options to a sowing.
#include "cli/options/sowing_fields.hpp"

#include <fmt/format.h>

#include "cli/showing/wording.hpp"
#include "records/number_check.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

constexpr std::string_view fields[] = {"crop",     "variety",  "seeds",     "clusters", "cells",
                                       "per-cell", "about",    "unknown",   "grams",    "metres",
                                       "setting",  "counting", "wetted",    "depth",    "medium",
                                       "place",    "order",    "taken-out", "left-in"};

void lay_units(const Arguments& arguments, records::Sowing& sowing) {
  const std::pair<std::string_view, records::UnitKind> kinds[] = {
      {"seeds", records::UnitKind::seed},
      {"clusters", records::UnitKind::cluster},
      {"cells", records::UnitKind::cell}};
  bool given = false;
  for (const auto& [name, kind] : kinds) {
    if (!arguments.has(name)) continue;
    if (given) throw WrongUsage("Seeds, clusters or cells: give the number of one of them.");
    given = true;
    sowing.units = arguments.whole(name);
    sowing.unit = kind;
    sowing.units_known = records::UnitsKnown::exact;
    if (kind != records::UnitKind::cell) sowing.seeds_per_cell = 1;
  }
  if (arguments.flag("unknown")) {
    if (given) throw WrongUsage("A number sown is given, and --unknown too. Which is it?");
    sowing.units.reset();
    sowing.units_known = records::UnitsKnown::unknown;
  }
  if (arguments.flag("about")) {
    if (!sowing.units) throw WrongUsage("--about goes with a number: --seeds 400 --about.");
    sowing.units_known = records::UnitsKnown::estimated;
  }
  if (const auto seeds = arguments.whole("per-cell"))
    sowing.seeds_per_cell = static_cast<int>(*seeds);
  if (const auto grams = arguments.number("grams")) sowing.grams = grams;
  if (const auto metres = arguments.number("metres")) sowing.metres = metres;
}

void add(std::vector<std::string>& to, std::string_view name, const std::string& before,
         const std::string& after) {
  if (before == after) return;
  to.push_back(fmt::format("{}: {}, was {}", name, after.empty() ? "none" : after,
                           before.empty() ? "none" : before));
}

}  // namespace

void declare_sowing_fields(Options& options) {
  options.heading("What was sown, and how many");
  options.text("crop", "CROP", "what it is, where no lot is recorded");
  options.text("variety", "NAME", "its variety, likewise");
  options.whole("seeds", "N", "seeds sown");
  options.whole("clusters", "N", "clusters sown (beet, chard), each of several seeds");
  options.whole("cells", "N", "cells sown");
  options.whole("per-cell", "N", "seeds in a cell; else 1", 1, 1000);
  options.flag("about", "the number is an estimate");
  options.flag("unknown", "nobody knows how many");
  options.number("grams", "G", "sown by weight");
  options.number("metres", "M", "metres of row");
  options.heading("Where, and how it is counted");
  options.choice("setting", "WHERE", {"towel", "dish", "tray", "cells", "pot", "row"},
                 "else a tray");
  options.choice("counting", "WHAT", {"root", "shoot", "usable"},
                 "what counts as up; else the shoot, on a towel or in a dish the root");
  options.flag("taken-out", "sprouts are taken out at each look");
  options.flag("left-in", "they are not");
  options.number("depth", "MM", "sowing depth in mm");
  options.text("medium", "WORDS", "compost, sand ...");
  options.text("place", "WORDS", "bench, bed ...");
  options.whole("order", "N", "its turn on the bench");
  for (const char* name : {"variety", "medium", "place"}) options.erasable(name);
}

bool gives_sowing_fields(const Arguments& arguments) {
  for (const std::string_view name : fields)
    if (arguments.has(name)) return true;
  return false;
}

void lay_fields(const Arguments& arguments, records::Sowing& sowing) {
  if (const auto text = arguments.text("crop")) sowing.crop = *text;
  if (const auto text = arguments.text("variety")) sowing.variety = *text;
  lay_units(arguments, sowing);
  if (const auto word = arguments.text("setting"))
    sowing.setting = *records::from_word<records::Setting>(*word);
  if (const auto word = arguments.text("counting"))
    sowing.counting = *records::from_word<records::Counting>(*word);
  if (arguments.flag("taken-out") && arguments.flag("left-in"))
    throw WrongUsage("--taken-out and --left-in are both given. Which is it?");
  if (arguments.flag("taken-out")) sowing.taken_out = true;
  if (arguments.flag("left-in")) sowing.taken_out = false;
  if (const auto at = arguments.moment("wetted")) sowing.wetted = at;
  if (const auto depth = arguments.number("depth")) sowing.depth_mm = depth;
  if (const auto text = arguments.text("medium")) sowing.medium = *text;
  if (const auto text = arguments.text("place")) sowing.place = *text;
  if (const auto order = arguments.whole("order")) sowing.bench_order = *order;
}

std::vector<std::string> differences(const records::Sowing& before, const records::Sowing& after) {
  std::vector<std::string> all;
  add(all, "label", before.label, after.label);
  add(all, "sown", records::to_text(before.sown), records::to_text(after.sown));
  add(all, "lot", before.lot, after.lot);
  add(all, "crop", before.crop, after.crop);
  add(all, "variety", before.variety, after.variety);
  add(all, "sown number", sown_amount(before), sown_amount(after));
  add(all, "treatment", before.treatment, after.treatment);
  add(all, "jar", before.batch, after.batch);
  add(all, "trial", before.trial, after.trial);
  add(all, "block", before.block, after.block);
  add(all, "setting", std::string(records::word(before.setting)),
      std::string(records::word(after.setting)));
  add(all, "counting", std::string(records::word(before.counting)),
      std::string(records::word(after.counting)));
  add(all, "sprouts taken out", before.taken_out ? "yes" : "no", after.taken_out ? "yes" : "no");
  const auto moment = [](const std::optional<records::Moment>& at) {
    return at ? records::to_text(*at) : std::string();
  };
  add(all, "wetted", moment(before.wetted), moment(after.wetted));
  const auto depth = [](const std::optional<double>& mm) {
    return mm ? records::shown(*mm) + " mm" : std::string();
  };
  add(all, "depth", depth(before.depth_mm), depth(after.depth_mm));
  add(all, "medium", before.medium, after.medium);
  add(all, "place", before.place, after.place);
  add(all, "turn on the bench", std::to_string(before.bench_order),
      std::to_string(after.bench_order));
  return all;
}

}  // namespace plumule::cli
