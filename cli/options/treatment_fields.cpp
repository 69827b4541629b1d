// The label of a treatment that only soaks is made from its hours.
#include "cli/options/treatment_fields.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "records/number_check.hpp"

namespace plumule::cli {
namespace {

double soak_hours(const std::string& text) {
  const auto hours = read_number(text);
  if (!hours || *hours < 0 || *hours > 1000)
    throw WrongUsage(fmt::format("--soak {}: hours are needed, from 0 to 1000.", text));
  return *hours;
}

}  // namespace

void declare_treatment_fields(Options& options) {
  options.heading("What was done to the seed");
  options.texts("treatment", "NAME", "what was done to the seed");
  options.texts("soak", "HOURS", "soaked so long; 0 is untreated");
  options.temperature("water", "temperature of the soak");
  options.text("scarify", "WORDS", "nicked, filed, hot water ...");
  options.number("chill", "DAYS", "chilled so long");
  options.temperature("chill-at", "temperature of the chilling");
  options.text("prime", "WORDS", "priming");
  options.moment("wetted", "when the soak began; else its hours before sowing");
  for (const char* name : {"scarify", "prime"}) options.erasable(name);
  options.flag("new", "a treatment or trial of that name is made, without more facts");
}

bool gives_treatment_facts(const Arguments& arguments) {
  for (const char* name : {"soak", "water", "scarify", "chill", "chill-at", "prime"})
    if (arguments.has(name)) return true;
  return false;
}

void lay_facts(const Arguments& arguments, records::Treatment& treatment, std::size_t which) {
  const std::vector<std::string> soaks = arguments.texts("soak");
  if (which < soaks.size()) treatment.soak_hours = soak_hours(soaks[which]);
  if (const auto words = arguments.text("scarify")) treatment.scarification = *words;
  if (const auto chill = arguments.number("chill")) treatment.chill_days = chill;
  if (const auto words = arguments.text("prime")) treatment.priming = *words;
}

void lay_temperatures(const Arguments& arguments, DegreesTyped& degrees,
                      records::Treatment& treatment) {
  if (const auto water = degrees.read(arguments, "water", {-5, 100})) treatment.water_c = water;
  if (const auto chill_at = degrees.read(arguments, "chill-at", {-30, 30}))
    treatment.chill_c = chill_at;
}

void lay_temperatures(const Arguments& arguments, logbook::Entry& entry,
                      std::vector<bench::TreatmentAsked>& asked) {
  if (asked.empty()) return;
  DegreesTyped degrees(entry);
  records::Treatment typed;
  lay_temperatures(arguments, degrees, typed);
  degrees.settle();
  for (bench::TreatmentAsked& one : asked) {
    one.treatment.water_c = typed.water_c;
    one.treatment.chill_c = typed.chill_c;
  }
}

std::vector<bench::TreatmentAsked> treatments_typed(const Arguments& arguments) {
  const std::vector<std::string> names = arguments.texts("treatment");
  const std::vector<std::string> soaks = arguments.texts("soak");
  const bool facts = gives_treatment_facts(arguments);
  if (names.empty() && soaks.empty() && facts)
    throw WrongUsage("Give what was done to the seed a label: --treatment NAME.");
  if (names.size() > 1 && facts && soaks.size() != names.size())
    throw WrongUsage(
        "With several treatments there must be one --soak for each, in the same order, or none.");
  if (names.size() == 1 && soaks.size() > 1)
    throw WrongUsage("One --treatment has one --soak. Leave --treatment out to have each named.");
  std::vector<bench::TreatmentAsked> asked;
  for (std::size_t i = 0; i < std::max(names.size(), soaks.size()); ++i) {
    records::Treatment wanted;
    if (facts) lay_facts(arguments, wanted, i);
    if (!names.empty())
      wanted.label = names[i];
    else
      wanted.label = *wanted.soak_hours == 0 ? std::string(records::untreated)
                                             : "soak-" + records::shown(*wanted.soak_hours) + "h";
    asked.push_back({std::move(wanted), facts, arguments.flag("new")});
  }
  return asked;
}

}  // namespace plumule::cli
