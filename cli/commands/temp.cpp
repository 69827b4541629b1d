// Temperatures of a sowing's soil or of a place: one reading, or a minimum and a maximum.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/opening.hpp"
#include "cli/options/degrees.hpp"
#include "cli/showing/json.hpp"
#include "cli/showing/table.hpp"
#include "cli/showing/wording.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/settings.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

using records::Degrees;

// No bed that seed is sown in is so warm, and none that is looked at so cold: from memory.
constexpr double too_hot_c = 45;
constexpr double too_cold_c = -15;

void declare(Options& options) {
  options.words("PAIR",
                "A1=18.5 or A1=64F one reading, A1=8..24 the lowest and the highest; "
                "instead of a sowing a place: bench=12",
                0, any_number);
  options.moment("on", "when; else today. A time of day tells a cold morning from a warm noon");
  options.flag("place", "a place that is new to the logbook");
  options.choice("unit", "C or F", {"C", "F"},
                 "from now on plain numbers are Celsius, or Fahrenheit, and so are screens");
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

// "A1=18.5" to a name and its degrees.
Reading reading_of(const std::string& word, DegreesTyped& degrees) {
  const std::size_t equals = word.rfind('=');
  if (equals == std::string::npos || equals == 0)
    throw records::Refused(
        fmt::format("\"{}\" has no temperature. Write A1=18.5, or A1=8..24.", word));
  Reading reading;
  reading.name = word.substr(0, equals);
  const std::string value = word.substr(equals + 1);
  const records::TypedRange read = degrees.read(reading.name + '=', value, soil_bounds);
  records::Temperature& temperature = reading.temperature;
  if (value.find("..") == std::string::npos) {
    temperature.spot_c = read.low;
  } else {
    temperature.min_c = read.low;
    temperature.max_c = read.high;
  }
  return reading;
}

void keep(logbook::Entry& entry, const Arguments& arguments, const records::Moment& at,
          Reading& reading) {
  records::Temperature& temperature = reading.temperature;
  temperature.at = at;
  temperature.by = entry.by();
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
}

std::vector<Reading> keep_all(logbook::Entry& entry, const Arguments& arguments,
                              const records::Moment& at) {
  DegreesTyped degrees(entry);
  std::vector<Reading> all;
  for (const std::string& word : arguments.words()) all.push_back(reading_of(word, degrees));
  degrees.settle();
  for (Reading& reading : all) keep(entry, arguments, at, reading);
  return all;
}

std::string unit_words(Degrees unit) {
  return unit == Degrees::fahrenheit ? "Fahrenheit" : "Celsius";
}

void say(logbook::Entry& entry, const std::vector<Reading>& all, std::optional<Degrees> set,
         const records::Moment& at) {
  std::vector<std::string> did;
  if (set) did.push_back("Plain temperatures are " + unit_words(*set));
  std::vector<std::string> names;
  for (const Reading& reading : all)
    names.push_back(reading.name + " " +
                    in_words(reading.temperature, logbook::shown_unit(entry.logbook())));
  if (!names.empty())
    did.push_back("Temperature of " + listed(names) + " on " + records::spoken(at, entry.today()));
  entry.say(did.size() == 1 ? did[0] : did[0] + "; " + did[1]);
}

Json answer(const std::vector<Reading>& all, const records::Moment& at,
            std::optional<Degrees> unit) {
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
  return {{"temperatures", list},
          {"plain_unit", unit ? Json(*unit == Degrees::fahrenheit ? "F" : "C") : Json()}};
}

// What no soil with seed in it is, as far as is known: kept, but pointed at.
void remark_extremes(const Context& context, const std::vector<Reading>& all, Degrees unit) {
  for (const Reading& reading : all) {
    const records::Temperature& read = reading.temperature;
    const auto coldest = read.min_c ? read.min_c : read.spot_c;
    const auto hottest = read.max_c ? read.max_c : read.spot_c;
    const auto remark = [&](double celsius, const char* what) {
      context.screen.remark(fmt::format("{}: {} is {} gets. It is kept; a slip? plumule undo",
                                        reading.name, records::shown_temperature(celsius, unit),
                                        what));
    };
    if (coldest && *coldest < too_cold_c) remark(*coldest, "colder than soil with seed in it");
    if (hottest && *hottest > too_hot_c) remark(*hottest, "hotter than soil with seed in it");
  }
}

int run(Context& context, const Arguments& arguments) {
  const records::Moment at = arguments.moment("on").value_or(records::Moment{context.today, {}});
  std::optional<Degrees> set;
  if (const auto unit = arguments.text("unit"))
    set = *unit == "F" ? Degrees::fahrenheit : Degrees::celsius;
  if (!set && arguments.words().empty())
    throw WrongUsage(
        "Which temperature? A1=18.5 or A1=64F of a sowing, bench=12 of a place; --unit F, once, "
        "if your thermometer is in Fahrenheit.");
  logbook::Logbook logbook = open_logbook(context, logbook::Access::write);
  logbook::Entry entry = begin(logbook, context);
  if (set) logbook::set_temperature_unit(entry, *set);
  const std::vector<Reading> all = keep_all(entry, arguments, at);
  say(entry, all, set, at);
  entry.commit();

  if (context.json) {
    print_json(context, answer(all, at, logbook::temperature_unit(logbook)));
    return 0;
  }
  const Degrees unit = logbook::shown_unit(logbook);
  if (set)
    context.screen.paragraph(fmt::format(
        "Plain temperatures are {} from now on, typed and shown; 18C and 64F are always "
        "understood. What was kept before stays what it was; what is published of crops is in "
        "Celsius.",
        unit_words(*set)));
  if (!all.empty()) context.screen.line(records::spoken(at, context.today));
  Table table({"", ""});
  for (const Reading& reading : all)
    table.row({reading.name, in_words(reading.temperature, unit) +
                                 (reading.there ? ": stood there already" : "")});
  if (!all.empty()) table.print(context.screen);
  remark_extremes(context, all, unit);
  return 0;
}

}  // namespace

extern const Command temp_command;
const Command temp_command{.name = "temp",
                           .group = Group::keep,
                           .summary = "a soil temperature",
                           .about =
                               "Keeps temperatures: of a sowing's soil, or of a place "
                               "for all that stands there, in Celsius or, as 64F, in Fahrenheit. "
                               "One reading is never taken for the "
                               "day's mean; the lowest and the highest together say more.",
                           .example = "plumule temp W2=14.5 'heat mat=19..24'",
                           .writes = true,
                           .declare = declare,
                           .run = run};

}  // namespace plumule::cli
