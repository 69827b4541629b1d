// Taking a flat log in and saying what came of it, for `import` and `demo`.
#pragma once

#include <string_view>

#include "cli/showing/json.hpp"
#include "logbook/flat/log.hpp"

namespace plumule::cli {

logbook::ImportOptions import_options();  // with the crop tables behind it
logbook::Reader reader_of(std::string_view text);

// "6 sowings, 3 lots and 412 counts"; empty where nothing is new.
std::string new_things(const logbook::ImportSummary& summary);
// Whatever else is worth knowing: what stood there already, labels sown over, unknown crops.
void remark_on(const Context& context, const logbook::ImportSummary& summary, bool any_new);
// Every bad row on stderr, and how many more there are.
void show_errors(const Context& context, const logbook::ImportSummary& summary);
Json to_json(const logbook::ImportSummary& summary);

}  // namespace plumule::cli
