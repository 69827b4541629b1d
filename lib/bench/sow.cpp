// What is not given and can be known is taken, and told.
#include "bench/sow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "bench/cautions.hpp"
#include "bench/stock.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::bench {
namespace {

using records::Advice;
using records::Sowing;

// A number by weight where the lot's seeds a gram are known; else how many must be said.
void settle_units(Sowing& sowing, const ToSow& wanted, const std::optional<records::Lot>& lot) {
  if (sowing.units || wanted.number_not_known) return;
  if (sowing.grams && lot && lot->seeds_per_gram) {
    sowing.units = std::max<std::int64_t>(std::llround(*sowing.grams * *lot->seeds_per_gram), 1);
    sowing.units_known = records::UnitsKnown::estimated;
    return;
  }
  if (sowing.grams || sowing.metres) return;
  throw records::Refused("How many were sown?", {{Advice::say_how_many}});
}

Layout layout_of(const ToSow& wanted, const Treatments& treatments, std::vector<std::string> lots) {
  Layout layout;
  layout.lots = std::move(lots);
  for (const records::Treatment& treatment : treatments.all)
    layout.treatments.push_back(treatment.label);
  layout.blocks = wanted.blocks;
  if (layout.blocks.empty()) layout.blocks.emplace_back();
  layout.trays = wanted.trays;
  if (wanted.labels.empty() && layout.places() > most_trays)
    throw records::Refused(
        fmt::format("That would be {} trays; {} at a time is the most that is laid out.",
                    layout.places(), most_trays));
  layout.prefix = wanted.prefix;
  layout.in_order = wanted.in_order;
  if (!layout.in_order) layout.draw = wanted.draw ? *wanted.draw : std::random_device{}() % 100000;
  return layout;
}

std::vector<Place> places_of(logbook::Logbook& logbook, const ToSow& wanted, const Layout& layout) {
  if (wanted.labels.empty()) {
    std::vector<std::string> taken;
    for (const Sowing& open : logbook::open_sowings(logbook)) taken.push_back(open.label);
    return lay_out(layout, taken);
  }
  if (layout.lots.size() > 1 || layout.treatments.size() > 1 || layout.blocks.size() > 1)
    throw records::Refused(
        "Of trays that are labelled there is one lot, one treatment, one block.");
  std::vector<Place> places;
  for (const std::string& label : wanted.labels) {
    for (const Place& place : places)
      if (records::same_label(place.label, label))
        throw records::Refused(label + " is given twice.");
    places.push_back({label, layout.lots[0], layout.treatments[0], layout.blocks[0]});
  }
  return places;
}

// Where the label is open, the earlier of the two is sown over, if that was said. A day given wrong
// would else close at once what stands on the bench.
void make_room(logbook::Entry& entry, const ToSow& wanted, Sowing& sowing, Sown& sown) {
  const auto open = logbook::find_sowing(entry.logbook(), sowing.label);
  if (!open || !open->open()) return;
  if (open->sown.date > sowing.sown.date) {
    const std::string later = records::spoken(open->sown.date, true);
    if (!wanted.over) {
      records::Refusal refusal{fmt::format("{} is open: sown on {}, after {}.", open->label, later,
                                           records::spoken(sowing.sown.date, true)),
                               {}};
      if (open->sown.date < entry.today()) refusal.hints.push_back({Advice::other_day});
      refusal.hints.push_back(
          {.advice = Advice::sow_over_by_later, .at = sowing.sown, .said = later});
      refusal.hints.push_back({Advice::give_other_label});
      throw records::Refused(std::move(refusal));
    }
    const auto next = logbook::sown_next(entry.logbook(), sowing.label, sowing.sown);
    sowing.ending = {records::EndingKind::sown_over, next ? next->sown : open->sown, {}};
    sown.over_already.push_back(sowing);
  } else if (wanted.over) {
    logbook::end_sowing(entry, open->id, {records::EndingKind::sown_over, sowing.sown, {}});
  }
}

std::int64_t last_on_bench(logbook::Logbook& logbook) {
  std::int64_t last = 0;
  for (const Sowing& open : logbook::open_sowings(logbook)) last = std::max(last, open.bench_order);
  return last;
}

Sowing sowing_at(const Place& place, const ToSow& wanted, const Sown& sown) {
  Sowing sowing = wanted.each;
  sowing.label = place.label;
  sowing.lot = place.lot;
  sowing.treatment = place.treatment;
  sowing.trial = sown.trial.code;
  sowing.block = place.block;
  const auto& treatments = sown.treatments.all;
  const auto treatment = std::find_if(treatments.begin(), treatments.end(), [&](const auto& one) {
    return one.label == place.treatment;
  });
  // Sown dry beside what was soaked: the soak is not theirs.
  if (treatments.size() > 1 && treatment->soak_hours.value_or(0) == 0) sowing.wetted.reset();
  refuse_other_soak(*treatment, sowing);
  return sowing;
}

}  // namespace

Sown sow(logbook::Entry& entry, const ToSow& wanted) {
  logbook::Logbook& logbook = entry.logbook();
  Sown sown;
  std::vector<std::string> lots = wanted.lots;
  for (std::string& lot : lots) lot = logbook::lot_named(logbook, lot).code;
  sown.treatments = treatments_for(entry, wanted.treatments);
  for (const records::Treatment& treatment : sown.treatments.all)
    add_cautions(sown.cautions, cautions_for(treatment));
  if (wanted.each.setting == records::Setting::towel ||
      wanted.each.setting == records::Setting::dish)
    add_cautions(sown.cautions, {crops::caution_about(crops::Hazard::tested_seedlings)});
  sown.trial = choose_trial(entry, wanted.trial, lots, wanted.each.sown.date);
  if (lots.empty()) lots.emplace_back();
  const Layout layout = layout_of(wanted, sown.treatments, lots);
  const std::vector<Place> places = places_of(logbook, wanted, layout);
  const bool whole_trial = wanted.labels.empty();
  sown.labels_go_on = whole_trial && layout.prefix.empty() && places.front().label != "A1";
  if (whole_trial && layout.prefix.empty()) sown.passed_over = letters_passed_over(places);
  if (whole_trial && !layout.in_order && layout.lots.size() * layout.treatments.size() > 1)
    sown.draw = layout.draw;
  std::int64_t order = last_on_bench(logbook);
  for (const Place& place : places) {
    Sowing sowing = sowing_at(place, wanted, sown);
    sowing.bench_order = wanted.order ? *wanted.order : ++order;
    std::optional<records::Lot> lot;
    if (!sowing.lot.empty()) {
      lot = logbook::lot_named(logbook, sowing.lot);
      add_cautions(sown.cautions, cautions_of_dressing(*lot));
      if (sowing.crop.empty()) sowing.crop = lot->crop;  // another crop is refused with the lot
      if (sowing.variety.empty()) sowing.variety = lot->variety;
    }
    const bool told = sowing.units.has_value();
    settle_units(sowing, wanted, lot);
    if (sown.all.empty()) {
      sown.nothing_named = sowing.lot.empty() && sowing.crop.empty();
      if (!told) sown.by_weight = sowing.units;
    }
    if (const std::string jar = jar_of(wanted.jars, layout.treatments.size(), sowing); !jar.empty())
      put_in_jar(entry, jar, sowing);
    make_room(entry, wanted, sowing, sown);
    sowing.id = logbook::add_sowing(entry, sowing);
    take_from_stock(entry, sowing);
    sown.all.push_back(sowing);
  }
  drop_overlapping(sown.cautions);
  return sown;
}

}  // namespace plumule::bench
