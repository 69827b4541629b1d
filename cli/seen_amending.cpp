#include "cli/seen_amending.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/options/degrees.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/observations.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"
#include "records/words.hpp"

namespace plumule::cli {
namespace {

using records::Degrees;
using records::Refused;

std::string words_of(const records::Assessment& one) {
  return fmt::format("{} {}", one.units, records::word(one.outcome));
}

std::string words_of(const records::Temperature& one, Degrees unit) {
  const std::string place = one.place.empty() ? "" : one.place + ": ";
  return place + in_words(one, unit);
}

std::vector<records::Temperature> temperatures(logbook::Logbook& logbook,
                                               const records::Sowing& sowing) {
  auto all = logbook::temperatures_of(logbook, sowing.id);
  if (!sowing.place.empty())
    for (records::Temperature& one : logbook::temperatures_at(logbook, sowing.place))
      all.push_back(std::move(one));
  return all;
}

// The one of that number; none where the sowing has none such.
template <class Record>
std::optional<Record> numbered(const std::vector<Record>& all, std::int64_t number) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Record& one) { return one.id == number; });
  if (found == all.end()) return std::nullopt;
  return *found;
}

std::string bare(const std::string& value) { return value[0] == '=' ? value.substr(1) : value; }

void lay(logbook::Entry& entry, const std::string& value, records::Temperature& temperature) {
  DegreesTyped degrees(entry);
  const bool equals = value[0] == '=';
  const records::TypedRange read = degrees.read(equals ? "=" : "", bare(value), soil_bounds);
  degrees.settle();
  temperature.spot_c = temperature.min_c = temperature.max_c = std::nullopt;
  if (value.find("..") == std::string::npos) {
    temperature.spot_c = read.low;
  } else {
    temperature.min_c = read.low;
    temperature.max_c = read.high;
  }
}

void lay(const std::string& id, const std::string& value, records::Assessment& assessment) {
  const std::size_t equals = value.find('=');
  const std::string word = equals == std::string::npos ? "" : value.substr(0, equals);
  const auto outcome =
      word.empty() ? std::optional(assessment.outcome) : records::from_word<records::Outcome>(word);
  const auto units = read_whole(equals == std::string::npos ? value : value.substr(equals + 1));
  if (!outcome || !units)
    throw Refused(fmt::format("{} is of what did not come up: write 2, or firm=2 (of {}).", id,
                              records::known_words<records::Outcome>()));
  assessment.outcome = *outcome;
  assessment.units = *units;
}

// "t3, Wed 15 Apr: 18 C, was 81 C"; with the day that it was of where that changed.
std::string told(const std::string& id, const records::Moment& was_at, const std::string& was,
                 const records::Moment& at, const std::string& now, records::Date today) {
  const std::string day = at == was_at ? "" : " on " + records::spoken(was_at, today);
  return fmt::format("{}, {}: {}, was {}{}", id, records::spoken(at, today), now, was, day);
}

std::vector<std::string> change(logbook::Entry& entry, const records::Sowing& sowing,
                                const std::string& id, const records::Assessment& was,
                                const records::Assessment& now) {
  if (was.on == now.on && was.units == now.units && was.outcome == now.outcome) return {};
  logbook::amend_assessment(entry, sowing.id, now);
  return {told(id, {was.on, {}}, words_of(was), {now.on, {}}, words_of(now), entry.today())};
}

std::vector<std::string> change(logbook::Entry& entry, const std::string& id,
                                const records::Temperature& was, const records::Temperature& now,
                                Degrees unit) {
  if (was.at == now.at && was.spot_c == now.spot_c && was.min_c == now.min_c &&
      was.max_c == now.max_c)
    return {};
  logbook::amend_temperature(entry, now);
  return {told(id, was.at, words_of(was, unit), now.at, words_of(now, unit), entry.today())};
}

std::vector<std::string> change(logbook::Entry& entry, const std::string& id,
                                const records::Note& was, const records::Note& now) {
  if (was.on == now.on && was.text == now.text) return {};
  logbook::amend_note(entry, now);
  return {told(id, {was.on, {}}, was.text, {now.on, {}}, now.text, entry.today())};
}

// What is typed beside the id.
struct Asked {
  std::string id;
  std::int64_t number = -1;
  std::optional<records::Moment> on;
  bool out = false;
};

Asked asked(const Arguments& arguments, const std::string& value) {
  Asked asked{*arguments.text("seen"), -1, arguments.moment("on"), arguments.flag("remove")};
  if (value.empty() && !asked.on && !asked.out)
    throw WrongUsage(fmt::format(
        "What should {} be? After the name: 18, 8..24, firm=2, or the words of the note.",
        asked.id));
  if (asked.id.size() > 1)
    asked.number = read_whole(std::string_view(asked.id).substr(1)).value_or(-1);
  return asked;
}

