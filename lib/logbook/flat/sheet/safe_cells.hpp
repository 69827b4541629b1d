// Texts that a spreadsheet would run as a formula. They go out behind an apostrophe, which
// spreadsheets take for "this is text", and come in without it; a text that begins so by itself
// gets one more, so that every text comes back as it was.
#pragma once

#include <string>
#include <string_view>

namespace plumule::logbook {

// Whether the text begins with = + - or @, also in their full width, or with blanks, tabs or line
// ends before such a sign (common practice, no source).
bool would_run(std::string_view text);

// A cell of text as it must be written: safe, and in quotes where append_cell has them.
void append_text(std::string& row, std::string_view text);

// The text that a cell stands for: without the apostrophe of append_text.
std::string_view as_meant(std::string_view cell);

}  // namespace plumule::logbook
