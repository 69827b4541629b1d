// The flat log out again: one row a count, for a spreadsheet or another logbook.
#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/json.hpp"
#include "cli/opening.hpp"
#include "cli/wording.hpp"
#include "logbook/flat_log.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("FILE", "where to; standard output if none is given, or -", 0, 1);
  options.flag("replace", "FILE may stand there already");
}

// Written beside its place and moved there when whole, so that no half file is left.
std::vector<std::string> write_file(logbook::Logbook& logbook, const std::string& path) {
  const std::string part = path + ".part";
  std::FILE* file = std::fopen(part.c_str(), "wb");
  if (file == nullptr)
    throw logbook::Unusable(
        path + " could not be written: is there such a folder, and may you write there?");
  bool whole = true;
  std::vector<std::string> left_out = logbook::export_flat_log(logbook, [&](std::string_view text) {
    whole = whole && std::fwrite(text.data(), 1, text.size(), file) == text.size();
  });
  whole = std::fclose(file) == 0 && whole;
  whole = whole && std::rename(part.c_str(), path.c_str()) == 0;
  if (!whole) {
    std::remove(part.c_str());
    throw logbook::Unusable(path + " could not be written whole: is the disk full?");
  }
  return left_out;
}

int run(Context& context, const Arguments& arguments) {
  const std::string path = arguments.words().empty() ? "-" : arguments.words()[0];
  if (path == "-" && context.json)
    throw WrongUsage(
        "The flat log goes to standard output: name a file to have the answer as JSON.");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::read);
  std::error_code ignored;
  if (path != "-" && !arguments.flag("replace") && std::filesystem::exists(path, ignored))
    throw records::Refused(path + " is there already. --replace puts the new one in its place.");
  const std::vector<std::string> left_out =
      path == "-" ? logbook::export_flat_log(
                        logbook, [&](std::string_view text) { context.screen.print(text); })
                  : write_file(logbook, path);
  if (context.json)
    print_json(context, {{"file", path}, {"left_out", left_out}});
  else if (path != "-")
    context.screen.line("Exported to " + path);
  if (!left_out.empty())
    context.screen.remark("The flat log does not carry " + listed(left_out) +
                          "; the logbook and its backup do.");
  return 0;
}

}  // namespace

extern const Command export_command;
const Command export_command{
    .name = "export",
    .group = Group::mind,
    .summary = "a spreadsheet out",
    .about =
        "Writes the flat log: lots, treatments, trials, sowings, current counts and endings, one "
        "row a count. What that form does not carry (corrections, notes, stock, the journal) stays "
        "in the logbook, and is said.",
    .example = "plumule export /tmp/season.csv",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
