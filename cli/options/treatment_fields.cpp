// A treatment keeps its facts: a label that is used again must mean the same.
#include "cli/options/treatment_fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "cli/showing/wording.hpp"
#include "logbook/record/treatments.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/number_check.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

double soak_hours(const std::string& text) {
  const auto hours = read_number(text);
  if (!hours || *hours < 0 || *hours > 1000)
    throw WrongUsage(fmt::format("--soak {}: hours are needed, from 0 to 1000.", text));
  return *hours;
}

records::Treatment known(logbook::Logbook& logbook, const std::string& label) {
  if (const auto found = logbook::find_treatment(logbook, label)) return *found;
  std::vector<std::string> labels;
  for (const records::Treatment& one : logbook::treatments(logbook)) labels.push_back(one.label);
  const std::vector<std::string> near = records::nearest(label, labels);
  throw records::Refused(fmt::format(
      "There is no treatment {} yet{}. A new one is made with its facts (--soak, --scarify, "
      "--chill, --prime), or without any by --new.",
      label, near.empty() ? "" : " (but " + listed(near) + ")"));
}

records::Treatment find_or_make(logbook::Entry& entry, const records::Treatment& wanted,
                                std::vector<std::string>& made) {
  if (const auto found = logbook::find_treatment(entry.logbook(), wanted.label)) {
    if (in_words(*found) != in_words(wanted))
      throw records::Refused(fmt::format(
          "Treatment {} is in the logbook as: {}. This one is: {}. Give it a label of its own: "
          "--treatment NAME.",
          found->label, in_words(*found).empty() ? "no facts" : in_words(*found),
          in_words(wanted).empty() ? "no facts" : in_words(wanted)));
    return *found;
  }
  logbook::add_treatment(entry, wanted);
  made.push_back(wanted.label);
  return wanted;
}

}  // namespace

void declare_treatment_fields(Options& options) {
  options.heading("What was done to the seed");
  options.texts("treatment", "NAME", "what was done to the seed");
  options.texts("soak", "HOURS", "soaked so long; 0 is untreated");
  options.number("water", "C", "temperature of the soak");
  options.text("scarify", "WORDS", "nicked, filed, hot water ...");
  options.number("chill", "DAYS", "chilled so long");
  options.number("chill-at", "C", "temperature of the chilling");
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
  if (const auto water = arguments.number("water")) treatment.water_c = water;
  if (const auto words = arguments.text("scarify")) treatment.scarification = *words;
  if (const auto chill = arguments.number("chill")) treatment.chill_days = chill;
  if (const auto chill_at = arguments.number("chill-at")) treatment.chill_c = chill_at;
  if (const auto words = arguments.text("prime")) treatment.priming = *words;
}

std::string in_words(const records::Treatment& treatment) {
  std::vector<std::string> parts;
  if (treatment.soak_hours) {
    parts.push_back("soaked " + records::shown(*treatment.soak_hours) + " h");
    if (treatment.water_c)
      parts.back() += " in water of " + records::shown(*treatment.water_c) + " C";
  } else if (treatment.water_c) {
    parts.push_back("water of " + records::shown(*treatment.water_c) + " C");
  }
  if (!treatment.scarification.empty()) parts.push_back(treatment.scarification);
  if (treatment.chill_days) {
    parts.push_back("chilled " + records::shown(*treatment.chill_days) + " days");
    if (treatment.chill_c) parts.back() += " at " + records::shown(*treatment.chill_c) + " C";
  } else if (treatment.chill_c) {
    parts.push_back("chilled at " + records::shown(*treatment.chill_c) + " C");
  }
  if (!treatment.priming.empty()) parts.push_back(treatment.priming);
  std::string text;
  for (const std::string& part : parts) text += (text.empty() ? "" : ", ") + part;
  return text;
}

Treatments treatments_typed(logbook::Entry& entry, const Arguments& arguments) {
  const std::vector<std::string> names = arguments.texts("treatment");
  const std::vector<std::string> soaks = arguments.texts("soak");
  const bool facts = gives_treatment_facts(arguments);
  Treatments found;
  if (names.empty() && soaks.empty() && facts)
    throw WrongUsage("Give what was done to the seed a label: --treatment NAME.");
  if (names.size() > 1 && facts && soaks.size() != names.size())
    throw WrongUsage(
        "With several treatments there must be one --soak for each, in the same order, or none.");
  if (names.size() == 1 && soaks.size() > 1)
    throw WrongUsage("One --treatment has one --soak. Leave --treatment out to have each named.");
  for (std::size_t i = 0; i < std::max(names.size(), soaks.size()); ++i) {
    records::Treatment wanted;
    if (facts) lay_facts(arguments, wanted, i);
    if (!names.empty())
      wanted.label = names[i];
    else
      wanted.label = *wanted.soak_hours == 0 ? std::string(records::untreated)
                                             : "soak-" + records::shown(*wanted.soak_hours) + "h";
    if (records::same_label(wanted.label, records::untreated))
      wanted = *logbook::find_treatment(entry.logbook(), records::untreated);
    else if (facts || arguments.flag("new"))
      wanted = find_or_make(entry, wanted, found.made);
    else
      wanted = known(entry.logbook(), wanted.label);
    found.all.push_back(wanted);
  }
  if (found.all.empty())
    found.all.push_back(*logbook::find_treatment(entry.logbook(), records::untreated));
  return found;
}

void check_wetting(const records::Treatment& treatment, const records::Sowing& sowing) {
  const double soaked = treatment.soak_hours.value_or(0) / 24;
  if (!sowing.wetted || soaked <= 0) return;
  const double wet = records::days_between(*sowing.wetted, sowing.sown);
  if (wet < 0 || std::fabs(wet - soaked) <= 1) return;  // a wetting after the sowing is refused
  throw records::Refused(fmt::format(
      "{}: {} was soaked {} hours, but wetted on {} and sown on {} it would be {}. Which is wrong? "
      "--wetted {}, or another treatment with --soak {:g}.",
      sowing.label, treatment.label, records::shown(*treatment.soak_hours),
      records::to_text(*sowing.wetted), records::to_text(sowing.sown),
      records::shown(std::round(wet * 24)),
      records::to_text(sowing.sown.date - std::chrono::days(std::lround(std::ceil(soaked)))),
      std::round(wet * 24)));
}

void put_in_jar(logbook::Entry& entry, const std::string& code, records::Sowing& sowing) {
  const auto jar = logbook::find_batch(entry.logbook(), code);
  if (jar && !records::same_label(jar->treatment, sowing.treatment))
    throw records::Refused(
        fmt::format("Jar {} holds seed of {}, not of {}. Give this jar another name.", jar->code,
                    jar->treatment, sowing.treatment));
  if (!jar) {
    records::Batch made;
    made.code = code;
    made.treatment = sowing.treatment;
    made.made_on = sowing.wetted ? sowing.wetted->date : sowing.sown.date;
    logbook::add_batch(entry, made);
  }
  sowing.batch = jar ? jar->code : code;
}

}  // namespace plumule::cli
