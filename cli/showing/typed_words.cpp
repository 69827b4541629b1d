#include "cli/showing/typed_words.hpp"

#include <algorithm>

#include "cli/command.hpp"

namespace plumule::cli {

std::string quoted(const std::string& word) {
  constexpr std::string_view plain =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-=+/:@,%";
  if (!word.empty() && word.find_first_not_of(plain) == std::string::npos) return word;
  std::string out = "'";
  for (const char letter : word)
    out += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
  return out + "'";
}

std::string log_typed(const std::vector<std::string>& typed) {
  constexpr std::string_view with_value = "--log=";
  for (std::size_t i = 0; i < typed.size(); ++i) {
    if (typed[i] == "--log" && i + 1 < typed.size()) return "--log " + quoted(typed[i + 1]);
    if (typed[i].starts_with(with_value))
      return "--log " + quoted(typed[i].substr(with_value.size()));
  }
  return {};
}

std::string with_log(std::string_view text, std::string_view option) {
  constexpr std::string_view name = "plumule", space = " \n";
  constexpr std::string_view starts = " \n`";
  constexpr std::string_view letters = "abcdefghijklmnopqrstuvwxyz-";
  std::string out;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    out += text[i];
    quoted = text[i] == '"' ? !quoted : quoted && text[i] != '\n';
    if (quoted || !out.ends_with(name)) continue;
    const std::size_t before = i + 1 - name.size();
    if (before > 0 && starts.find(text[before - 1]) == std::string_view::npos) continue;
    const std::size_t word = text.find_first_not_of(space, i + 1);
    if (word == i + 1 || word == std::string_view::npos) continue;
    const std::size_t end = std::min(text.find_first_not_of(letters, word), text.size());
    if (find_command(text.substr(word, end - word)) != nullptr) out.append(" ").append(option);
  }
  return out;
}

}  // namespace plumule::cli
