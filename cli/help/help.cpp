// Help is laid out from the commands' own declarations, so that it cannot fall behind them.
#include "cli/help/help.hpp"

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

namespace {

using Rows = std::vector<std::pair<std::string, std::string>>;

// Every option explained, heading by heading.
std::string explained(const Options& options, Rows list, const Screen& screen) {
  std::string out;
  std::string_view heading;
  const auto print = [&] {
    if (list.empty()) return;
    out += "\n";
    if (!heading.empty()) out += screen.toned(Tone::strong, heading) + "\n";
    out += rows(list, screen.width());
    list.clear();
  };
  for (const Option& option : options.all()) {
    if (option.heading != heading) {
      print();
      heading = option.heading;
    }
    list.emplace_back(left_of(option), help_text(option));
  }
  print();
  return out;
}

// The usual ones explained, the others named.
std::string usual_and_named(const Command& command, const Options& options, Rows list,
                            const Screen& screen) {
  Rows named;
  for (const Option& option : options.all()) {
    if (option.usual) {
      list.emplace_back(left_of(option), help_text(option));
      continue;
    }
    const std::string heading(option.heading.empty() ? "Also" : option.heading);
    if (named.empty() || named.back().first != heading) named.emplace_back(heading, "");
    named.back().second += (named.back().second.empty() ? "--" : " --") + std::string(option.name);
  }
  std::string out = "\n" + rows(list, screen.width()) + "\n";
  for (const auto& [heading, names] : named)
    out += screen.toned(Tone::strong, heading) + "\n  " + wrapped(names, screen.width(), 2) + "\n";
  return out + fmt::format("Each of them explained: plumule {} --help-all\n", command.name);
}

}  // namespace

std::string help_of(const Command& command, const Screen& screen, HelpPage page) {
  Options options;
  command.declare(options);
  const auto& all = options.all();
  std::string out = screen.toned(Tone::strong, usage_of(command, options)) + "\n";
  out += wrapped(command.about, screen.width()) + "\n";
  Rows list;
  if (options.words().most > 0) list.emplace_back(options.words().name, options.words().help);
  const bool some = std::any_of(all.begin(), all.end(), [](const auto& one) { return one.usual; });
  out += some && page == HelpPage::usual ? usual_and_named(command, options, list, screen)
                                         : explained(options, list, screen);
  out += "\nEverywhere: --log FILE, --json, --today DATE, --who NAME, --help\n";
  const bool dates = std::any_of(all.begin(), all.end(), [](const Option& option) {
    return option.takes == Takes::date || option.takes == Takes::moment;
  });
  if (dates) out += "A DATE is 2026-04-18, or said: yesterday, Sat, 18.4., '18 Apr'\n";
  if (command.example.empty()) return out;
  const std::string beside = "Example:    " + std::string(command.example);
  return out + (report::columns(beside) <= screen.width()
                    ? beside + "\n"
                    : "Example:\n  " + std::string(command.example) + "\n");
}

}  // namespace plumule::cli
