// The terminal: how wide it is, whether colour is wanted, and plain output. Colour is never the
// only sign of anything.
#pragma once

#include <string>
#include <string_view>

namespace plumule::cli {

enum class Shade { plain, strong, faint, good, warning };

class Screen {
 public:
  // As the terminal is now: colour only on a terminal, without $NO_COLOR and not on a dumb one;
  // width from the terminal, 80 where there is none, at most 100.
  static Screen of_terminal();

  bool colour() const { return colour_; }
  int width() const { return width_; }
  bool asks() const { return asks_; }  // both ends are a terminal: a person can be asked

  // The text in that shade, or as it is where colour is not wanted.
  std::string shade(Shade shade, std::string_view text) const;

  // To stdout; `line` ends with a new line, `paragraph` is wrapped to the width.
  void print(std::string_view text) const;
  void line(std::string_view text = {}) const;
  void paragraph(std::string_view text) const;
  // To stderr, wrapped: what is worth knowing beside the answer.
  void remark(std::string_view text) const;

 private:
  bool colour_ = false;
  bool asks_ = false;
  int width_ = 80;
};

// Lines of at most `width` columns (UTF-8 letters count one), continued at `indent`. A word longer
// than a line stands alone. New lines in the text are kept.
std::string wrapped(std::string_view text, int width, int indent = 0);

// How many columns a UTF-8 text takes (letters, not bytes).
int columns(std::string_view text);

}  // namespace plumule::cli
