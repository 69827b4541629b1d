#include "records/text_check.hpp"

#include <algorithm>

#include "records/refused.hpp"

namespace plumule::records {

void refuse_long(const std::string& what, std::string_view text, std::size_t most) {
  const auto letters = static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
  if (letters > most)
    throw Refused(what + " is " + std::to_string(letters) + " letters long; " +
                  std::to_string(most) + " is the most. A note can say more.");
  if (text.find_first_of("\r\n\t") != std::string_view::npos)
    throw Refused(what + " must stand in one line, without tabs.");
}

}  // namespace plumule::records
