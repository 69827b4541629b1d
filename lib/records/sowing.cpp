#include "records/sowing.hpp"

#include "records/number_check.hpp"
#include "records/refused.hpp"
#include "records/text_check.hpp"

namespace plumule::records {
namespace {

void check_units(const Sowing& sowing, const std::string& name) {
  if (sowing.units_known == UnitsKnown::unknown) {
    if (sowing.units)
      throw Refused(name + "a number sown is given, and said to be unknown. Which is it?");
  } else if (!sowing.units) {
    throw Refused(name + "how many were sown? Give the number, or say that it is unknown.");
  } else if (*sowing.units < 1) {
    throw Refused(name + std::to_string(*sowing.units) + " sown cannot be; it is 1 at least.");
  } else if (*sowing.units > most_units) {
    throw Refused(name + std::to_string(*sowing.units) +
                  " sown is absurd; 1,000,000,000 is the most that is taken.");
  }
  refuse_outside(name + "grams sown", sowing.grams, 0, 1e9, Ends::both_open);
  refuse_outside(name + "metres of row", sowing.metres, 0, 1e9, Ends::both_open);
  if (sowing.seeds_per_cell < 1 || sowing.seeds_per_cell > 1000)
    throw Refused(name + std::to_string(sowing.seeds_per_cell) +
                  " seeds in a cell cannot be; it is 1 to 1000.");
  if (sowing.unit != UnitKind::cell && sowing.seeds_per_cell != 1)
    throw Refused(name + "seeds in a cell are given, but its units are not cells.");
}

}  // namespace

std::string Sowing::dated_label() const { return label + '@' + to_text(sown.date); }

void check(const Sowing& sowing) {
  if (!is_label(sowing.label)) throw Refused("Sowing: " + label_trouble(sowing.label) + '.');
  const std::string name = sowing.label + ": ";
  check_units(sowing, name);
  refuse_long(name + "the crop", sowing.crop, longest_name);
  refuse_long(name + "the variety", sowing.variety, longest_name);
  refuse_long(name + "the place", sowing.place, longest_name);
  refuse_long(name + "the medium", sowing.medium, longest_words);
  refuse_outside(name + "the depth in mm", sowing.depth_mm, 0, 10'000);
  if (!is_label(sowing.treatment))
    throw Refused(name + "its treatment: " + label_trouble(sowing.treatment) + '.');
  if (!sowing.block.empty()) {
    if (sowing.trial.empty())
      throw Refused(name + "block " + sowing.block + " is of no trial. Name the trial too.");
    if (!is_label(sowing.block))
      throw Refused(name + "its block: " + label_trouble(sowing.block) + '.');
  }
  if (sowing.wetted && earlier(sowing.sown, *sowing.wetted))
    throw Refused(name + "wetted on " + spoken(sowing.wetted->date, true) +
                  ", after it was sown on " + spoken(sowing.sown.date, true) +
                  ". A soak comes before the sowing.");
  if (sowing.ending && earlier(sowing.ending->at, sowing.sown))
    throw Refused(name + "ended on " + spoken(sowing.ending->at.date, true) +
                  ", before it was sown on " + spoken(sowing.sown.date, true) + '.');
}

}  // namespace plumule::records
