// A logbook to try things on, made from the invented sample logs.
#include <fmt/format.h>

#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/importing.hpp"
#include "cli/opening.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/file/odd_path.hpp"
#include "logbook/file/part.hpp"
#include "schema/embedded.hpp"

namespace plumule::cli {
namespace {

constexpr std::string_view demo_day = "2026-05-10";  // as sample-logs/README.md has it

void declare(Options& options) {
  options.words("DIR", "a new folder for it; plumule-demo if none is given", 0, 1);
}

std::vector<schema::File> sample_logs() {
  std::vector<schema::File> logs;
  for (const schema::File& file : schema::files())
    if (file.path.starts_with("sample-logs/") && file.path.ends_with(".csv")) logs.push_back(file);
  return logs;
}

logbook::ImportSummary fill(logbook::Logbook& logbook, const Context& context) {
  const records::Date day = *records::parse_date(demo_day);
  logbook::ImportSummary all;
  for (const schema::File& file : sample_logs()) {
    logbook::Entry entry(logbook, context.by, context.command, day);
    const logbook::ImportSummary one =
        logbook::import_flat_log(entry, reader_of(file.text), import_options());
    if (one.errors_in_all > 0) {
      show_errors(context, one);
      throw std::logic_error("a sample log is wrong");
    }
    entry.say("Imported " + std::string(file.path));
    entry.commit();
    all.rows += one.rows;
    all.lots_new += one.lots_new;
    all.treatments_new += one.treatments_new;
    all.trials_new += one.trials_new;
    all.sowings_new += one.sowings_new;
    all.counts_new += one.counts_new;
    all.batches_new += one.batches_new;
    all.temperatures_new += one.temperatures_new;
    all.notes_new += one.notes_new;
  }
  return all;
}

void tell(const Context& context, const std::string& path, const logbook::ImportSummary& summary) {
  const Screen& screen = context.screen;
  screen.paragraph(fmt::format("A logbook with {}: {}", new_things(summary), path));
  screen.paragraph(
      "All in it is invented: people, places, varieties, every seed. It is told as of the morning "
      "of " +
      records::spoken(*records::parse_date(demo_day), true) + ". To try it:");
  screen.line();
  screen.line("  export PLUMULE_LOG=" + path);
  for (const char* line :
       {"plumule today --today 2026-05-10", "plumule count C1=10 C2=same --today 2026-05-10",
        "plumule summary SOAK-26", "plumule compare SOAK-26", "plumule viability ONI-22",
        "plumule amend R2", "plumule undo"})
    screen.line(std::string("  ") + line);
}

// A folder in which nothing lies but what a demo that was stopped left is as good as a new one.
bool make_folder(const std::filesystem::path& folder) {
  if (const auto odd = logbook::odd_on_the_way(folder.string()))
    throw logbook::Unusable("No demo can be made there. " + *odd);
  std::error_code trouble;
  if (std::filesystem::is_directory(folder, trouble)) {
    logbook::clear_left_parts(folder.string());
    if (std::filesystem::is_empty(folder, trouble)) return false;
  }
  if (std::filesystem::exists(folder, trouble))
    throw logbook::Unusable(folder.string() +
                            " is there already. Name a new folder: plumule demo DIR.");
  if (!std::filesystem::create_directories(folder, trouble))
    throw logbook::Unusable("The folder " + folder.string() +
                            " could not be made: may you write there?");
  return true;
}

int run(Context& context, const Arguments& arguments) {
  const std::filesystem::path folder(arguments.words().empty() ? "plumule-demo"
                                                               : arguments.words()[0]);
  std::error_code trouble;
  const bool fresh = make_folder(folder);
  const std::string path = std::filesystem::absolute(folder / "plumule.db").string();
  logbook::ImportSummary summary;
  try {
    logbook::Logbook::create_filled(
        path, [&](logbook::Logbook& logbook) { summary = fill(logbook, context); });
  } catch (...) {
    if (fresh) std::filesystem::remove(folder, trouble);  // only where nothing lies in it
    throw;
  }
  made(context, "The demo was made all the same: " + path + '.');
  if (context.json) {
    Json answer{{"logbook", path}};
    answer.update(to_json(summary));
    print_json(context, answer);
  } else {
    tell(context, path, summary);
  }
  return 0;
}

}  // namespace

extern const Command demo_command;
const Command demo_command{
    .name = "demo",
    .group = Group::mind,
    .summary = "an invented log to try",
    .about =
        "Makes a logbook of its own from the sample logs, in a new folder, and names the commands "
        "to try on it. Your own logbook is never touched.",
    .example = "plumule demo /tmp/plumule-try",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
