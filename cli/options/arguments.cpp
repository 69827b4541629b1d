// The door to CLI11: it sorts options from words; every value is then read here, so that each
// mistake has a sentence of ours. A word is marked before CLI11 sees it, so that `-2.5`, `[x]` or
// an empty text is never taken for an option or a list.
#include "cli/options/arguments.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cctype>
#include <charconv>
#include <cmath>

#include "cli/showing/screen.hpp"
#include "records/letters.hpp"
#include "records/names.hpp"
#include "records/said_date.hpp"
#include "records/temperature.hpp"

namespace plumule::cli {
namespace {

constexpr char word_mark = '\x01';

bool looks_like_option(const std::string& text) {
  if (text.size() < 2 || text[0] != '-') return false;
  if (text[1] == '-') return true;
  return std::isalpha(static_cast<unsigned char>(text[1])) != 0;
}

const Option* find_anywhere(const Options& options, std::string_view name) {
  const Option* own = options.find(name);
  return own != nullptr ? own : everywhere().find(name);
}

std::string unknown_option(const Options& options, const std::string& typed) {
  if (const auto hint = options.hint_elsewhere(std::string_view(typed).substr(2)); !hint.empty())
    return fmt::format("There is no option {} here. {}", typed, hint);
  std::vector<std::string> known;
  for (const Options* some : {&options, &everywhere()})
    for (const Option& option : some->all()) known.push_back("--" + std::string(option.name));
  const std::vector<std::string> near = records::nearest(typed, known);
  return near.empty() ? fmt::format("There is no option {} here.", typed)
                      : fmt::format("There is no option {} here. Did you mean {}?", typed, near[0]);
}

// Splits --name=value, marks the words, and puts all in the order CLI11 wants: last first.
std::vector<std::string> for_cli11(const Options& options, const std::vector<std::string>& typed) {
  std::vector<std::string> tokens;
  bool only_words = false;
  for (const std::string& text : typed) {
    if (!only_words && text == "--") {
      only_words = true;
      continue;
    }
    if (only_words || !looks_like_option(text)) {
      tokens.push_back(word_mark + text);
      continue;
    }
    const std::size_t equals = text.find('=');
    tokens.push_back(text == "-h" ? "--help" : text.substr(0, equals));
    if (equals == std::string::npos) continue;
    const Option* option = find_anywhere(options, std::string_view(tokens.back()).substr(2));
    if (option != nullptr && option->takes == Takes::flag)
      throw WrongUsage(fmt::format("{} takes no value.", tokens.back()));
    tokens.push_back(word_mark + text.substr(equals + 1));
  }
  return {tokens.rbegin(), tokens.rend()};
}

std::string wanted(const Option& option) {
  switch (option.takes) {
    case Takes::whole:
      return "a whole number";
    case Takes::number:
      return option.choices.empty() ? "a number"
                                    : "a number or " + std::string(option.choices.front());
    case Takes::share:
      return "a fraction such as 0.9, or a percentage such as 90%";
    case Takes::points:
      return "a number of points from 1 to 100, such as 10";
    case Takes::temperature:
      return "a temperature such as 18C or 64F";
    case Takes::date:
      return "a date, YYYY-MM-DD";
    case Takes::moment:
      return "a date, YYYY-MM-DD or with a time YYYY-MM-DDTHH:MM";
    case Takes::choice: {
      std::string all;
      for (std::size_t i = 0; i < option.choices.size(); ++i) {
        if (i > 0) all += i + 1 == option.choices.size() ? " or " : ", ";
        all += option.choices[i];
      }
      return all;
    }
    case Takes::flag:
      return "nothing";
    case Takes::text:
      break;
  }
  return std::string(option.value);
}

// `until` lies ahead, all other days behind.
bool ahead(const Option& option) { return option.name == "until"; }

std::optional<records::Moment> read_moment(const Option& option, std::string_view text,
                                           records::Date today) {
  return records::parse_said_moment(text, today, ahead(option));
}

void check_number(const Option& option, const std::string& text, std::optional<double> value) {
  if (!value) {
    const bool comma = text.find(',') != std::string::npos;
    throw WrongUsage(fmt::format("--{} {}: {} is needed{}.", option.name, text, wanted(option),
                                 comma ? ", with a point and no comma" : ""));
  }
  if (*value < option.lowest || *value > option.highest)
    throw WrongUsage(
        option.highest < 1e9
            ? fmt::format("--{} {}: from {:g} to {:g} is possible.", option.name, text,
                          option.lowest, option.highest)
            : fmt::format("--{} {}: {:g} or more is possible.", option.name, text, option.lowest));
}

// What is below 1 may be meant as a share, or as a part of a point.
void check_points(const Option& option, const std::string& text) {
  const auto value = read_points(text);
  const auto plain = read_number(text);
  if (plain && *plain > 0 && *plain < 1)
    throw WrongUsage(
        fmt::format("--{0} {1}: {2:g} points? Then --{0} {2:g}. Less than one point no trial can "
                    "show: from 1 to 100 is possible.",
                    option.name, text, *plain * 100));
  if (!value || *value < option.lowest || *value > option.highest)
    throw WrongUsage(
        fmt::format("--{} {}: {} is needed{}.", option.name, text, wanted(option),
                    text.find(',') == std::string::npos ? "" : ", with a point and no comma"));
}

void check_value(const Option& option, const std::string& text, records::Date today) {
  switch (option.takes) {
    case Takes::flag:
      return;
    case Takes::text:
      if (!option.may_be_empty && text.find_first_not_of(" \t") == std::string::npos)
        throw WrongUsage(fmt::format("--{} needs a value: {}.", option.name, wanted(option)));
      return;
    case Takes::whole:
      if (const auto value = read_whole(text))
        return check_number(option, text, static_cast<double>(*value));
      return check_number(option, text, {});
    case Takes::number:
      if (!option.choices.empty() && text == option.choices.front()) return;
      return check_number(option, text, read_number(text));
    case Takes::share:
      if (const auto plain = read_number(text); plain && *plain >= 2 && *plain <= 100)
        throw WrongUsage(
            fmt::format("--{0} {1}: write {1}% or {2:g}.", option.name, text, *plain / 100));
      return check_number(option, text, read_share(text));
    case Takes::points:
      return check_points(option, text);
    case Takes::temperature:
      if (!records::parse_temperature(text)) check_number(option, text, {});
      return;
    case Takes::date:
    case Takes::moment: {
      const auto moment = read_moment(option, text, today);
      if (!moment) {
        std::string trouble = records::said_date_trouble(text, today, ahead(option));
        if (!trouble.ends_with('?')) trouble += '.';
        throw WrongUsage(fmt::format("--{}: {}", option.name, trouble));
      }
      if (option.takes == Takes::date && moment->minute_of_day)
        throw WrongUsage(
            fmt::format("--{} {}: a day is needed, without a time.", option.name, text));
      return;
    }
    case Takes::choice:
      for (const std::string_view choice : option.choices)
        if (choice == text) return;
      throw WrongUsage(fmt::format("--{} {}: {} is possible.", option.name, text, wanted(option)));
  }
}

// Kept in a note or a name they would reach the terminal of everyone who reads it. A line end
// would break tables all the same.
void refuse_controls(const std::string& word) {
  if (!records::control_in(word)) return;
  const std::string shown = harmless(word, false);
  throw WrongUsage(
      fmt::format("A line end or another control character stands in: {}. Write it in one line, in "
                  "plain letters.",
                  shown.substr(0, shown.find('\n'))));
}

}  // namespace

std::optional<double> read_number(std::string_view text) {
  if (!text.empty() && text[0] == '+') text.remove_prefix(1);
  double value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || stop != end || !std::isfinite(value)) return {};
  return value;
}

