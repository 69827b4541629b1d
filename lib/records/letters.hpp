// Letters of UTF-8 text that a reader does not see as letters: those that command a terminal, and
// those that hide or turn the direction of the text around them.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace plumule::records {

struct Letter {
  char32_t code = 0;
  std::size_t bytes = 1;
};

// The first letter of a text that is not empty; a byte that begins none is taken as one by itself.
Letter first_letter(std::string_view text);

// U+0000 to U+001F, U+007F to U+009F (Unicode, general category Cc); tabs and line ends too.
bool is_control(char32_t code);

// What has no shape of its own: marks and overrides of direction, blanks without width, joiners,
// fillers, separators that end a line, tags (Unicode, categories Cf, Zl and Zp, and fillers that
// are letters by name alone). Not the ending that makes a picture of a letter (U+FE0F).
bool is_hidden(char32_t code);

// "U+202E".
std::string code_of(char32_t code);

// The first control character of a text, or none. A tab is none; line ends are none where `lines`
// allows several.
std::optional<char32_t> control_in(std::string_view text, bool lines = false);

}  // namespace plumule::records
