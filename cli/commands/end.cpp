// How a sowing ended.
#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "bench/ending.hpp"
#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/sowings.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "sowings, or a trial: all of its that are open", 1, any_number);
  options.flag("finished", "counted to its end (so it is, if nothing else is said)");
  options.text("accident", "WHY", "knocked over, eaten ...: used up to its last good look");
  options.text("failed", "WHY", "dried out, damped off ...: a result, kept in every figure");
  options.flag("given-up", "no more was looked for");
  options.text("why", "WORDS", "of a finished or given-up one");
  options.moment("on", "when; else today");
}

records::Ending ending_typed(const Arguments& arguments, records::Date today) {
  records::Ending ending;
  int kinds = 0;
  const auto take = [&](std::string_view name, records::EndingKind kind) {
    if (!arguments.has(name)) return;
    ++kinds;
    ending.kind = kind;
  };
  take("finished", records::EndingKind::finished);
  take("accident", records::EndingKind::accident);
  take("failed", records::EndingKind::failed);
  take("given-up", records::EndingKind::given_up);
  if (kinds > 1) throw WrongUsage("A sowing ends in one way: give one of them.");
  ending.at = arguments.moment("on").value_or(records::Moment{today, {}});
  ending.why = arguments.text("why").value_or("");
  if (ending.kind == records::EndingKind::accident) ending.why = *arguments.text("accident");
  if (ending.kind == records::EndingKind::failed) ending.why = *arguments.text("failed");
  return ending;
}

// What its figures rest on from now on.
std::string meaning(logbook::Logbook& logbook, const records::Sowing& sowing,
                    const records::Ending& ending, records::Date today) {
  const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
  std::string text(records::word(ending.kind));
  if (!ending.why.empty()) text += " (" + ending.why + ")";
  if (counts.empty()) return text + "; never counted";
  const std::string seen =
      up_of(sowing, counts.back().total) + ", " + records::spoken(counts.back().at, today);
  if (ending.kind == records::EndingKind::accident)
    return text + "; used up to its last look: " + seen;
  return text + "; " + seen;
}

// A look of the day it ended on may have been forgotten, and would still be taken.
std::string forgotten_looks(logbook::Logbook& logbook, const std::vector<records::Sowing>& all,
                            const records::Ending& ending, records::Date today) {
  std::vector<std::string> names;
  std::string first;
  for (const records::Sowing& sowing : bench::not_looked_at(logbook, all, ending)) {
    const bool shared = logbook::label_shared(logbook, sowing.label);
    names.push_back(shared ? sowing.dated_label() : sowing.label);
    if (first.empty()) first = names[0] + (sowing.taken_out ? "+N" : "=N");
  }
  if (names.empty()) return {};
  constexpr std::size_t most = 6;
  if (names.size() > most + 1) {
    const std::size_t more = names.size() - most;
    names.resize(most);
    names.push_back(std::to_string(more) + " more");
  }
  const bool now = ending.at.date == today;
  return fmt::format("{}: no look {} is written down. If you did look: plumule count {}{}",
                     listed(names),
                     now ? "today" : "on " + records::spoken({ending.at.date, {}}, today), first,
                     now ? "" : " --on " + records::to_text(ending.at.date));
}

int run(Context& context, const Arguments& arguments) {
  const records::Ending ending = ending_typed(arguments, context.today);
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  logbook::Entry entry = begin(logbook, context);
  std::vector<records::Sowing> all;
  std::vector<std::string> names;
  for (const std::string& name : arguments.words())
    for (const records::Sowing& sowing : bench::sowings_to_end(logbook, name)) {
      logbook::end_sowing(entry, sowing.id, ending);
      all.push_back(sowing);
      names.push_back(sowing.label);
    }
  entry.say(fmt::format("Ended {} on {} ({})", listed(names),
                        records::spoken(ending.at, context.today), records::word(ending.kind)));
  entry.commit();

  if (context.json) {
    Json list = Json::array();
    for (const records::Sowing& sowing : all)
      list.push_back(to_json(logbook::sowing_by_id(logbook, sowing.id)));
    print_json(context, {{"sowings", list}});
    return 0;
  }
  context.screen.line("Ended " + records::spoken(ending.at, context.today));
  Table table({"", ""});
  for (const records::Sowing& sowing : all)
    table.row({sowing.label, meaning(logbook, sowing, ending, context.today)});
  table.print(context.screen);
  const std::string hint = forgotten_looks(logbook, all, ending, context.today);
  if (!hint.empty()) context.screen.paragraph(hint);
  return 0;
}

}  // namespace

extern const Command end_command;
const Command end_command{
    .name = "end",
    .group = Group::keep,
    .summary = "a sowing is over",
    .about =
        "Ends sowings, or all open ones of a trial: finished, or by an accident (then what was "
        "seen up to the last good look counts on), failed (a result, never dropped) or given up. "
        "plumule amend A1 --reopen takes it back later.",
    .example = "plumule end C2 --accident 'knocked over'",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
