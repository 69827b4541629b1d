// A line in the grower's own words about a sowing, a lot, a trial or a treatment.
#pragma once

#include <string>
#include <string_view>

#include "records/date.hpp"
#include "records/lot.hpp"

namespace plumule::records {

// Stored as these words.
enum class About { sowing, lot, trial, treatment };

struct Note {
  Id id = 0;
  About about = About::sowing;
  Id of = 0;  // the row of the sowing, lot, trial or treatment
  Date on{};
  std::string text = {};
  std::string by = {};
};

// A move of a sowing to another place, from that day on.
struct Move {
  Id id = 0;
  Date on{};
  std::string place = {};
};

// A picture kept beside the logbook: its path, not its pixels.
struct Photograph {
  Id id = 0;
  Date on{};
  std::string path = {};
  std::string caption = {};
};

}  // namespace plumule::records
