// Temperatures of a sowing's soil or of a place: one reading, or a minimum and a maximum.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

// No bed that seed is sown in is so warm, and none that is looked at so cold: from memory.
constexpr double too_hot_c = 45;
constexpr double too_cold_c = -15;

void declare(Options& options) {
  options.words("PAIR",
                "A1=18.5 one reading in Celsius, A1=8..24 the lowest and the highest; "
                "instead of a sowing a place: bench=12",
                1, any_number);
  options.moment("on", "when; else today. A time of day tells a cold morning from a warm noon");
  options.flag("place", "a place that is new to the logbook");
}

struct Reading {
  std::string name;
  records::Temperature temperature;
  bool there = false;  // the same reading stood there already
};

bool same_reading(const records::Temperature& a, const records::Temperature& b) {
  return a.at == b.at && a.spot_c == b.spot_c && a.min_c == b.min_c && a.max_c == b.max_c &&
         a.by == b.by;
}

std::optional<double> degrees(const std::string& word, const std::string& text) {
  const auto value = read_number(text);
  if (!value)
    throw records::Refused(fmt::format(
        "{}: \"{}\" is no temperature. Write A1=18.5, or A1=8..24 for the lowest and the highest.",
        word, text));
  return value;
}

// Places named so far: of sowings that are open, or with readings of their own.
bool known_place(logbook::Logbook& logbook, const std::string& name) {
  if (!logbook::temperatures_at(logbook, name).empty()) return true;
  const std::vector<records::Sowing> open = logbook::open_sowings(logbook);
  return std::any_of(open.begin(), open.end(),
                     [&](const records::Sowing& sowing) { return sowing.place == name; });
}

[[noreturn]] void refuse_unknown(logbook::Logbook& logbook, const std::string& name) {
  std::vector<std::string> known;
  for (const records::Sowing& sowing : logbook::open_sowings(logbook)) {
    known.push_back(sowing.label);
    if (!sowing.place.empty() && std::find(known.begin(), known.end(), sowing.place) == known.end())
      known.push_back(sowing.place);
  }
  const std::vector<std::string> near = records::nearest(name, known);
  throw records::Refused(
      fmt::format("There is no sowing and no place \"{}\"{}. For a new place add --place.", name,
                  near.empty() ? "" : ". Near it: " + listed(near)));
}

Reading reading_of(logbook::Entry& entry, const Arguments& arguments, const std::string& word,
                   const records::Moment& at) {
  const std::size_t equals = word.rfind('=');
  if (equals == std::string::npos || equals == 0)
    throw records::Refused(
        fmt::format("\"{}\" has no temperature. Write A1=18.5, or A1=8..24.", word));
  Reading reading;
  reading.name = word.substr(0, equals);
  const std::string value = word.substr(equals + 1);
  records::Temperature& temperature = reading.temperature;
  temperature.at = at;
  temperature.by = entry.by();
  if (const std::size_t dots = value.find(".."); dots != std::string::npos) {
    temperature.min_c = degrees(word, value.substr(0, dots));
    temperature.max_c = degrees(word, value.substr(dots + 2));
  } else {
    temperature.spot_c = degrees(word, value);
  }
  if (const auto sowing = records::is_label(reading.name.substr(0, reading.name.find('@')))
                              ? logbook::find_sowing(entry.logbook(), reading.name)
                              : std::nullopt) {
    temperature.sowing = sowing->id;
    reading.name = name_of(*sowing);
  } else if (arguments.flag("place") || known_place(entry.logbook(), reading.name)) {
    temperature.place = reading.name;
  } else {
    refuse_unknown(entry.logbook(), reading.name);
  }
  const auto kept = temperature.sowing
                        ? logbook::temperatures_of(entry.logbook(), *temperature.sowing)
                        : logbook::temperatures_at(entry.logbook(), temperature.place);
  reading.there = std::any_of(kept.begin(), kept.end(), [&](const records::Temperature& one) {
    return same_reading(one, temperature);
  });
  if (!reading.there) logbook::add_temperature(entry, temperature);
  return reading;
}

std::string in_words(const records::Temperature& temperature) {
  if (temperature.spot_c) return records::shown(*temperature.spot_c) + " C";
  return records::shown(*temperature.min_c) + " to " + records::shown(*temperature.max_c) + " C";
}

int run(Context& context, const Arguments& arguments) {
  const records::Moment at = arguments.moment("on").value_or(records::Moment{context.today, {}});
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  logbook::Entry entry = begin(logbook, context);
  std::vector<Reading> all;
  for (const std::string& word : arguments.words())
    all.push_back(reading_of(entry, arguments, word, at));
  std::vector<std::string> names;
  for (const Reading& reading : all)
    names.push_back(reading.name + " " + in_words(reading.temperature));
  entry.say("Temperature of " + listed(names) + " on " + records::spoken(at, context.today));
  entry.commit();

  if (context.json) {
    Json list = Json::array();
    for (const Reading& reading : all) {
      const records::Temperature& temperature = reading.temperature;
      const bool sowing = temperature.sowing.has_value();
      list.push_back({{"sowing", sowing ? Json(reading.name) : Json()},
                      {"place", sowing ? Json() : Json(reading.name)},
                      {"read_on", records::to_text(at)},
                      {"spot_c", or_null(temperature.spot_c)},
                      {"min_c", or_null(temperature.min_c)},
                      {"max_c", or_null(temperature.max_c)}});
    }
    print_json(context, {{"temperatures", list}});
    return 0;
  }
  context.screen.line(records::spoken(at, context.today));
  Table table({"", ""});
  for (const Reading& reading : all)
    table.row({reading.name,
               in_words(reading.temperature) + (reading.there ? ": stood there already" : "")});
  table.print(context.screen);
  for (const Reading& reading : all)
    if (const auto coldest =
            reading.temperature.min_c ? reading.temperature.min_c : reading.temperature.spot_c;
        coldest && *coldest < too_cold_c)
      context.screen.remark(
          fmt::format("{}: {} C is colder than soil with seed in it gets. It is kept; a slip? "
                      "plumule undo",
                      reading.name, records::shown(*coldest)));
  for (const Reading& reading : all)
    if (const auto hottest =
            reading.temperature.max_c ? reading.temperature.max_c : reading.temperature.spot_c;
        hottest && *hottest > too_hot_c)
      context.screen.remark(
          fmt::format("{}: {} C is hot for seed. If it was Fahrenheit, it is {} C: plumule undo, "
                      "and enter that.",
                      reading.name, records::shown(*hottest),
                      records::shown(std::round((*hottest - 32) / 1.8 * 10) / 10)));
  return 0;
}

}  // namespace

extern const Command temp_command;
const Command temp_command{.name = "temp",
                           .group = Group::keep,
                           .summary = "a soil temperature",
                           .about =
                               "Keeps temperatures in Celsius: of a sowing's soil, or of a place "
                               "for all that stands there. One reading is never taken for the "
                               "day's mean; the lowest and the highest together say more.",
                           .example = "plumule temp W2=14.5 'heat mat=19..24'",
                           .writes = true,
                           .declare = declare,
                           .run = run};

}  // namespace plumule::cli
