// A sowing's own fields as options, for `sow` and `amend` alike: declared, laid over a sowing, and
// told apart.
#pragma once

#include <string>
#include <vector>

#include "cli/options/arguments.hpp"
#include "records/sowing.hpp"

namespace plumule::cli {

void declare_sowing_fields(Options& options);
bool gives_sowing_fields(const Arguments& arguments);

// Lays what was typed over the sowing. Throws WrongUsage where two things are said at once.
void lay_fields(const Arguments& arguments, records::Sowing& sowing);

// Each field that differs, in words: "seeds: 50, was 40".
std::vector<std::string> differences(const records::Sowing& before, const records::Sowing& after);

}  // namespace plumule::cli
