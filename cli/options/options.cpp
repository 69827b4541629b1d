// The declarations that commands make, kept in the order in which help shows them.
#include "cli/options/options.hpp"

namespace plumule::cli {

void Options::words(std::string_view name, std::string_view help, std::size_t least,
                    std::size_t most) {
  words_ = {name, help, least, most};
}

void Options::flag(std::string_view name, std::string_view help) {
  add({.name = name, .value = {}, .help = help, .takes = Takes::flag, .choices = {}});
}

void Options::text(std::string_view name, std::string_view value, std::string_view help) {
  add({.name = name, .value = value, .help = help, .choices = {}});
}

void Options::texts(std::string_view name, std::string_view value, std::string_view help) {
  add({.name = name, .value = value, .help = help, .repeats = true, .choices = {}});
}

void Options::whole(std::string_view name, std::string_view value, std::string_view help,
                    double lowest, double highest) {
  add({.name = name,
       .value = value,
       .help = help,
       .takes = Takes::whole,
       .lowest = lowest,
       .highest = highest,
       .choices = {}});
}

void Options::number(std::string_view name, std::string_view value, std::string_view help,
                     double lowest, double highest) {
  add({.name = name,
       .value = value,
       .help = help,
       .takes = Takes::number,
       .lowest = lowest,
       .highest = highest,
       .choices = {}});
}

void Options::number_or(std::string_view name, std::string_view value, std::string_view word,
                        std::string_view help, double lowest, double highest) {
  add({.name = name,
       .value = value,
       .help = help,
       .takes = Takes::number,
       .lowest = lowest,
       .highest = highest,
       .choices = {word}});
}

void Options::share(std::string_view name, std::string_view value, std::string_view help) {
  add({.name = name,
       .value = value,
       .help = help,
       .takes = Takes::share,
       .lowest = 0,
       .highest = 1,
       .choices = {}});
}

void Options::points(std::string_view name, std::string_view help) {
  add({.name = name,
       .value = "POINTS",
       .help = help,
       .takes = Takes::points,
       .lowest = 0.01,
       .highest = 1,
       .choices = {}});
}

void Options::temperature(std::string_view name, std::string_view help) {
  add({.name = name, .value = "DEGREES", .help = help, .takes = Takes::temperature, .choices = {}});
}

void Options::date(std::string_view name, std::string_view help) {
  add({.name = name, .value = "DATE", .help = help, .takes = Takes::date, .choices = {}});
}

void Options::moment(std::string_view name, std::string_view help) {
  add({.name = name, .value = "DATE", .help = help, .takes = Takes::moment, .choices = {}});
}

void Options::choice(std::string_view name, std::string_view value,
                     std::vector<std::string_view> choices, std::string_view help) {
  add({.name = name,
       .value = value,
       .help = help,
       .takes = Takes::choice,
       .choices = std::move(choices)});
}

void Options::add(Option option) {
  option.heading = heading_;
  options_.push_back(std::move(option));
}

void Options::erasable(std::string_view name) {
  for (Option& option : options_)
    if (option.name == name) option.may_be_empty = true;
}

void Options::usual(std::initializer_list<std::string_view> names) {
  for (const std::string_view name : names)
    for (Option& option : options_)
      if (option.name == name) option.usual = true;
}

const Option* Options::find(std::string_view name) const {
  for (const Option& option : options_)
    if (option.name == name) return &option;
  return nullptr;
}

std::string_view Options::hint_elsewhere(std::string_view name) const {
  for (const auto& [known, hint] : elsewhere_)
    if (known == name) return hint;
  return {};
}

const Options& everywhere() {
  static const Options options = [] {
    Options all;
    all.text("log", "FILE", "the logbook; else $PLUMULE_LOG, else your own");
    all.flag("json", "the answer as JSON");
    all.date("today", "the day to take for today");
    all.text("who", "NAME", "who looked and wrote; else $PLUMULE_WHO, else your login");
    all.flag("help", "what the command does, and what it takes as a rule");
    all.flag("help-all", "the same with every option explained");
    return all;
  }();
  return options;
}

}  // namespace plumule::cli
