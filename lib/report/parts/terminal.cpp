#include "report/parts/terminal.hpp"

#include <algorithm>

#include "records/letters.hpp"

namespace plumule::report {

std::string hinted(HintWords words, std::string_view text, const records::Hint& hint,
                   std::string_view otherwise) {
  const std::string said = words == nullptr ? std::string() : words(hint);
  return std::string(text) + (said.empty() ? std::string(otherwise) : said);
}

std::string toned(const Style& style, Tone tone, std::string_view text) {
  if (!style.colour || tone == Tone::plain || text.empty()) return std::string(text);
  const char* code = tone == Tone::strong  ? "1"
                     : tone == Tone::faint ? "2"
                     : tone == Tone::good  ? "32"
                                           : "33";
  return std::string("\033[") + code + "m" + std::string(text) + "\033[0m";
}

std::string shown_hidden(char32_t code) {
  return records::is_hidden(code) ? '<' + records::code_of(code) + '>' : std::string();
}

int columns(std::string_view text) {
  int number = 0;
  bool escape = false;
  while (!text.empty()) {
    const char c = text.front();
    std::size_t bytes = 1;
    if (escape) {
      escape = c != 'm';
    } else if (c == '\033') {
      escape = true;
    } else if (static_cast<unsigned char>(c) < 0x80) {
      ++number;
    } else {
      const records::Letter letter = records::first_letter(text);
      bytes = letter.bytes;
      if (bytes > 1 || (static_cast<unsigned char>(c) & 0xC0) != 0x80)
        number += std::max<int>(1, static_cast<int>(shown_hidden(letter.code).size()));
    }
    text.remove_prefix(bytes);
  }
  return number;
}

std::string paragraph(const Style& style, std::string_view text, int indent, int first) {
  std::string result;
  std::string line(static_cast<std::size_t>(first < 0 ? indent : first), ' ');
  bool fresh = true;
  while (!text.empty()) {
    auto end = std::min(text.find(' '), text.size());
    if (text.substr(end).starts_with(" %")) end = std::min(text.find(' ', end + 1), text.size());
    const auto word = text.substr(0, end);  // with its per cent sign
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!fresh && columns(line) + 1 + columns(word) > style.width) {
      result += line + '\n';
      line.assign(static_cast<std::size_t>(indent), ' ');
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  return fresh ? result : result + line + '\n';
}

namespace {

std::string blanks(std::string_view text, int width) {
  return std::string(static_cast<std::size_t>(std::max(0, width - columns(text))), ' ');
}

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line + '\n';
}

}  // namespace

std::string left(std::string_view text, int width) {
  return std::string(text) + blanks(text, width);
}

std::string right(std::string_view text, int width) {
  return blanks(text, width) + std::string(text);
}

std::string entry(const Style& style, std::string_view name, std::string_view value, int width,
                  int indent) {
  const std::string beside = paragraph(style, value, indent + width + 2);
  const std::string head = std::string(static_cast<std::size_t>(indent), ' ') + left(name, width);
  if (columns(name) > width || beside.empty()) return head + '\n' + beside;
  const auto name_ends = static_cast<std::size_t>(indent) + static_cast<std::size_t>(width);
  return head + beside.substr(name_ends);
}

std::string folded_row(const Style& style, const std::vector<std::string>& headers,
                       const std::vector<std::string>& cells, int indent) {
  std::string text = toned(style, Tone::strong, cells[0]);
  std::string joint = ": ";
  for (std::size_t i = 1; i < cells.size(); ++i) {
    if (cells[i].empty()) continue;
    text += joint + (headers[i].empty() ? "" : headers[i] + " ") + cells[i];
    joint = ", ";
  }
  return paragraph(style, text, indent + 2, indent);
}

Table::Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

void Table::row(std::vector<std::string> cells) {
  cells.resize(columns_.size());
  rows_.push_back(std::move(cells));
}

std::string Table::text(const Style& style, int indent) const {
  std::vector<int> widths;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    int width = report::columns(columns_[i].header);
    for (const auto& cells : rows_) width = std::max(width, report::columns(cells[i]));
    widths.push_back(width);
  }
  int all = indent - 2;
  int last_width = 0;
  for (const int width : widths) {
    all += width + 2;
    last_width = width;
  }
  // The last column may be wrapped, where that leaves room for a word or two.
  constexpr int least_last = 12;
  const int last_at = all - last_width;
  const bool wraps = !columns_.empty() && !columns_[columns_.size() - 1].to_the_right &&
                     style.width - last_at >= least_last;
  if (all > style.width && !wraps) {
    std::vector<std::string> headers;
    for (const auto& column : columns_) headers.push_back(column.header);
    std::string folded;
    for (const auto& cells : rows_) folded += folded_row(style, headers, cells, indent);
    return folded;
  }
  const auto line = [&](const auto& cell) {
    std::string text(static_cast<std::size_t>(indent), ' ');
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      if (i > 0) text += "  ";
      if (all > style.width && i + 1 == columns_.size()) {
        const std::string wrapped = paragraph(style, cell(i), last_at);
        if (!wrapped.empty())
          text += wrapped.substr(static_cast<std::size_t>(last_at),
                                 wrapped.size() - 1 - static_cast<std::size_t>(last_at));
        continue;
      }
      text += columns_[i].to_the_right ? right(cell(i), widths[i]) : left(cell(i), widths[i]);
    }
    return trimmed(std::move(text));
  };
  std::string result = line([&](std::size_t i) { return columns_[i].header; });
  result = toned(style, Tone::faint, result.substr(0, result.size() - 1)) + '\n';
  for (const auto& cells : rows_) result += line([&](std::size_t i) { return cells[i]; });
  return result;
}

std::string figures(const Style& style, const std::vector<Figure>& list, int indent) {
  int name = 0;
  int value = 0;
  for (const auto& figure : list) {
    name = std::max(name, columns(figure.name));
    value = std::max(value, columns(figure.value));
  }
  if (indent + name + 2 + value > style.width) {
    std::string wrapped;
    for (const auto& figure : list)
      wrapped += entry(style, figure.name, figure.value, std::min(name, style.width / 2), indent);
    return wrapped;
  }
  const bool two = indent + 2 * (name + 2 + value) + 4 <= style.width && list.size() > 3;
  const std::size_t rows = two ? (list.size() + 1) / 2 : list.size();
  std::string result;
  for (std::size_t i = 0; i < rows; ++i) {
    std::string line(static_cast<std::size_t>(indent), ' ');
    const auto add = [&](const Figure& figure) {
      line += left(figure.name, name + 2) + left(figure.value, value);
    };
    add(list[i]);
    if (two && i + rows < list.size()) {
      line += "    ";
      add(list[i + rows]);
    }
    result += trimmed(std::move(line));
  }
  return result;
}

}  // namespace plumule::report
