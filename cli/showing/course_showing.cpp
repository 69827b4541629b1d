// Everything that can be amended of a sowing's counts, in one view.
#include "cli/showing/course_showing.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/seen_amending.hpp"
#include "cli/showing/change_showing.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/journal/journal.hpp"
#include "logbook/journal/seen_changes.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/settings.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

std::string aside_id(char kind, const records::SetAside& aside) {
  return kind + std::to_string(aside.id);
}

Json aside_json(char kind, const std::vector<records::SetAside>& all) {
  Json list = Json::array();
  for (const records::SetAside& aside : all) {
    Json one{{"id", aside_id(kind, aside)}};
    one.update(to_json(aside.count));
    one["emerged"] = nullptr;
    one["why"] = or_null(aside.why);
    list.push_back(one);
  }
  return list;
}

void show_aside(const Context& context, char kind, std::string_view what,
                const std::vector<records::SetAside>& all) {
  if (all.empty()) return;
  context.screen.line(what);
  Table table({"", "", "", ""});
  for (const records::SetAside& aside : all)
    table.row({aside_id(kind, aside), records::spoken(aside.count.at, context.today),
               in_words(aside.count.entered),
               aside.why.empty() ? "by " + aside.count.by : aside.why});
  table.print(context.screen);
}

std::vector<Change> changes_of(logbook::Logbook& logbook, const records::Sowing& sowing,
                               records::Degrees shown_in) {
  std::vector<Change> all = field_changes_of(logbook, records::About::sowing, sowing.id);
  for (const logbook::FieldChange& one : logbook::seen_changes(logbook, sowing, shown_in))
    all.push_back({one.at, one.by, one.field, one.before, one.after, one.entry});
  for (const logbook::Correction& one : logbook::corrections_of(logbook, sowing.id))
    all.push_back({one.at, one.by, "", one.before, one.after, one.entry});
  std::stable_sort(all.begin(), all.end(),
                   [](const Change& a, const Change& b) { return a.entry < b.entry; });
  return all;
}

}  // namespace

void show_course(const Context& context, logbook::Logbook& logbook, const records::Sowing& sowing) {
  const Screen& screen = context.screen;
  screen.paragraph(screen.toned(Tone::strong, name_of(sowing)) + ": " + described(sowing) +
                   ", sown " + records::spoken(sowing.sown, context.today) + ".");
  if (sowing.ending)
    screen.paragraph("Ended " + records::spoken(sowing.ending->at, context.today) + ": " +
                     std::string(records::word(sowing.ending->kind)) +
                     (sowing.ending->why.empty() ? "" : " (" + sowing.ending->why + ")") + ".");
  const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
  if (counts.empty()) screen.line("Not counted yet.");
  Table table({"looked", "up in all", "entered as", "by"});
  for (const records::Count& count : counts)
    table.row({records::spoken(count.at, context.today), std::to_string(count.total),
               in_words(count.entered), count.by});
  if (!counts.empty()) table.print(screen);
  const auto doubtful = logbook::doubtful_of(logbook, sowing.id);
  const auto readings = logbook::second_readings_of(logbook, sowing.id);
  show_aside(context, 'd', "Doubtful, in no figure:", doubtful);
  show_aside(context, 'r', "Second readings, in no figure:", readings);
  if (!doubtful.empty() || !readings.empty())
    screen.line("  (--keep ID puts one in the count's place, --discard ID leaves it out)");
  const records::Degrees unit = logbook::shown_unit(logbook);
  show_seen(context, seen_of(logbook, sowing, unit));
  show_changes(context, changes_of(logbook, sowing, unit));
}

Json course_answer(logbook::Logbook& logbook, const records::Sowing& sowing) {
  Json counts = Json::array();
  for (const records::Count& count : logbook::counts_of(logbook, sowing.id))
    counts.push_back(to_json(count));
  Json out = to_json(sowing);
  out["counts"] = counts;
  out["doubtful"] = aside_json('d', logbook::doubtful_of(logbook, sowing.id));
  out["second_readings"] = aside_json('r', logbook::second_readings_of(logbook, sowing.id));
  out["seen"] = to_json(seen_of(logbook, sowing, records::Degrees::celsius));
  out["corrections"] = to_json(changes_of(logbook, sowing, records::Degrees::celsius));
  return out;
}

}  // namespace plumule::cli