std::optional<std::int64_t> read_whole(std::string_view text) {
  if (text.size() > 1 && text[0] == '+') text.remove_prefix(1);
  std::int64_t value = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || stop != end) return {};
  return value;
}

std::optional<double> read_share(std::string_view text) {
  const bool percent = !text.empty() && text.back() == '%';
  if (percent) text.remove_suffix(1);
  auto value = read_number(text);
  if (value && percent) *value /= 100;
  if (!value || *value < 0 || *value > 1) return {};
  return value;
}

std::optional<double> read_points(std::string_view text) {
  if (!text.empty() && text.back() == '%') text.remove_suffix(1);
  auto value = read_number(text);
  if (value) *value /= 100;
  return value;
}

Arguments read_arguments(const Options& options, const std::vector<std::string>& typed,
                         records::Date today) {
  for (const std::string& word : typed) refuse_controls(word);
  CLI::App app;
  app.set_help_flag();
  app.allow_extras();
  std::vector<std::pair<const Option*, CLI::Option*>> known;
  for (const Options* some : {&options, &everywhere()})
    for (const Option& option : some->all()) {
      const std::string name = "--" + std::string(option.name);
      CLI::Option* made = option.takes == Takes::flag ? app.add_flag(name) : app.add_option(name);
      made->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
      known.emplace_back(&option, made);
    }
  try {
    app.parse(for_cli11(options, typed));
  } catch (const CLI::ArgumentMismatch& error) {
    const std::string what = error.what();
    const std::string name = what.substr(0, what.find(':'));
    const Option* option = find_anywhere(options, std::string_view(name).substr(2));
    throw WrongUsage(
        fmt::format("{} needs a value: {}.", name, option != nullptr ? wanted(*option) : "one"));
  }

  Arguments given;
  given.options_ = &options;
  given.today_ = today;
  for (const std::string& extra : app.remaining()) {
    if (extra.empty() || extra[0] != word_mark) throw WrongUsage(unknown_option(options, extra));
    given.words_.push_back(extra.substr(1));
  }
  for (const auto& [option, made] : known) {
    if (made->count() == 0) continue;
    std::vector<std::string>& kept = given.values_[std::string(option->name)];
    if (option->takes == Takes::flag) continue;
    if (made->count() > 1 && !option->repeats)
      throw WrongUsage(fmt::format("--{} is given twice.", option->name));
    for (const std::string& value : made->results()) {
      if (value.empty() || value[0] != word_mark)  // the next option was swallowed
        throw WrongUsage(fmt::format("--{} needs a value: {}.", option->name, wanted(*option)));
      kept.push_back(value.substr(1));
    }
  }
  if (const auto set = given.values_.find("today"); set != given.values_.end()) {
    check_value(*everywhere().find("today"), set->second[0], today);
    given.today_ = read_moment(*everywhere().find("today"), set->second[0], today)->date;
  }
  for (const auto& [name, values] : given.values_)
    for (const std::string& value : values)
      check_value(*find_anywhere(options, name), value, given.today_);

  const Words& words = options.words();
  if (given.has("help") || given.has("help-all")) return given;
  if (given.words_.size() < words.least)
    throw WrongUsage(fmt::format("{} is missing: {}.", words.name, words.help));
  if (given.words_.size() > words.most)
    throw WrongUsage(fmt::format("\"{}\" is one word too many here.", given.words_[words.most]));
  return given;
}

