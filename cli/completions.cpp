// Completion of commands and options in the three usual shells.
#include <fmt/format.h>

#include "cli/command.hpp"
#include "cli/man_page.hpp"

namespace plumule::cli {
namespace {

std::string escaped(std::string_view text) {
  std::string out;
  for (const char letter : text) {
    if (letter == '\'')
      out += "'\\''";
    else if (letter == '[' || letter == ']' || letter == ':')
      out.append("\\").push_back(letter);
    else
      out += letter;
  }
  return out;
}

std::vector<Option> options_of(const Command& command) {
  Options own;
  command.declare(own);
  std::vector<Option> all = own.all();
  for (const Option& option : everywhere().all()) all.push_back(option);
  return all;
}

std::vector<const Command*> shown() {
  std::vector<const Command*> out;
  for (const Command* command : commands())
    if (command->group != Group::hidden) out.push_back(command);
  return out;
}

}  // namespace

std::string bash_completion() {
  std::string out =
      "# bash completion for plumule\n_plumule() {\n"
      "  local word=${COMP_WORDS[COMP_CWORD]} command= options= i\n"
      "  for ((i = 1; i < COMP_CWORD; i++)); do\n"
      "    case ${COMP_WORDS[i]} in\n"
      "      --log|--today|--who) ((i++)) ;;\n"
      "      -*) ;;\n"
      "      *) command=${COMP_WORDS[i]}; break ;;\n"
      "    esac\n  done\n  case $command in\n    '') options='";
  for (const Command* command : shown()) out.append(command->name).append(" ");
  for (const Option& option : everywhere().all()) out += fmt::format("--{} ", option.name);
  out += "--version' ;;\n";
  for (const Command* command : shown()) {
    out += fmt::format("    {}) options='", command->name);
    for (const Option& option : options_of(*command)) out += fmt::format("--{} ", option.name);
    out.back() = '\'';
    out += " ;;\n";
  }
  return out +
         "  esac\n  if [[ -z $command || $word == -* ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$word\"))\n"
         "  else\n    COMPREPLY=($(compgen -f -- \"$word\"))\n  fi\n}\n"
         "complete -o default -F _plumule plumule\n";
}

std::string zsh_completion() {
  std::string out =
      "#compdef plumule\n_plumule() {\n  local -a commands everywhere\n  everywhere=(\n";
  for (const Option& option : everywhere().all())
    out += fmt::format("    '--{}[{}]{}'\n", option.name, escaped(option.help),
                       option.takes == Takes::flag ? "" : ":" + escaped(option.value) + ":_files");
  out += "  )\n  commands=(\n";
  for (const Command* command : shown())
    out += fmt::format("    '{}:{}'\n", command->name, escaped(command->summary));
  out +=
      "  )\n  local curcontext=$curcontext state line\n"
      "  _arguments -C $everywhere '1:command:->command' '*::word:->words'\n"
      "  case $state in\n    command) _describe command commands ;;\n    words)\n"
      "      case $words[1] in\n";
  for (const Command* command : shown()) {
    out += fmt::format("        {}) _arguments $everywhere", command->name);
    Options own;
    command->declare(own);
    for (const Option& option : own.all())
      out += fmt::format(
          " '{}--{}[{}]{}'", option.repeats ? "*" : "", option.name, escaped(option.help),
          option.takes == Takes::flag ? "" : ":" + escaped(option.value) + ":_files");
    out += " '*:word:_files' ;;\n";
  }
  return out + "      esac ;;\n  esac\n}\n_plumule \"$@\"\n";
}

std::string fish_completion() {
  std::string out = "# fish completion for plumule\n";
  for (const Option& option : everywhere().all())
    out += fmt::format("complete -c plumule -l {}{} -d '{}'\n", option.name,
                       option.takes == Takes::flag ? "" : " -r", escaped(option.help));
  for (const Command* command : shown()) {
    out += fmt::format("complete -c plumule -n __fish_use_subcommand -f -a {} -d '{}'\n",
                       command->name, escaped(command->summary));
    Options own;
    command->declare(own);
    for (const Option& option : own.all())
      out +=
          fmt::format("complete -c plumule -n '__fish_seen_subcommand_from {}' -l {}{} -d '{}'\n",
                      command->name, option.name, option.takes == Takes::flag ? "" : " -r",
                      escaped(option.help));
  }
  return out;
}

}  // namespace plumule::cli
