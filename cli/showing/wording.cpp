// Words only: nothing here decides anything.
#include "cli/showing/wording.hpp"

#include "records/number_check.hpp"
#include "records/treatment.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

void add(std::string& text, std::string_view part) {
  if (part.empty()) return;
  if (!text.empty()) text += ", ";
  text += part;
}

std::string place_of(records::Setting setting) {
  switch (setting) {
    case records::Setting::towel:
      return "on a towel";
    case records::Setting::dish:
      return "in a dish";
    case records::Setting::tray:
      return "in a tray";
    case records::Setting::cells:
      return "in cells";
    case records::Setting::pot:
      return "in a pot";
    case records::Setting::row:
      return "in a row";
  }
  return "";
}

}  // namespace

std::string number_of(std::int64_t count, std::string_view one, std::string_view many) {
  std::string text = std::to_string(count) + " ";
  if (count == 1 || count == -1) return text.append(one);
  return many.empty() ? text.append(one).append("s") : text.append(many);
}

std::string up_of(const records::Sowing& sowing, std::int64_t total) {
  std::string text = total == 0 ? "none" : std::to_string(total);
  if (sowing.units) text += " of " + std::to_string(*sowing.units);
  return text + " up";
}

std::string sown_amount(const records::Sowing& sowing) {
  std::string text;
  if (sowing.units) {
    if (sowing.units_known == records::UnitsKnown::estimated) text = "about ";
    text += number_of(*sowing.units, records::word(sowing.unit));
    if (sowing.unit == records::UnitKind::cell && sowing.seeds_per_cell > 1)
      text += " of " + number_of(sowing.seeds_per_cell, "seed");
  }
  if (sowing.grams) add(text, records::shown(*sowing.grams) + " g");
  if (sowing.metres) add(text, records::shown(*sowing.metres) + " m of row");
  return text.empty() ? "an unknown number" : text;
}

std::string described(const records::Sowing& sowing) {
  std::string text = sown_amount(sowing);
  std::string kind = sowing.crop;
  add(kind, sowing.variety);
  if (!sowing.lot.empty()) {
    text += " of " + sowing.lot;
    if (!kind.empty()) text += " (" + kind + ")";
  } else if (!kind.empty()) {
    text += " of " + kind;
  }
  text += " " + place_of(sowing.setting);
  if (sowing.treatment != records::untreated) add(text, sowing.treatment);
  if (!sowing.batch.empty()) add(text, "jar " + sowing.batch);
  if (!sowing.trial.empty()) add(text, "trial " + sowing.trial);
  if (!sowing.block.empty()) text += " block " + sowing.block;
  if (!sowing.place.empty()) add(text, "at " + sowing.place);
  return text;
}

std::string name_of(const records::Sowing& sowing) {
  return sowing.open() ? sowing.label : sowing.dated_label();
}

std::string described(const records::Lot& lot) {
  std::string text = lot.crop;
  add(text, lot.variety);
  if (lot.harvest_year) add(text, "harvest " + std::to_string(*lot.harvest_year));
  if (lot.packed_year) add(text, "packed " + std::to_string(*lot.packed_year));
  if (lot.label_germination)
    add(text, "label " + records::shown(*lot.label_germination * 100) + " %");
  return text.empty() ? "nothing known of it" : text;
}

}  // namespace plumule::cli
