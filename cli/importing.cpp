// The words around an import; the rows themselves are the logbook's business.
#include "cli/importing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>

#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
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
  add(summary.batches_new, "jar");
  add(summary.trials_new, "trial");
  add(summary.sowings_new, "sowing");
  add(summary.counts_new, "count");
  add(summary.temperatures_new, "temperature");
  add(summary.notes_new, "note");
  add(summary.endings_new, "ending");
  for (const logbook::FilledIn& filled : summary.filled_in)
    parts.push_back(
        fmt::format("the {} of {}", filled.column, number_of(filled.things, filled.kind)));
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

namespace {

std::string reason_of(const logbook::RowError& error) {
  return with_hints(error.reason, error.hints);
}

// Errors that say the same but for the value and the label at their front.
std::string kind_of(const logbook::RowError& error) {
  if (!error.hints.empty() && error.hints.front().advice == records::Advice::order_of_dates)
    return error.column + "|two readings";
  std::string kind = reason_of(error);
  const auto drop = [&kind](const std::string& text) {
    if (text.empty()) return;
    for (std::size_t at = kind.find(text); at != std::string::npos; at = kind.find(text, at))
      kind.erase(at, text.size());
  };
  drop(error.value);
  if (const std::size_t colon = kind.find(": "); colon != std::string::npos && colon < 66)
    drop(kind.substr(0, colon));
  kind.erase(std::remove_if(kind.begin(), kind.end(), [](char c) { return c >= '0' && c <= '9'; }),
             kind.end());
  return error.column + '|' + kind;
}

constexpr std::size_t shown_of_a_kind = 3;

}  // namespace

void show_errors(const Context& context, const logbook::ImportSummary& summary) {
  std::map<std::string, std::vector<std::size_t>> kinds;
  std::vector<std::string> order;
  for (const logbook::RowError& error : summary.errors) {
    std::vector<std::size_t>& lines = kinds[kind_of(error)];
    if (lines.empty()) order.push_back(kind_of(error));
    lines.push_back(error.line);
    if (lines.size() > shown_of_a_kind) continue;
    std::string where = fmt::format("line {}", error.line);
    if (!error.column.empty()) where += ", " + error.column;
    // Many reasons quote the value themselves.
    if (!error.value.empty() && error.value != error.column &&
        reason_of(error).find('"' + error.value + '"') == std::string::npos)
      where += " \"" + error.value + "\"";
    context.screen.remark(where + ": " + reason_of(error));
  }
  for (const std::string& kind : order) {
    const std::vector<std::size_t>& lines = kinds[kind];
    if (lines.size() <= shown_of_a_kind) continue;
    const std::string column = kind.substr(0, kind.find('|'));
    context.screen.remark(fmt::format(
        "... {}{} more of this kind, on lines {} to {}.", column.empty() ? "" : column + ": ",
        lines.size() - shown_of_a_kind, lines[shown_of_a_kind], lines.back()));
  }
  const auto more = summary.errors_in_all - static_cast<std::int64_t>(summary.errors.size());
  if (more > 0) context.screen.remark(fmt::format("... and {} more.", more));
}

Json to_json(const logbook::ImportSummary& summary) {
  Json filled_in = Json::array();
  for (const logbook::FilledIn& filled : summary.filled_in)
    filled_in.push_back(
        {{"of", filled.kind}, {"column", filled.column}, {"things", filled.things}});
  Json errors = Json::array();
  for (const logbook::RowError& error : summary.errors)
    errors.push_back({{"line", error.line},
                      {"column", or_null(error.column)},
                      {"value", error.value},
                      {"reason", reason_of(error)}});
  return {{"rows", summary.rows},
          {"new",
           {{"lots", summary.lots_new},
            {"treatments", summary.treatments_new},
            {"batches", summary.batches_new},
            {"trials", summary.trials_new},
            {"sowings", summary.sowings_new},
            {"counts", summary.counts_new},
            {"temperatures", summary.temperatures_new},
            {"notes", summary.notes_new},
            {"endings", summary.endings_new}}},
          {"filled_in", filled_in},
          {"counts_there", summary.counts_there},
          {"sown_over", summary.sown_over},
          {"unknown_crops", summary.unknown_crops},
          {"ignored_columns", summary.ignored_columns},
          {"errors", errors},
          {"errors_in_all", summary.errors_in_all}};
}

}  // namespace plumule::cli
