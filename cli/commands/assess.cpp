// What became of the units that did not come up.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("SOWING",
                "then what was found: rotted=3 hard=2 (of hard, firm, rotted, empty, "
                "abnormal, died, eaten, not-found); alone, what is kept",
                1, any_number);
  options.date("on", "when it was looked at; else today");
}

records::Assessment assessment_of(const std::string& word, records::Date on,
                                  const std::string& by) {
  const std::size_t equals = word.find('=');
  if (equals == std::string::npos && read_whole(word))
    throw records::Refused(
        fmt::format("{0} of what? Write each with its number, such as rotted={0}.", word));
  const auto outcome = records::from_word<records::Outcome>(word.substr(0, equals));
  if (!outcome)
    throw records::Refused(fmt::format("\"{}\" is not one of {}.", word.substr(0, equals),
                                       records::known_words<records::Outcome>()));
  const auto units =
      equals == std::string::npos ? std::nullopt : read_whole(word.substr(equals + 1));
  if (!units)
    throw records::Refused(fmt::format("How many were {0}? Write {0}=3.", word.substr(0, equals)));
  records::Assessment assessment;
  assessment.on = on;
  assessment.outcome = *outcome;
  assessment.units = *units;
  assessment.by = by;
  return assessment;
}

struct Found {
  std::vector<records::Assessment> all;
  std::int64_t total = 0;              // ever up
  std::optional<std::int64_t> unseen;  // did not come up and not yet assessed
};

Found found_of(logbook::Logbook& logbook, const records::Sowing& sowing) {
  Found found;
  found.all = logbook::assessments_of(logbook, sowing.id);
  const std::vector<records::Count> counts = logbook::counts_of(logbook, sowing.id);
  if (!counts.empty()) found.total = counts.back().total;
  if (!sowing.units) return found;
  found.unseen = *sowing.units - found.total;
  for (const records::Assessment& one : found.all) *found.unseen -= one.units;
  return found;
}

void print(const Context& context, const records::Sowing& sowing, const Found& found) {
  if (context.json) {
    Json list = Json::array();
    for (const records::Assessment& one : found.all)
      list.push_back({{"on", records::to_text(one.on)},
                      {"outcome", records::word(one.outcome)},
                      {"units", one.units},
                      {"by", or_null(one.by)}});
    print_json(context, {{"sowing", sowing.label},
                         {"sown_on", records::to_text(sowing.sown)},
                         {"units", or_null(sowing.units)},
                         {"emerged", found.total},
                         {"assessments", list},
                         {"not_assessed", or_null(found.unseen)}});
    return;
  }
  context.screen.line(name_of(sowing) + ": " + up_of(sowing, found.total) + ". Of the rest:");
  Table table({"", "", ""});
  for (const records::Assessment& one : found.all)
    table.row({std::to_string(one.units), std::string(records::word(one.outcome)),
               records::spoken({one.on, {}}, context.today)});
  if (found.unseen) table.row({std::to_string(*found.unseen), "not assessed", ""});
  table.print(context.screen);
}

int run(Context& context, const Arguments& arguments) {
  const bool writes = arguments.words().size() > 1;
  logbook::Logbook logbook =
      open_logbook(context, writes ? logbook::Access::write : logbook::Access::read);
  const records::Sowing sowing = logbook::sowing_named(logbook, arguments.words()[0]);
  if (writes) {
    logbook::Entry entry = begin(logbook, context);
    std::vector<records::Assessment> all;
    for (std::size_t i = 1; i < arguments.words().size(); ++i) {
      const auto found = assessment_of(arguments.words()[i],
                                       arguments.date("on").value_or(context.today), context.by);
      if (std::any_of(all.begin(), all.end(),
                      [&](const auto& other) { return other.outcome == found.outcome; }))
        throw WrongUsage(fmt::format("{} is typed twice.", records::word(found.outcome)));
      all.push_back(found);
    }
    for (const auto& found : all) logbook::add_assessment(entry, sowing.id, found);
    entry.say("Assessed what did not come up in " + sowing.label);
    entry.commit();
  }
  print(context, sowing, found_of(logbook, sowing));
  return 0;
}

}  // namespace

extern const Command assess_command;
const Command assess_command{
    .name = "assess",
    .group = Group::keep,
    .summary = "what did not come up",
    .about =
        "Keeps what digging or cutting showed of the units that did not come up. It may cover part "
        "of them; hard and firm ones are alive, and what was not found is not called dead.",
    .example = "plumule assess E1 rotted=1",
    .writes = true,
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
