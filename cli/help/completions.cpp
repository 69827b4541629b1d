// Completion of commands and options in the three usual shells.
#include <fmt/format.h>

#include "cli/command.hpp"
#include "cli/help/man_page.hpp"

namespace plumule::cli {
namespace {

// Within single quotes; zsh also gives brackets and colons a meaning there.
std::string quoted(std::string_view text, std::string_view special) {
  std::string out;
  for (const char letter : text) {
    if (letter == '\'')
      out += "'\\''";
    else if (special.find(letter) != std::string_view::npos)
      out.append("\\").push_back(letter);
    else
      out += letter;
  }
  return out;
}

constexpr std::string_view zsh_special = "[]:";
constexpr std::string_view fish_special = "\\";

std::string choices_of(const Option& option) {
  std::string all;
  for (const std::string_view choice : option.choices)
    all.append(all.empty() ? "" : " ").append(choice);
  return all;
}

// What zsh does for an option's value: its choices, else files.
std::string zsh_value(const Option& option) {
  if (option.takes == Takes::flag) return {};
  const std::string choices = choices_of(option);
  return ":" + quoted(option.value, zsh_special) +
         (choices.empty() ? ":_files" : ":(" + choices + ")");
}

std::string fish_value(const Option& option) {
  if (option.takes == Takes::flag) return {};
  const std::string choices = choices_of(option);
  return choices.empty() ? " -r" : " -x -a '" + choices + "'";
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

// One line an option with choices: offered where the word before is that option.
std::string bash_choices() {
  std::string out;
  for (const Command* command : shown())
    for (const Option& option : options_of(*command))
      if (!option.choices.empty())
        out += fmt::format("    {}:--{}) COMPREPLY=($(compgen -W '{}' -- \"$word\")); return ;;\n",
                           command->name, option.name, choices_of(option));
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
  return out + "  esac\n  case $command:${COMP_WORDS[COMP_CWORD-1]} in\n" + bash_choices() +
         "  esac\n  if [[ -z $command || $word == -* ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$word\"))\n"
         "  else\n    COMPREPLY=($(compgen -f -- \"$word\"))\n  fi\n}\n"
         "complete -o default -F _plumule plumule\n";
}

std::string zsh_completion() {
  std::string out =
      "#compdef plumule\n_plumule() {\n  local -a commands everywhere\n  everywhere=(\n";
  for (const Option& option : everywhere().all())
    out += fmt::format("    '--{}[{}]{}'\n", option.name, quoted(option.help, zsh_special),
                       zsh_value(option));
  out += "  )\n  commands=(\n";
  for (const Command* command : shown())
    out += fmt::format("    '{}:{}'\n", command->name, quoted(command->summary, zsh_special));
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
      out += fmt::format(" '{}--{}[{}]{}'", option.repeats ? "*" : "", option.name,
                         quoted(option.help, zsh_special), zsh_value(option));
    out += " '*:word:_files' ;;\n";
  }
  return out + "      esac ;;\n  esac\n}\n_plumule \"$@\"\n";
}

std::string fish_completion() {
  std::string out = "# fish completion for plumule\n";
  for (const Option& option : everywhere().all())
    out += fmt::format("complete -c plumule -l {}{} -d '{}'\n", option.name, fish_value(option),
                       quoted(option.help, fish_special));
  for (const Command* command : shown()) {
    out += fmt::format("complete -c plumule -n __fish_use_subcommand -f -a {} -d '{}'\n",
                       command->name, quoted(command->summary, fish_special));
    Options own;
    command->declare(own);
    for (const Option& option : own.all())
      out += fmt::format(
          "complete -c plumule -n '__fish_seen_subcommand_from {}' -l {}{} -d '{}'\n",
          command->name, option.name, fish_value(option), quoted(option.help, fish_special));
  }
  return out;
}

}  // namespace plumule::cli
