// Text for a terminal: tones, wrapping, and tables. A tone is never the only sign of anything.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "records/hint.hpp"

namespace plumule::report {

// How a front end says what may be done next; without it nothing is said of that.
using HintWords = std::string (*)(const records::Hint& hint);

// The text with the hint after it in the front end's words; `otherwise` after it where there are
// none.
std::string hinted(HintWords words, std::string_view text, const records::Hint& hint,
                   std::string_view otherwise = {});

struct Style {
  bool colour = false;
  int width = 80;
  HintWords hints = nullptr;
};

enum class Tone { plain, strong, faint, good, warning };

// The text in that tone, or as it is without colour.
std::string toned(const Style& style, Tone tone, std::string_view text);

// Lines of at most the style's width, the first at `first` blanks and the others at `indent`, each
// ended by a new line. A word longer than a line stands alone.
std::string paragraph(const Style& style, std::string_view text, int indent = 0, int first = -1);

// A name and what it is, wrapped beside it: names `width` columns wide, after `indent` blanks.
std::string entry(const Style& style, std::string_view name, std::string_view value, int width,
                  int indent = 2);

// What a letter that hides or turns the text around it is shown as, such as <U+202E>; empty for
// every other letter (records/letters.hpp).
std::string shown_hidden(char32_t code);

// Columns on a terminal (UTF-8 letters, not bytes; hidden ones as they are shown).
int columns(std::string_view text);

// Text filled with blanks to `width` columns, never cut.
std::string left(std::string_view text, int width);
std::string right(std::string_view text, int width);

// A row of a table that is too wide for the screen, as a sentence: the first cell, and every other
// that is not empty with its heading before it.
std::string folded_row(const Style& style, const std::vector<std::string>& headers,
                       const std::vector<std::string>& cells, int indent);

// Rows of cells in columns as wide as their widest cell, two blanks apart; numbers to the right.
// Where they do not fit the style's width the last is wrapped, or else each row is folded.
class Table {
 public:
  struct Column {
    std::string header;
    bool to_the_right = false;
  };
  explicit Table(std::vector<Column> columns);
  void row(std::vector<std::string> cells);  // as many as columns; missing ones are blank
  bool empty() const { return rows_.empty(); }
  std::string text(const Style& style, int indent = 0) const;

 private:
  std::vector<Column> columns_;
  std::vector<std::vector<std::string>> rows_;
};

// Name and figure side by side, in two columns where the width has room; wrapped where not even one
// fits.
struct Figure {
  std::string name;
  std::string value;
};
std::string figures(const Style& style, const std::vector<Figure>& list, int indent = 2);

}  // namespace plumule::report
