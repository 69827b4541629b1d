// What every hint has to keep to, whatever it says.
#include "cli/showing/hint_words.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <string>

using namespace plumule::records;
using plumule::cli::in_words;

namespace {

// A hint with all that any advice fills in.
Hint full(Advice advice) {
  return {.advice = advice,
          .name = "K3",
          .at = parse_moment("2026-04-10"),
          .said = "said",
          .figure = Entered{CountKind::standing, 12, {}, 2, {}},
          .number = 1};
}

template <class Act>
void each_advice(const Act& act) {
  for (int i = 1; i < static_cast<int>(Advice::number_of_advices); ++i)
    act(in_words(full(static_cast<Advice>(i))));
}

}  // namespace

TEST_SUITE("hints") {
  TEST_CASE("each ends as a sentence does, or with the command to type") {
    const std::regex command(".*plumule( [A-Za-z0-9=+:.@-]+)+");
    each_advice([&](const std::string& text) {
      CAPTURE(text);
      REQUIRE_FALSE(text.empty());
      const bool sentence = text.back() == '.' || text.back() == '?';
      const bool typed = std::regex_match(text, command);
      const bool ends_well = sentence || typed;
      CHECK(ends_well);
    });
  }

  // In zsh a word that begins with '=' is the path of a command, in zsh and fish '*' and '?' are
  // patterns: none may stand in what is to be typed.
  TEST_CASE("no word of a command is a sign to bash, zsh or fish") {
    const std::regex word("plumule((?: [A-Za-z0-9][^ ]*| --?[^ ]+| =[^ ]*)+)");
    each_advice([&](const std::string& text) {
      CAPTURE(text);
      for (std::sregex_iterator it(text.begin(), text.end(), word), end; it != end; ++it)
        CHECK((*it)[1].str().find_first_of("*[]{}<>|&$~#!\\\"'") == std::string::npos);
      CHECK(text.find(" =") == std::string::npos);
    });
  }
}