const Option& Arguments::declared(std::string_view name) const {
  const Option* option = find_anywhere(*options_, name);
  if (option == nullptr) throw std::logic_error("undeclared option " + std::string(name));
  return *option;
}

bool Arguments::has(std::string_view name) const {
  declared(name);
  return values_.find(name) != values_.end();
}

std::optional<std::string> Arguments::text(std::string_view name) const {
  declared(name);
  const auto found = values_.find(name);
  if (found == values_.end()) return {};
  return found->second.front();
}

std::vector<std::string> Arguments::texts(std::string_view name) const {
  declared(name);
  const auto found = values_.find(name);
  return found == values_.end() ? std::vector<std::string>{} : found->second;
}

std::optional<std::int64_t> Arguments::whole(std::string_view name) const {
  const auto value = text(name);
  return value ? read_whole(*value) : std::nullopt;
}

std::optional<double> Arguments::number(std::string_view name) const {
  const auto value = text(name);
  if (!value) return {};
  const Takes takes = declared(name).takes;
  return takes == Takes::share    ? read_share(*value)
         : takes == Takes::points ? read_points(*value)
                                  : read_number(*value);
}

std::optional<records::Date> Arguments::date(std::string_view name) const {
  const auto value = moment(name);
  if (!value) return {};
  return value->date;
}

std::optional<records::Moment> Arguments::moment(std::string_view name) const {
  const auto value = text(name);
  return value ? read_moment(declared(name), *value, today_) : std::nullopt;
}

}  // namespace plumule::cli
