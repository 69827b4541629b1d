// The manual page in roff.
#include "cli/help/man_page.hpp"

#include <fmt/format.h>

#include "cli/command.hpp"
#include "cli/help/help.hpp"

namespace plumule::cli {
namespace {

std::string roff(std::string_view text) {
  std::string out;
  for (const char letter : text) {
    if (letter == '\\')
      out += "\\e";
    else if (letter == '-')
      out += "\\-";
    else if ((letter == '.' || letter == '\'') && (out.empty() || out.back() == '\n'))
      out.append("\\&").push_back(letter);
    else
      out += letter;
  }
  return out;
}

std::string page_of_option(const Option& option) {
  std::string out = ".TP\n.B \\-\\-" + roff(option.name);
  if (option.takes != Takes::flag) out += " \\fI" + roff(option.value) + "\\fR";
  out += "\n" + roff(option.help);
  for (std::size_t i = 0; i < option.choices.size(); ++i)
    out.append(i == 0 ? ": " : ", ").append(roff(option.choices[i]));
  return out + "\n";
}

std::string page_of_command(const Command& command) {
  Options options;
  command.declare(options);
  std::string out = ".SS " + roff(usage_of(command, options)) + "\n" + roff(command.about) + "\n";
  if (options.words().most > 0)
    out += fmt::format(".TP\n.I {}\n{}\n", roff(options.words().name), roff(options.words().help));
  for (const Option& option : options.all()) out += page_of_option(option);
  if (!command.example.empty())
    out += fmt::format(".PP\nExample:\n.PP\n.nf\n    {}\n.fi\n", roff(command.example));
  return out;
}

}  // namespace

std::string man_page() {
  std::string out =
      ".TH PLUMULE 1 \"\" \"plumule " PLUMULE_VERSION
      "\" \"User Commands\"\n"
      ".SH NAME\nplumule \\- a germination\\-trial logbook and its statistics\n"
      ".SH SYNOPSIS\n.B plumule\n[\\fB\\-\\-log\\fR \\fIFILE\\fR] [\\fB\\-\\-json\\fR] "
      "\\fICOMMAND\\fR\n"
      ".SH DESCRIPTION\nA grower's counts of what came up, kept in one SQLite file, and what they "
      "show: whether an old lot is worth sowing, whether a treatment truly helped, how many seeds "
      "to sow and when to give up.\n.SH OPTIONS OF EVERY COMMAND\n";
  for (const Option& option : everywhere().all()) out += page_of_option(option);
  for (const Group group : {Group::keep, Group::answer, Group::plan, Group::mind}) {
    std::string part;
    for (const Command* command : commands())
      if (command->group == group) part += page_of_command(*command);
    if (!part.empty()) out += ".SH \"" + roff(heading(group)) + "\"\n" + part;
  }
  out +=
      ".SH EXIT STATUS\n0 done; 1 refused (bad data, not found); 2 wrong usage; 3 the logbook "
      "could not be read or written; 4 done and kept, but the answer could not be printed.\n"
      ".SH ENVIRONMENT\n.TP\n.B PLUMULE_LOG\nthe logbook, where \\-\\-log names none\n"
      ".TP\n.B XDG_DATA_HOME\nelse the logbook is plumule/plumule.db below it, or below "
      "~/.local/share\n"
      ".TP\n.B PLUMULE_WHO\nwho looks and writes, where \\-\\-who names nobody\n"
      ".TP\n.B NO_COLOR\nno colour, if set\n";
  return out;
}

}  // namespace plumule::cli
