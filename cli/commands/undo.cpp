// Taking the last command back, and showing the journal.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/undo.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.flag("list", "show the journal, latest first, and take nothing back");
  options.text("of", "NAME", "take back what that person did; else only what you did yourself");
  options.whole("last", "N", "of the journal so many lines; else 20", 1, 1e9);
}

// "2026-04-03T07:30:12Z" as "2026-04-03 07:30".
std::string when(const std::string& at) {
  return at.size() < 16 ? at : at.substr(0, 10) + " " + at.substr(11, 5);
}

// Counts of a blind trial without their figures, which the walk and the refusals hide too.
logbook::JournalLine without_figures(logbook::JournalLine line) {
  if (line.blind_counts.empty()) return line;
  const bool amended = line.command.starts_with("plumule amend");
  line.summary = fmt::format("{} {}: figures hidden, the trial is blind",
                             amended ? "Amended" : "Counted", listed(line.blind_counts));
  line.command = fmt::format("plumule {} ...", amended ? "amend" : "count");
  return line;
}

Json to_json(const logbook::JournalLine& line) {
  return {{"id", line.id},           {"at", line.at},           {"by", line.by},
          {"command", line.command}, {"summary", line.summary}, {"undone", line.undone}};
}

int list(Context& context, const Arguments& arguments) {
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  auto lines =
      logbook::journal(logbook, static_cast<std::size_t>(arguments.whole("last").value_or(20)));
  for (logbook::JournalLine& line : lines) line = without_figures(std::move(line));
  if (context.json) {
    Json all = Json::array();
    for (const logbook::JournalLine& line : lines) all.push_back(to_json(line));
    print_json(context, {{"journal", all}});
    return 0;
  }
  if (lines.empty()) {
    context.screen.line("The journal is empty.");
    return 0;
  }
  Table table({"", "when (UTC)", "by", "what"});
  for (const logbook::JournalLine& line : lines)
    table.row({std::to_string(line.id), when(line.at), line.by,
               (line.undone ? "(taken back) " : "") + line.summary});
  table.print(context.screen);
  return 0;
}

int run(Context& context, const Arguments& arguments) {
  if (arguments.flag("list")) return list(context, arguments);
  if (arguments.has("last")) throw WrongUsage("--last goes with --list.");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  const logbook::JournalLine line =
      logbook::undo(logbook, context.by, arguments.text("of").value_or(context.by));
  if (context.json) {
    print_json(context, {{"taken_back", to_json(line)}});
    return 0;
  }
  context.screen.paragraph(
      fmt::format("Taken back: {} ({}, by {}).", line.summary, when(line.at), line.by));
  context.screen.paragraph("It was: " + line.command);
  return 0;
}

}  // namespace

extern const Command undo_command;
const Command undo_command{
    .name = "undo",
    .group = Group::keep,
    .summary = "take the last command back",
    .about =
        "Takes back what the last command wrote, whole (an import is one command, an answer of the "
        "walk is one), and says what it was. Again, and the one before goes too. What another "
        "person "
        "did goes only with --of. The journal keeps both lines.",
    .example = "plumule undo --list",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
