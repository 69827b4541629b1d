#include "records/letters.hpp"

#include <algorithm>
#include <array>

namespace plumule::records {
namespace {

struct Range {
  char32_t first, last;
};
constexpr std::array hidden = {
    Range{0x00AD, 0x00AD},    // soft hyphen
    Range{0x034F, 0x034F},    // grapheme joiner
    Range{0x061C, 0x061C},    // Arabic letter mark
    Range{0x115F, 0x1160},    // fillers of Hangul
    Range{0x17B4, 0x17B5},    // vowels of Khmer without a shape
    Range{0x180B, 0x180F},    // variants and separator of Mongolian
    Range{0x200B, 0x200F},    // blanks without width, joiners, marks of direction
    Range{0x2028, 0x202E},    // ends of line and paragraph; embedding and override of direction
    Range{0x2060, 0x206F},    // word joiner, invisible operators, isolates
    Range{0x3164, 0x3164},    // filler of Hangul
    Range{0xFEFF, 0xFEFF},    // byte order mark
    Range{0xFFA0, 0xFFA0},    // filler of Hangul, half width
    Range{0xFFF9, 0xFFFB},    // annotations between the lines
    Range{0xE0000, 0xE007F},  // tags
};

unsigned byte_at(std::string_view text, std::size_t i) {
  return static_cast<unsigned char>(text[i]);
}

}  // namespace

Letter first_letter(std::string_view text) {
  const unsigned first = byte_at(text, 0);
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : first >= 0xC0 ? 2 : 1;
  if (bytes == 1 || text.size() < bytes) return {first, 1};
  char32_t code = first & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte_at(text, i) & 0xC0U) != 0x80U) return {first, 1};
    code = code << 6U | (byte_at(text, i) & 0x3FU);
  }
  return {code, bytes};
}

bool is_control(char32_t code) { return code < 0x20 || (code >= 0x7F && code < 0xA0); }

bool is_hidden(char32_t code) {
  return code >= hidden.front().first &&
         std::any_of(hidden.begin(), hidden.end(), [code](const Range& range) {
           return code >= range.first && code <= range.last;
         });
}

std::string code_of(char32_t code) {
  std::string digits;
  for (; code != 0 || digits.size() < 4; code >>= 4U)
    digits.insert(digits.begin(), "0123456789ABCDEF"[code & 0xFU]);
  return "U+" + digits;
}

std::optional<char32_t> control_in(std::string_view text, bool lines) {
  while (!text.empty()) {
    const Letter letter = first_letter(text);
    // A carriage return is a line's end only before a line feed.
    const bool ends_line = lines && (letter.code == '\n' || text.starts_with("\r\n"));
    const bool whole = letter.bytes > 1 || letter.code < 0x80;
    if (whole && is_control(letter.code) && letter.code != '\t' && !ends_line) return letter.code;
    text.remove_prefix(letter.bytes);
  }
  return std::nullopt;
}

}  // namespace plumule::records
