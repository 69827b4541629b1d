#include "logbook/store/utf8.hpp"

namespace plumule::logbook {
namespace {

unsigned byte_at(std::string_view bytes, std::size_t i) {
  return static_cast<unsigned char>(bytes[i]);
}

// The length of the character that begins at `i`, 0 where none does (RFC 3629, section 4).
std::size_t character_at(std::string_view bytes, std::size_t i) {
  const unsigned first = byte_at(bytes, i);
  if (first == 0) return 0;
  if (first < 0x80) return 1;
  std::size_t length = 0;
  unsigned low = 0x80;
  unsigned high = 0xBF;
  if (first >= 0xC2 && first <= 0xDF) {
    length = 2;
  } else if (first >= 0xE0 && first <= 0xEF) {
    length = 3;
    if (first == 0xE0) low = 0xA0;
    if (first == 0xED) high = 0x9F;  // no surrogates
  } else if (first >= 0xF0 && first <= 0xF4) {
    length = 4;
    if (first == 0xF0) low = 0x90;
    if (first == 0xF4) high = 0x8F;
  }
  if (length == 0 || i + length > bytes.size()) return 0;
  for (std::size_t k = 1; k < length; ++k) {
    const unsigned next = byte_at(bytes, i + k);
    if (next < low || next > high) return 0;
    low = 0x80;
    high = 0xBF;
  }
  return length;
}

}  // namespace

bool is_text(std::string_view bytes) {
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = character_at(bytes, i);
    if (length == 0) return false;
    i += length;
  }
  return true;
}

std::string mended_text(std::string_view bytes) {
  std::string text;
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = character_at(bytes, i);
    if (length == 0) {
      text += '?';
      ++i;
    } else {
      text += bytes.substr(i, length);
      i += length;
    }
  }
  return text;
}

}  // namespace plumule::logbook