std::vector<std::string> taken_out(logbook::Entry& entry, const Asked& asked, logbook::Seen what,
                                   const records::Moment& at, const std::string& was) {
  logbook::take_out_seen(entry, what, asked.number);
  return {
      fmt::format("{}, {}: taken out, was {}", asked.id, records::spoken(at, entry.today()), was)};
}

// None where there is no such note.
std::optional<std::vector<std::string>> changed_note(logbook::Entry& entry, const Asked& asked,
                                                     records::About about, records::Id of,
                                                     const std::string& value) {
  const auto was = numbered(logbook::notes_of(entry.logbook(), about, of), asked.number);
  if (!was) return std::nullopt;
  if (asked.out) return taken_out(entry, asked, logbook::Seen::note, {was->on, {}}, was->text);
  records::Note now = *was;
  if (asked.on) now.on = asked.on->date;
  if (!value.empty()) now.text = bare(value);
  return change(entry, asked.id, *was, now);
}

}  // namespace

std::vector<SeenLine> seen_of(logbook::Logbook& logbook, const records::Sowing& sowing,
                              records::Degrees shown_in) {
  std::vector<SeenLine> seen;
  for (const auto& one : logbook::assessments_of(logbook, sowing.id))
    seen.push_back({fmt::format("a{}", one.id), {one.on, {}}, words_of(one), one.by});
  for (const auto& one : temperatures(logbook, sowing))
    seen.push_back({fmt::format("t{}", one.id), one.at, words_of(one, shown_in), one.by});
  for (const auto& one : logbook::notes_of(logbook, records::About::sowing, sowing.id))
    seen.push_back({fmt::format("n{}", one.id), {one.on, {}}, one.text, one.by});
  return seen;
}

void show_seen(const Context& context, const std::vector<SeenLine>& seen) {
  if (seen.empty()) return;
  context.screen.line("Seen besides:");
  Table table({"", "", "", ""});
  for (const SeenLine& one : seen)
    table.row({one.id, records::spoken(one.at, context.today), one.by, one.text});
  table.print(context.screen);
  context.screen.line("  (--seen ID and what it should be corrects one, --remove takes it out)");
}

Json to_json(const std::vector<SeenLine>& seen) {
  Json list = Json::array();
  for (const SeenLine& one : seen)
    list.push_back({{"id", one.id},
                    {"on", records::to_text(one.at)},
                    {"text", one.text},
                    {"by", or_null(one.by)}});
  return list;
}

std::vector<std::string> amend_seen(logbook::Entry& entry, const Arguments& arguments,
                                    const records::Sowing& sowing, const std::string& value) {
  const Asked typed = asked(arguments, value);
  const std::string& id = typed.id;
  const auto& on = typed.on;
  const bool out = typed.out;
  const std::int64_t number = typed.number;
  logbook::Logbook& logbook = entry.logbook();
  const auto gone = [&](logbook::Seen what, const records::Moment& at, const std::string& was) {
    return taken_out(entry, typed, what, at, was);
  };
  if (id[0] == 'a') {
    if (const auto was = numbered(logbook::assessments_of(logbook, sowing.id), number)) {
      if (out) return gone(logbook::Seen::assessment, {was->on, {}}, words_of(*was));
      records::Assessment now = *was;
      if (on) now.on = on->date;
      if (!value.empty()) lay(id, value, now);
      return change(entry, sowing, id, *was, now);
    }
  } else if (id[0] == 't') {
    if (const auto was = numbered(temperatures(logbook, sowing), number)) {
      const Degrees unit = shown_unit(arguments, logbook);
      if (out) return gone(logbook::Seen::temperature, was->at, words_of(*was, unit));
      records::Temperature now = *was;
      if (on) now.at = *on;
      if (!value.empty()) lay(entry, value, now);
      return change(entry, id, *was, now, unit);
    }
  } else if (id[0] == 'n') {
    if (auto told = changed_note(entry, typed, records::About::sowing, sowing.id, value))
      return *std::move(told);
  }
  throw Refused(fmt::format("Nothing called {0} was seen of {1}. plumule amend {1} shows what was.",
                            id, name_of(sowing)));
}

std::vector<std::string> amend_note(logbook::Entry& entry, const Arguments& arguments,
                                    const logbook::Named& named, const std::string& value) {
  const Asked typed = asked(arguments, value);
  const records::About about = named.kind == logbook::NameKind::lot     ? records::About::lot
                               : named.kind == logbook::NameKind::trial ? records::About::trial
                                                                        : records::About::treatment;
  if (typed.id[0] == 'n')
    if (auto told = changed_note(entry, typed, about, named.id, value)) return *std::move(told);
  throw Refused(fmt::format("There is no note {0} on {1}. plumule note {1} shows them.", typed.id,
                            named.name));
}

}  // namespace plumule::cli
