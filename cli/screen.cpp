// Plain output through stdio: nothing here needs a locale or a stream.
#include "screen.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>

namespace plumule::cli {
namespace {

constexpr int usual_width = 80;

std::string_view code_of(Shade shade) {
  switch (shade) {
    case Shade::strong:
      return "\x1b[1m";
    case Shade::faint:
      return "\x1b[2m";
    case Shade::good:
      return "\x1b[32m";
    case Shade::warning:
      return "\x1b[33m";
    case Shade::plain:
      break;
  }
  return {};
}

bool set(const char* variable) {
  const char* value = std::getenv(variable);
  return value != nullptr && *value != '\0';
}

}  // namespace

Screen Screen::of_terminal() {
  Screen screen;
  const bool terminal = isatty(STDOUT_FILENO) == 1;
  const char* kind = std::getenv("TERM");
  screen.asks_ = terminal && isatty(STDIN_FILENO) == 1;
  screen.colour_ =
      terminal && !set("NO_COLOR") && kind != nullptr && std::string_view(kind) != "dumb";
  winsize size{};
  if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40)
    screen.width_ = std::min<int>(size.ws_col, 100);
  return screen;
}

std::string Screen::shade(Shade shade, std::string_view text) const {
  const std::string_view code = code_of(shade);
  if (!colour_ || code.empty()) return std::string(text);
  return std::string(code).append(text).append("\x1b[0m");
}

void Screen::print(std::string_view text) const {
  std::fwrite(text.data(), 1, text.size(), stdout);
}

void Screen::line(std::string_view text) const {
  print(text);
  print("\n");
}

void Screen::paragraph(std::string_view text) const { print(wrapped(text, width_) + "\n"); }

void Screen::remark(std::string_view text) const {
  std::fflush(stdout);
  const std::string lines = wrapped(text, std::min(width_, usual_width)) + "\n";
  std::fwrite(lines.data(), 1, lines.size(), stderr);
}

int columns(std::string_view text) {
  return static_cast<int>(std::count_if(text.begin(), text.end(), [](char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
  }));
}

std::string wrapped(std::string_view text, int width, int indent) {
  std::string out;
  const std::string margin(static_cast<std::size_t>(indent), ' ');
  int at = indent;  // where the next letter goes; the caller has set the first line's margin
  bool fresh = true;
  std::size_t from = 0;
  while (from < text.size()) {
    if (text[from] == '\n') {
      out.append("\n").append(margin);
      at = indent;
      fresh = true;
      ++from;
      continue;
    }
    if (text[from] == ' ') {
      ++from;
      continue;
    }
    const std::size_t to = std::min(text.find_first_of(" \n", from), text.size());
    const std::string_view word = text.substr(from, to - from);
    const int room = columns(word);
    if (!fresh && at + 1 + room > width) {
      out.append("\n").append(margin);
      at = indent;
      fresh = true;
    }
    if (!fresh) out.append(" ");
    out.append(word);
    at += room + (fresh ? 0 : 1);
    fresh = false;
    from = to;
  }
  return out;
}

}  // namespace plumule::cli
