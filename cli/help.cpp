// Help is laid out from the commands' own declarations, so that it cannot fall behind them.
#include "cli/help.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <vector>

namespace plumule::cli {
namespace {

std::string left_of(const Option& option) {
  std::string text = "--" + std::string(option.name);
  if (option.takes != Takes::flag) text.append(" ").append(option.value);
  return text;
}

std::string help_text(const Option& option) {
  std::string text(option.help);
  if (option.takes == Takes::choice) {
    text += ": ";
    for (std::size_t i = 0; i < option.choices.size(); ++i)
      text.append(i == 0 ? "" : ", ").append(option.choices[i]);
  }
  if (option.repeats) text += " (may be repeated)";
  return text;
}

std::string rows(const std::vector<std::pair<std::string, std::string>>& all, int width) {
  int left = 0;
  for (const auto& [name, text] : all) left = std::max(left, report::columns(name));
  left = std::min(left, 22);
  std::string out;
  for (const auto& [name, text] : all) {
    const int pad = left - report::columns(name);
    out += "  " + name;
    if (pad < 0)
      out += "\n" + std::string(static_cast<std::size_t>(left) + 4, ' ');
    else
      out += std::string(static_cast<std::size_t>(pad) + 2, ' ');
    out += wrapped(text, width, left + 4) + "\n";
  }
  return out;
}

}  // namespace

std::string_view heading(Group group) {
  switch (group) {
    case Group::keep:
      return "Keep the log";
    case Group::answer:
      return "Answer from it";
    case Group::plan:
      return "Plan, print, show";
    case Group::mind:
      return "Mind the file, know the trade";
    case Group::hidden:
      break;
  }
  return "";
}

std::string overview(const Screen& screen) {
  std::string out = screen.toned(Tone::strong, "plumule [--log FILE] [--json] COMMAND");
  out += "   a germination logbook and its statistics\n";
  for (const Group group : {Group::keep, Group::answer, Group::plan, Group::mind}) {
    std::vector<std::string> cells;
    for (const Command* command : commands())
      if (command->group == group)
        cells.push_back(fmt::format("{:<9} {}", command->name, command->summary));
    if (cells.empty()) continue;
    out += screen.toned(Tone::strong, heading(group)) + "\n";
    const std::size_t half = (cells.size() + 1) / 2;
    for (std::size_t i = 0; i < half; ++i) {
      if (i + half < cells.size())
        out += fmt::format("  {:<38}{}\n", cells[i], cells[i + half]);
      else
        out += "  " + cells[i] + "\n";
    }
  }
  return out + "plumule COMMAND --help says more.  New here?  plumule demo\n";
}

std::string usage_of(const Command& command, const Options& options) {
  std::string out = "plumule " + std::string(command.name);
  const Words& words = options.words();
  if (words.most > 0) {
    std::string word(words.name);
    if (words.most > 1) word += "...";
    out += words.least == 0 ? " [" + word + "]" : " " + word;
  }
  return options.all().empty() ? out : out + " [options]";
}

std::string help_of(const Command& command, const Screen& screen) {
  Options options;
  command.declare(options);
  std::string out = screen.toned(Tone::strong, usage_of(command, options)) + "\n";
  out += wrapped(command.about, screen.width()) + "\n";
  std::vector<std::pair<std::string, std::string>> list;
  if (options.words().most > 0) list.emplace_back(options.words().name, options.words().help);
  std::string_view heading;
  const auto print = [&] {
    if (list.empty()) return;
    out += "\n";
    if (!heading.empty()) out += screen.toned(Tone::strong, heading) + "\n";
    out += rows(list, screen.width());
    list.clear();
  };
  bool dates = false;
  for (const Option& option : options.all()) {
    if (option.heading != heading) {
      print();
      heading = option.heading;
    }
    list.emplace_back(left_of(option), help_text(option));
    dates = dates || option.takes == Takes::date || option.takes == Takes::moment;
  }
  print();
  out += "\nEverywhere: --log FILE, --json, --today DATE, --who NAME, --help\n";
  if (dates) out += "A DATE is 2026-04-18, or said: yesterday, Sat, '18 Apr'\n";
  if (!command.example.empty()) out += "Example:    " + std::string(command.example) + "\n";
  return out;
}

}  // namespace plumule::cli
