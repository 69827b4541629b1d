// The terminal: how wide it is, whether colour is wanted, and plain output. Colour is never the
// only sign of anything.
#pragma once

#include <string>
#include <string_view>
#include <utility>

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

  // Whatever is printed from now on is JSON: its texts stay as they are, and what would command
  // a terminal or hide is written as JSON's own escape for it.
  void answer_in_json() { json_ = true; }

  // The logbook was named on the command line, as in "--log beans.db": each command that is printed
  // from now on says it too, so that it works as it is typed.
  void repeat_log(std::string option) { log_ = std::move(option); }

  // To stdout; `line` ends with a new line, `paragraph` is wrapped to the width.
  void print(std::string_view text) const;
  void line(std::string_view text = {}) const;
  void paragraph(std::string_view text) const;
  // Lines that the caller prints behind what stands there already, as `wrapped` has them.
  std::string in_lines(std::string_view text, int indent) const;
  // To stdout byte for byte, for a file or another program; on a terminal as `print`.
  void pass_on(std::string_view bytes) const;
  // To stderr, wrapped: what is worth knowing beside the answer.
  void remark(std::string_view text) const;

 private:
  std::string as_called_here(std::string_view text) const;
  void put(std::string_view text) const;

  report::Style style_;
  std::string log_;
  bool terminal_ = false;
  bool json_ = false;
};

// The text with a question mark for each control character and the code of each letter that hides
// or turns direction, such as <U+202E>, so that nothing kept in a logbook (which may be another's)
// commands the terminal or deceives who reads it. Line ends and tabs stay; the colours of `toned`
// stay where `colour` is set.
std::string harmless(std::string_view text, bool colour);

// The same for JSON, where such a letter within a text is written as \u202e: it is read as it is.
std::string harmless_json(std::string_view json);

// The text in lines of at most `width` columns, without a new line at its end. The first line
// begins at column `indent`, where the caller stands already; the others are indented so far. New
// lines in the text are kept.
std::string wrapped(std::string_view text, int width, int indent = 0);

}  // namespace plumule::cli
