// From options to sowings: what is not typed and can be known is taken, and told.
#include "cli/sowing_out.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "cli/layout.hpp"
#include "cli/options/sowing_fields.hpp"
#include "cli/options/treatment_fields.hpp"
#include "cli/options/trial_fields.hpp"
#include "cli/showing/cautions.hpp"
#include "cli/showing/wording.hpp"
#include "cli/stock_taking.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

std::vector<std::string> blocks_typed(const Arguments& arguments) {
  std::vector<std::string> blocks = arguments.texts("block");
  if (const auto count = arguments.whole("blocks")) {
    if (!blocks.empty()) throw WrongUsage("--block and --blocks are both given. Which is it?");
    for (std::int64_t i = 1; i <= *count; ++i) blocks.push_back(std::to_string(i));
  }
  if (blocks.empty()) blocks.emplace_back();
  return blocks;
}

// What every tray of this command has in common.
records::Sowing common(const Arguments& arguments, const Context& context) {
  records::Sowing sowing;
  sowing.units_known = records::UnitsKnown::unknown;
  lay_fields(arguments, sowing);
  if (!arguments.has("counting") &&
      (sowing.setting == records::Setting::towel || sowing.setting == records::Setting::dish))
    sowing.counting = records::Counting::root_seen;
  sowing.sown = arguments.moment("on").value_or(records::Moment{context.today, {}});
  return sowing;
}

// A number by weight where the lot's seeds a gram are known; else how many must be said.
void settle_units(records::Sowing& sowing, const Arguments& arguments,
                  const std::optional<records::Lot>& lot, std::vector<std::string>& told) {
  if (sowing.units || arguments.flag("unknown")) return;
  if (sowing.grams && lot && lot->seeds_per_gram) {
    sowing.units = std::max<std::int64_t>(std::llround(*sowing.grams * *lot->seeds_per_gram), 1);
    sowing.units_known = records::UnitsKnown::estimated;
    told.push_back(fmt::format("About {}, by the weight and the lot's seeds a gram.",
                               number_of(*sowing.units, "seed")));
    return;
  }
  if (sowing.grams || sowing.metres) return;
  throw records::Refused(
      "How many were sown? --seeds 50, --clusters 30 or --cells 24; where nobody knows, --grams, "
      "--metres or --unknown.");
}

Plan plan_typed(const Arguments& arguments, const Treatments& treatments,
                std::vector<std::string> lots) {
  Plan plan;
  plan.lots = std::move(lots);
  for (const records::Treatment& treatment : treatments.all)
    plan.treatments.push_back(treatment.label);
  plan.blocks = blocks_typed(arguments);
  plan.trays = static_cast<int>(arguments.whole("trays").value_or(1));
  constexpr std::size_t most = 10'000;  // beyond any bench
  const std::size_t all = plan.blocks.size() * static_cast<std::size_t>(plan.trays) *
                          plan.lots.size() * plan.treatments.size();
  if (arguments.words().empty() && all > most)
    throw records::Refused(fmt::format(
        "That would be {} trays; {} at a time is the most that is laid out.", all, most));
  plan.prefix = arguments.text("labels").value_or("");
  plan.in_order = arguments.flag("in-order");
  if (!plan.in_order) {
    const auto typed = arguments.whole("draw");
    plan.draw = typed ? static_cast<std::uint64_t>(*typed) : std::random_device{}() % 100000;
  }
  return plan;
}

std::vector<Place> places_typed(logbook::Logbook& logbook, const Arguments& arguments,
                                const Plan& plan) {
  if (arguments.words().empty()) {
    std::vector<std::string> taken;
    for (const records::Sowing& open : logbook::open_sowings(logbook)) taken.push_back(open.label);
    return lay_out(plan, taken);
  }
  if (plan.lots.size() > 1 || plan.treatments.size() > 1 || plan.blocks.size() > 1)
    throw WrongUsage(
        "Labels are given, so there is one lot, one treatment and one block. For a whole trial "
        "leave the labels out: they are made.");
  std::vector<Place> places;
  for (const std::string& label : arguments.words()) {
    for (const Place& place : places)
      if (records::same_label(place.label, label))
        throw WrongUsage(fmt::format("{} is typed twice.", label));
    places.push_back({label, plan.lots[0], plan.treatments[0], plan.blocks[0]});
  }
  return places;
}

// Where the label is open, the earlier of the two is sown over, if that was said. A day typed wrong
// would else close at once what stands on the bench.
void make_room(logbook::Entry& entry, const Arguments& arguments, records::Sowing& sowing,
               std::vector<std::string>& told) {
  const auto open = logbook::find_sowing(entry.logbook(), sowing.label);
  if (!open || !open->open()) return;
  if (open->sown.date > sowing.sown.date) {
    if (!arguments.flag("over"))
      throw records::Refused(fmt::format(
          "{0} is open: sown on {1}, after {2}. Another day meant? --on DATE. Sown on {2} all the "
          "same, and over by {1}? Add --over. Another tray? Give it another label.",
          open->label, records::spoken(open->sown.date, true),
          records::spoken(sowing.sown.date, true)));
    const auto next = logbook::sown_next(entry.logbook(), sowing.label, sowing.sown);
    sowing.ending = {records::EndingKind::sown_over, next ? next->sown : open->sown, {}};
    told.push_back(fmt::format(
        "{0} is closed as sown over on {1}, when {2} was sown again; plumule "
        "end {0} says how it truly ended.",
        sowing.dated_label(), records::spoken(sowing.ending->at.date, true), sowing.label));
  } else if (arguments.flag("over")) {
    logbook::end_sowing(entry, open->id, {records::EndingKind::sown_over, sowing.sown, {}});
  }
}

