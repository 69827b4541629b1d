// The terminal: how wide it is, whether colour is wanted, and plain output. Colour is never the
// only sign of anything.
#pragma once

#include <string>
#include <string_view>

#include "report/parts/terminal.hpp"

namespace plumule::cli {

using report::Tone;

class Screen {
 public:
  // As the terminal is now: colour only on a terminal, without $NO_COLOR and not on a dumb one;
  // width from the terminal, 80 where there is none, at most 100.
  static Screen of_terminal();

  const report::Style& style() const { return style_; }
  int width() const { return style_.width; }

  // The text in that tone, or as it is where colour is not wanted.
  std::string toned(Tone tone, std::string_view text) const;

  // To stdout; `line` ends with a new line, `paragraph` is wrapped to the width.
  void print(std::string_view text) const;
  void line(std::string_view text = {}) const;
  void paragraph(std::string_view text) const;
  // To stderr, wrapped: what is worth knowing beside the answer.
  void remark(std::string_view text) const;

 private:
  report::Style style_;
};

// The text with a question mark for each control character, so that nothing kept in a logbook
// (which may be another's) commands the terminal. Line ends and tabs stay; the colours of
// `toned` stay where `colour` is set.
std::string harmless(std::string_view text, bool colour);

// The text in lines of at most `width` columns, without a new line at its end. The first line
// begins at column `indent`, where the caller stands already; the others are indented so far. New
// lines in the text are kept.
std::string wrapped(std::string_view text, int width, int indent = 0);

}  // namespace plumule::cli
