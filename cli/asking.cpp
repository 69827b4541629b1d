#include "cli/asking.hpp"

#include <fmt/format.h>

#include <map>
#include <memory>
#include <set>

#include "cli/options/own_rho.hpp"
#include "logbook/record/sowings.hpp"

namespace plumule::cli {

report::Style style_of(const Context& context) { return context.screen.style(); }

std::vector<logbook::Named> named_words(logbook::Logbook& logbook, const Arguments& arguments) {
  std::vector<logbook::Named> names;
  for (const std::string& word : arguments.words()) names.push_back(logbook::named(logbook, word));
  return names;
}

void each_named(logbook::Logbook& logbook, const std::vector<logbook::Named>& names,
                const std::function<void(const records::History&)>& take, bool whole_trials) {
  const auto each = [&](logbook::Selection selection, const auto& give) {
    selection.whole_trials = whole_trials;
    logbook::each_history(logbook, selection, give);
  };
  if (names.empty()) return each({}, take);
  if (names.size() == 1) return each(logbook::selection_of(logbook, names.front()), take);
  std::set<records::Id> taken;
  for (const logbook::Named& name : names)
    each(logbook::selection_of(logbook, name), [&](const records::History& history) {
      if (taken.insert(history.sowing.id).second) take(history);
    });
}

std::function<bool(const std::string&)> shared_labels(logbook::Logbook& logbook) {
  auto known = std::make_shared<std::map<std::string, bool>>();
  return [&logbook, known](const std::string& label) {
    if (known->size() > 10'000) known->clear();  // a logbook of any size
    const auto [at, fresh] = known->try_emplace(label, false);
    if (fresh) at->second = logbook::label_shared(logbook, label);
    return at->second;
  };
}

void declare_statistics(Options& options) {
  options.text("level", "LEVEL", "of the intervals: 0.95 unless told");
  declare_rho(options,
              "how alike seeds of one sowing are, instead of what is assumed; own: as your own "
              "replicated sowings say");
  options.choice("model", "FAMILY",
                 {"auto", "log-logistic", "lognormal", "weibull", "gamma", "none"},
                 "of emergence times; auto takes the best");
  options.whole("seed", "SEED", "for whatever is drawn by lot", 0, 9e15);
}

double level_of(const Arguments& arguments, double otherwise) {
  const auto typed = arguments.text("level");
  if (!typed) return otherwise;
  std::string text = *typed;
  const bool percent = text.ends_with('%');
  if (percent) text.pop_back();
  const auto number = read_number(text);
  if (number) {
    if (*number == 1 && !percent)
      throw WrongUsage(
          "--level 1: an interval that is always right says nothing. 0.99 for 99 %? 1% for 1 %?");
    if (*number > 1 && *number < 50 && !percent)
      throw WrongUsage(
          fmt::format("--level {0}: is {0} % meant? Then {0}%; as a rule it is 90% or "
                      "more.",
                      text));
    const double level = percent || *number > 1 ? *number / 100 : *number;
    if (level > 0 && level < 1) return level;
  }
  throw WrongUsage(
      fmt::format("--level {}: a level lies between 0 and 1, for example 0.95.", *typed));
}

analysis::GroupOptions statistics_options(const Arguments& arguments) {
  analysis::GroupOptions options;
  options.level = level_of(arguments);
  if (const auto seed = arguments.whole("seed")) options.seed = static_cast<std::uint64_t>(*seed);
  const std::string model = arguments.text("model").value_or("auto");
  options.model = model != "none";
  if (model == "log-logistic") options.family = stats::TimeFamily::log_logistic;
  if (model == "lognormal") options.family = stats::TimeFamily::lognormal;
  if (model == "weibull") options.family = stats::TimeFamily::weibull;
  if (model == "gamma") options.family = stats::TimeFamily::gamma;
  return options;
}

}  // namespace plumule::cli
