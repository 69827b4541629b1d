// Notes in the grower's own words; moves and photographs of a sowing.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/find.hpp"
#include "logbook/record/moves.hpp"
#include "logbook/record/observations.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "a sowing, lot, trial or treatment, then the note; alone, what is kept", 1,
                any_number);
  options.date("on", "when; else today");
  options.text("moved", "PLACE", "the sowing stands there from that day on");
  options.text("photo", "FILE", "a picture of the sowing: its path is kept");
  options.text("caption", "WORDS", "what the picture shows");
}

records::About about_of(const logbook::Named& named) {
  switch (named.kind) {
    case logbook::NameKind::sowing:
      return records::About::sowing;
    case logbook::NameKind::lot:
      return records::About::lot;
    case logbook::NameKind::trial:
      return records::About::trial;
    case logbook::NameKind::treatment:
      return records::About::treatment;
    case logbook::NameKind::crop:
      break;
  }
  throw records::Refused(named.name +
                         " is a crop. Notes are kept of a sowing, a lot, a trial or a treatment.");
}

void save(const Context& context, logbook::Logbook& logbook, const Arguments& arguments,
          const logbook::Named& named) {
  const records::Date on = arguments.date("on").value_or(context.today);
  logbook::Entry entry = begin(logbook, context);
  std::string text;
  for (std::size_t i = 1; i < arguments.words().size(); ++i)
    text += (i == 1 ? "" : " ") + arguments.words()[i];
  if (arguments.words().size() > 1)
    logbook::add_note(entry, {0, about_of(named), named.id, on, text, context.by});
  if (const auto place = arguments.text("moved"))
    logbook::move_sowing(entry, named.id, {0, on, *place});
  if (const auto path = arguments.text("photo"))
    logbook::add_photograph(entry, named.id,
                            {0, on, *path, arguments.text("caption").value_or("")});
  std::vector<std::string> said;
  if (!text.empty()) said.push_back("noted of " + named.name + ": " + text);
  if (const auto place = arguments.text("moved"))
    said.push_back("moved " + named.name + " to " + *place);
  if (const auto path = arguments.text("photo"))
    said.push_back("kept a picture of " + named.name + ": " + *path);
  std::string summary;
  for (const std::string& part : said) summary += (summary.empty() ? "" : "; ") + part;
  if (!summary.empty()) summary[0] = static_cast<char>(summary[0] - 'a' + 'A');
  entry.say(summary);
  entry.commit();
}

struct Line {
  std::string id;  // by which `amend` takes it: of a note
  records::Date on{};
  std::string kind;
  std::string text;
  std::string by;
};

std::vector<Line> kept(logbook::Logbook& logbook, const logbook::Named& named) {
  std::vector<Line> lines;
  for (const records::Note& note : logbook::notes_of(logbook, about_of(named), named.id))
    lines.push_back({fmt::format("n{}", note.id), note.on, "note", note.text, note.by});
  if (named.kind != logbook::NameKind::sowing) return lines;
  for (const records::Move& move : logbook::moves_of(logbook, named.id))
    lines.push_back({"", move.on, "moved", move.place, ""});
  for (const records::Photograph& photo : logbook::photographs_of(logbook, named.id))
    lines.push_back({"", photo.on, "photo",
                     photo.path + (photo.caption.empty() ? "" : " (" + photo.caption + ")"), ""});
  std::stable_sort(lines.begin(), lines.end(),
                   [](const Line& a, const Line& b) { return a.on < b.on; });
  return lines;
}

int run(Context& context, const Arguments& arguments) {
  const bool of_sowing =
      arguments.has("moved") || arguments.has("photo") || arguments.has("caption");
  const bool writes = arguments.words().size() > 1 || of_sowing;
  if (arguments.has("caption") && !arguments.has("photo"))
    throw WrongUsage("--caption says what a picture shows: --photo FILE beside it.");
  logbook::Logbook logbook =
      open_logbook(context, writes ? logbook::Access::write : logbook::Access::read);
  const logbook::Named named = logbook::named(logbook, arguments.words()[0]);
  about_of(named);
  if (of_sowing && named.kind != logbook::NameKind::sowing)
    throw records::Refused(named.name + " is no sowing: only those are moved and photographed.");
  if (writes) save(context, logbook, arguments, named);
  if (const auto path = arguments.text("photo")) {
    std::error_code trouble;
    if (std::filesystem::is_directory(*path, trouble))
      context.screen.remark(
          fmt::format("{} is a folder, not a picture. It is kept all the same; mistyped? plumule "
                      "undo",
                      *path));
    else if (!std::filesystem::exists(*path, trouble))
      context.screen.remark(fmt::format(
          "There is no file {} here. Its path is kept all the same; mistyped? plumule undo",
          *path));
  }

  const std::vector<Line> lines = kept(logbook, named);
  if (context.json) {
    Json list = Json::array();
    for (const Line& line : lines)
      list.push_back({{"id", or_null(line.id)},
                      {"on", records::to_text(line.on)},
                      {"kind", line.kind},
                      {"text", line.text},
                      {"by", or_null(line.by)}});
    print_json(context, {{"name", named.name}, {"notes", list}});
    return 0;
  }
  if (lines.empty()) {
    context.screen.line("No note of " + named.name + " yet.");
    return 0;
  }
  context.screen.line(named.name);
  Table table({"", "", "", ""});
  for (const Line& line : lines)
    table.row({line.id, records::spoken({line.on, {}}, context.today), line.by,
               (line.kind == "note" ? "" : line.kind + ": ") + line.text});
  table.print(context.screen);
  return 0;
}

}  // namespace

extern const Command note_command;
const Command note_command{
    .name = "note",
    .group = Group::keep,
    .summary = "words, moves, pictures",
    .about =
        "Keeps a note of a sowing, a lot, a trial or a treatment; that a sowing was moved; the "
        "path of a picture. With the name alone it shows what is kept; plumule amend NAME --seen "
        "ID "
        "and the right words corrects a note.",
    .example = "plumule note R2 'aphids on two of them'",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
