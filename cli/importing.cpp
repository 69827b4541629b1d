// The words around an import; the rows themselves are the logbook's business.
#include "cli/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>

#include "cli/wording.hpp"
#include "crops/names.hpp"

namespace plumule::cli {

logbook::ImportOptions import_options() {
  logbook::ImportOptions options;
  options.known_crop = [](std::string_view crop) { return crops::find_crop(crop).crop != nullptr; };
  return options;
}

logbook::Reader reader_of(std::string_view text) {
  const auto left = std::make_shared<std::string_view>(text);
  return [left](char* into, std::size_t size) {
    const std::size_t taken = left->copy(into, size);
    left->remove_prefix(taken);
    return taken;
  };
}

std::string new_things(const logbook::ImportSummary& summary) {
  std::vector<std::string> parts;
  const auto add = [&](std::int64_t count, std::string_view one) {
    if (count > 0) parts.push_back(number_of(count, one));
  };
  add(summary.lots_new, "lot");
  add(summary.treatments_new, "treatment");
  add(summary.trials_new, "trial");
  add(summary.sowings_new, "sowing");
  add(summary.counts_new, "count");
  return listed(parts);
}

void remark_on(const Context& context, const logbook::ImportSummary& summary, bool any_new) {
  const Screen& screen = context.screen;
  if (summary.counts_there > 0 && any_new)
    screen.remark(
        fmt::format("{} stood in the logbook already.", number_of(summary.counts_there, "count")));
  if (!summary.sown_over.empty())
    screen.remark(
        "Closed as sown over, since the label was sown again: " + listed(summary.sown_over) + ".");
  if (!summary.unknown_crops.empty())
    screen.remark("Not in the crop tables, so nothing published is known of: " +
                  listed(summary.unknown_crops) + ".");
  if (!summary.ignored_columns.empty())
    screen.remark("Columns passed over: " + listed(summary.ignored_columns) + ".");
}

void show_errors(const Context& context, const logbook::ImportSummary& summary) {
  for (const logbook::RowError& error : summary.errors) {
    std::string where = fmt::format("line {}", error.line);
    if (!error.column.empty()) where += ", " + error.column;
    // Many reasons quote the value themselves.
    if (!error.value.empty() && error.value != error.column &&
        error.reason.find('"' + error.value + '"') == std::string::npos)
      where += " \"" + error.value + "\"";
    context.screen.remark(where + ": " + error.reason);
  }
  const auto more = summary.errors_in_all - static_cast<std::int64_t>(summary.errors.size());
  if (more > 0) context.screen.remark(fmt::format("... and {} more.", more));
}

Json to_json(const logbook::ImportSummary& summary) {
  Json errors = Json::array();
  for (const logbook::RowError& error : summary.errors)
    errors.push_back({{"line", error.line},
                      {"column", or_null(error.column)},
                      {"value", error.value},
                      {"reason", error.reason}});
  return {{"rows", summary.rows},
          {"new",
           {{"lots", summary.lots_new},
            {"treatments", summary.treatments_new},
            {"trials", summary.trials_new},
            {"sowings", summary.sowings_new},
            {"counts", summary.counts_new}}},
          {"counts_there", summary.counts_there},
          {"sown_over", summary.sown_over},
          {"unknown_crops", summary.unknown_crops},
          {"ignored_columns", summary.ignored_columns},
          {"errors", errors},
          {"errors_in_all", summary.errors_in_all}};
}

}  // namespace plumule::cli