std::string jar_of(const Arguments& arguments, const Plan& plan, const records::Sowing& sowing) {
  // Sown beside treated seed, the untreated went through no jar; sown alone it may have (a mat).
  const bool beside = plan.treatments.size() > 1 || arguments.flag("own-jars");
  if (sowing.treatment == records::untreated && beside) return {};
  if (arguments.flag("own-jars")) return sowing.label + "-" + records::to_text(sowing.sown.date);
  const std::string jar = arguments.text("jar").value_or("");
  return jar.empty() || plan.treatments.size() == 1 ? jar : jar + "-" + sowing.treatment;
}

std::int64_t last_on_bench(logbook::Logbook& logbook) {
  std::int64_t last = 0;
  for (const records::Sowing& open : logbook::open_sowings(logbook))
    last = std::max(last, open.bench_order);
  return last;
}

}  // namespace

Sown sow(logbook::Entry& entry, const Context& context, const Arguments& arguments) {
  Sown sown;
  std::vector<std::string> lots = arguments.texts("lot");
  for (std::string& lot : lots) lot = logbook::lot_named(entry.logbook(), lot).code;
  const records::Sowing base = common(arguments, context);
  const Treatments treatments = treatments_typed(entry, arguments);
  for (const std::string& label : treatments.made)
    sown.told.push_back(fmt::format("Treatment {} is new.", label));
  for (const records::Treatment& treatment : treatments.all)
    add_cautions(sown.cautions, cautions_for(treatment));
  if (base.setting == records::Setting::towel || base.setting == records::Setting::dish)
    add_cautions(sown.cautions, {crops::caution_about(crops::Hazard::tested_seedlings)});
  const bool whole_trial = arguments.words().empty();
  if (whole_trial && !arguments.has("trial") && !arguments.has("labels") &&
      !arguments.has("trays") && !arguments.has("blocks"))
    throw WrongUsage(
        "What is its label? plumule sow A1 --lot LOT --seeds 50. For a whole trial: --trial NAME.");
  const ChosenTrial trial = trial_typed(entry, arguments, lots, base.sown.date, whole_trial);
  if (trial.made) sown.told.push_back(fmt::format("Trial {} is new.", trial.code));
  if (!trial.hint.empty()) sown.told.push_back(trial.hint);
  if (lots.empty()) lots.emplace_back();

  const Plan plan = plan_typed(arguments, treatments, lots);
  const std::vector<Place> places = places_typed(entry.logbook(), arguments, plan);
  if (whole_trial && plan.prefix.empty() && places.front().label != "A1")
    sown.told.push_back(fmt::format(
        "The labels begin with {}: open sowings have those before it. --labels TEXT names others.",
        places.front().label));
  if (whole_trial && !plan.in_order && plan.lots.size() * plan.treatments.size() > 1)
    sown.draw = plan.draw;
  std::int64_t order = last_on_bench(entry.logbook());
  for (const Place& place : places) {
    records::Sowing sowing = base;
    sowing.label = place.label;
    sowing.lot = place.lot;
    sowing.treatment = place.treatment;
    sowing.trial = trial.code;
    sowing.block = place.block;
    const auto treatment =
        std::find_if(treatments.all.begin(), treatments.all.end(),
                     [&](const auto& one) { return one.label == place.treatment; });
    // Sown dry beside what was soaked: the soak is not theirs.
    if (treatments.all.size() > 1 && treatment->soak_hours.value_or(0) == 0) sowing.wetted.reset();
    check_wetting(*treatment, sowing);
    if (!arguments.has("order")) sowing.bench_order = ++order;
    std::optional<records::Lot> lot;
    if (!sowing.lot.empty()) {
      lot = logbook::lot_named(entry.logbook(), sowing.lot);
      add_cautions(sown.cautions, cautions_of_dressing(*lot));
      if (!arguments.has("crop")) sowing.crop = lot->crop;  // another crop is refused with the lot
      if (!arguments.has("variety")) sowing.variety = lot->variety;
    }
    if (sowing.lot.empty() && sowing.crop.empty() && sown.all.empty())
      sown.told.push_back(
          fmt::format("Neither lot nor crop is named, so nothing can be said of it beyond itself: "
                      "plumule amend {} --lot LOT",
                      sowing.label));
    std::vector<std::string> told;
    settle_units(sowing, arguments, lot, told);
    if (sown.all.empty()) sown.told.insert(sown.told.end(), told.begin(), told.end());
    if (const std::string jar = jar_of(arguments, plan, sowing); !jar.empty())
      put_in_jar(entry, jar, sowing);
    make_room(entry, arguments, sowing, sown.told);
    sowing.id = logbook::add_sowing(entry, sowing);
    take_from_stock(entry, sowing);
    sown.all.push_back(sowing);
  }
  drop_overlapping(sown.cautions);
  return sown;
}

}  // namespace plumule::cli
