// A seed lot: one packet, jar or accession, with its stock and the places it was kept in.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "records/date.hpp"

namespace plumule::records {

using Id = std::int64_t;  // a row of the logbook; 0 where not yet saved

// How a lot came from others. A mixture has no single age; own harvest takes nothing over.
enum class Descent { own_harvest, split, mix };

struct Parent {
  std::string lot = {};
  Descent descent = Descent::split;
};

struct Lot {
  Id id = 0;
  std::string code = {};
  std::string crop = {};  // the grower's word for it, or the crop table's
  std::string variety = {};
  std::string source = {};
  std::vector<Parent> parents = {};
  std::optional<int> harvest_year = {};
  std::optional<int> packed_year = {};
  std::optional<double> label_germination = {};  // fraction, 0 to 1
  std::optional<Date> label_tested_on = {};
  std::string coating = {};         // pelleted, film; empty: none known
  std::string seed_treatment = {};  // what the seed was dressed with; empty: none known
  std::optional<double> seeds_per_gram = {};
  bool irreplaceable = false;
};

// One line of a lot's stock ledger: seeds or grams in (above 0) or out (below 0).
struct StockLine {
  Id id = 0;
  std::string lot = {};
  Date on{};
  std::optional<std::int64_t> seeds = {};
  std::optional<double> grams = {};
  std::string reason = {};  // bought, harvest, sown, given, lost, correction
  std::optional<Id> sowing = {};
};

// From a day on, where and how a lot was kept, until the next span begins.
struct StorageSpan {
  Id id = 0;
  std::string lot = {};
  Date since{};
  std::optional<double> temperature_c = {};
  std::optional<double> humidity = {};  // relative, fraction 0 to 1
  std::optional<double> moisture = {};  // of the seed, fraction of fresh weight
  std::string place = {};
};

// Whether a word for a seed treatment says that there is one: not "none", "untreated", "organic",
// "not treated" and the like.
bool is_dressing(std::string_view word);

// Throws Refused where a field cannot be: a code that is no label, a germination outside 0 to 1,
// a year before 1800 or a packing before the harvest, seeds per gram not above 0, a crop or variety
// beyond 64 letters.
void check(const Lot& lot);
void check(const StockLine& line);
void check(const StorageSpan& span);

}  // namespace plumule::records
