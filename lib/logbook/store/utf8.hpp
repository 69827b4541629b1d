// Whether text may be kept: UTF-8 without a zero byte, which every SQLite tool can read.
#pragma once

#include <string>
#include <string_view>

namespace plumule::logbook {

bool is_text(std::string_view bytes);

// The bytes with '?' for each that is no part of UTF-8 text, to be shown in a sentence.
std::string mended_text(std::string_view bytes);

}  // namespace plumule::logbook
