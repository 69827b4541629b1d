// Laying out and entering what was sown, from options: one tray, several alike, or a whole trial.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "cli/command.hpp"
#include "crops/caution.hpp"
#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

struct Sown {
  std::vector<records::Sowing> all;
  std::vector<std::string> told;  // defaults that were taken, and what was made
  std::vector<crops::Caution> cautions;
  std::optional<std::uint64_t> draw;  // the number that draws the same order again
};

// Makes the treatments, jars and the trial that are new, adds every sowing and takes it from its
// lot's stock. Throws WrongUsage or records::Refused; nothing is committed here.
Sown sow(logbook::Entry& entry, const Context& context, const Arguments& arguments);

}  // namespace plumule::cli
