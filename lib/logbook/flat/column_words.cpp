// Usual words of spreadsheets: common practice, no source.
#include "logbook/flat/column_words.hpp"

#include <array>

namespace plumule::logbook {
namespace {

struct Word {
  std::string_view said;
  std::string_view column;
};

constexpr std::array words = {
    Word{"tray", "sowing"},
    Word{"label", "sowing"},
    Word{"plot", "sowing"},
    Word{"tray_id", "sowing"},
    Word{"id", "sowing"},
    Word{"sown", "sown_on"},
    Word{"sowed", "sown_on"},
    Word{"planted", "sown_on"},
    Word{"planted_on", "sown_on"},
    Word{"sow_date", "sown_on"},
    Word{"sowing_date", "sown_on"},
    Word{"date_sown", "sown_on"},
    Word{"sown_date", "sown_on"},
    Word{"planting_date", "sown_on"},
    Word{"date", "counted_on"},
    Word{"day", "counted_on"},
    Word{"count_date", "counted_on"},
    Word{"date_counted", "counted_on"},
    Word{"counted", "counted_on"},
    Word{"looked_on", "counted_on"},
    Word{"checked", "counted_on"},
    Word{"up", "emerged"},
    Word{"total", "emerged"},
    Word{"total_up", "emerged"},
    Word{"count", "emerged"},
    Word{"germinated", "emerged"},
    Word{"sprouted", "emerged"},
    Word{"emergence", "emerged"},
    Word{"new", "newly_emerged"},
    Word{"new_up", "newly_emerged"},
    Word{"newly_up", "newly_emerged"},
    Word{"new_today", "newly_emerged"},
    Word{"died", "lost"},
    Word{"dead", "lost"},
    Word{"number", "seeds"},
    Word{"n", "seeds"},
    Word{"seed", "seeds"},
    Word{"seeds_sown", "seeds"},
    Word{"no_of_seeds", "seeds"},
    Word{"number_sown", "seeds"},
    Word{"seed_lot", "lot"},
    Word{"packet", "lot"},
    Word{"batch", "treated_in"},
    Word{"jar", "treated_in"},
    Word{"species", "crop"},
    Word{"plant", "crop"},
    Word{"vegetable", "crop"},
    Word{"cultivar", "variety"},
    Word{"experiment", "trial"},
    Word{"replicate", "block"},
    Word{"rep", "block"},
    Word{"soak", "soak_hours"},
    Word{"soaked", "soak_hours"},
    Word{"soaking", "soak_hours"},
    Word{"temperature", "soil_temp_c"},
    Word{"temp", "soil_temp_c"},
    Word{"soil_temp", "soil_temp_c"},
    Word{"soil_temperature", "soil_temp_c"},
    Word{"temp_c", "soil_temp_c"},
    Word{"temp_f", "soil_temp_f"},
    Word{"temperature_f", "soil_temp_f"},
    Word{"soil_temperature_f", "soil_temp_f"},
    Word{"location", "place"},
    Word{"bench", "place"},
    Word{"bed", "place"},
    Word{"counted_by_whom", "counted_by"},
    Word{"by", "counted_by"},
    Word{"who", "counted_by"},
    Word{"observer", "counted_by"},
    Word{"notes", "note"},
    Word{"comment", "note"},
    Word{"comments", "note"},
    Word{"remarks", "note"},
};

}  // namespace

std::string_view column_meant_by(std::string_view name) {
  for (const Word& word : words)
    if (word.said == name) return word.column;
  return {};
}

}  // namespace plumule::logbook
