#include "records/lot.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "records/label.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"
#include "records/text_check.hpp"

namespace plumule::records {
namespace {

constexpr std::array no_dressing = {"no",      "non",       "none",      "not",
                                    "nothing", "nil",       "untreated", "organic",
                                    "natural", "undressed", "unknown",   "without"};

}  // namespace

bool is_dressing(std::string_view word) {
  std::string first;
  for (const char c : word) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    if (letter)
      first += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    else if (!first.empty())
      break;
  }
  // A name in other letters, or a number, is taken for a product.
  if (word == "n/a") return false;
  if (first.empty()) return word.find_first_not_of(" -/.") != std::string_view::npos;
  return std::find(no_dressing.begin(), no_dressing.end(), first) == no_dressing.end();
}

void check(const Lot& lot) {
  if (!is_label(lot.code)) throw Refused("Lot: " + label_trouble(lot.code) + '.');
  const std::string name = "Lot " + lot.code + ": ";
  refuse_long(name + "the crop", lot.crop, longest_name);
  refuse_long(name + "the variety", lot.variety, longest_name);
  refuse_long(name + "the source", lot.source, longest_words);
  refuse_long(name + "the coating", lot.coating, longest_words);
  refuse_long(name + "the dressing", lot.seed_treatment, longest_words);
  for (const auto& year : {lot.harvest_year, lot.packed_year})
    if (year && (*year < 1800 || *year > 9999))
      throw Refused(name + "the year " + std::to_string(*year) +
                    " cannot be; write all four digits, such as 2024.");
  if (lot.harvest_year && lot.packed_year && *lot.packed_year < *lot.harvest_year)
    throw Refused(name + "packed in " + std::to_string(*lot.packed_year) +
                  ", before its harvest in " + std::to_string(*lot.harvest_year) +
                  ". One of the two years is wrong.");
  if (lot.label_germination && !(*lot.label_germination >= 0 && *lot.label_germination <= 1))
    throw Refused(name + "a germination of " + shown(*lot.label_germination * 100) +
                  " % cannot be; it lies between 0 and 100 %.");
  refuse_outside(name + "seeds per gram", lot.seeds_per_gram, 0, 1e9, Ends::both_open);
  for (const Parent& parent : lot.parents) {
    if (!is_label(parent.lot))
      throw Refused(name + "its parent: " + label_trouble(parent.lot) + '.');
    if (same_label(parent.lot, lot.code)) throw Refused(name + "a lot is not its own parent.");
  }
}

void check(const StockLine& line) {
  const std::string name = "Lot " + line.lot + ": ";
  if (!line.seeds && !line.grams)
    throw Refused(name + "a line of its stock needs a number of seeds or a weight.");
  if (line.seeds && std::abs(*line.seeds) > 1'000'000'000'000)
    throw Refused(name + std::to_string(*line.seeds) + " seeds is more than anybody keeps.");
  refuse_outside(name + "grams of stock", line.grams, -1e12, 1e12, Ends::both_open);
  if (line.reason.empty())
    throw Refused(name +
                  "a line of its stock needs a reason, such as bought, harvest, given, lost.");
}

void check(const StorageSpan& span) {
  const std::string name = "Lot " + span.lot + ": ";
  refuse_outside(name + "the temperature it is kept at (C)", span.temperature_c, -273, 90);
  refuse_outside(name + "the relative humidity (a fraction)", span.humidity, 0, 1);
  refuse_outside(name + "the moisture of the seed (a fraction)", span.moisture, 0, 1);
  if (!span.temperature_c && !span.humidity && !span.moisture && span.place.empty())
    throw Refused(name + "say where it is kept, or at what temperature, humidity or moisture.");
}

}  // namespace plumule::records
