// Plain output through stdio: nothing here needs a locale or a stream.
#include "cli/showing/screen.hpp"

#include <fmt/format.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <iterator>

#include "cli/showing/hint_words.hpp"
#include "cli/showing/typed_words.hpp"
#include "records/letters.hpp"

namespace plumule::cli {
namespace {

constexpr int usual_width = 80;
constexpr int widest = 100;  // longer lines are hard to read

bool set(const char* variable) {
  const char* value = std::getenv(variable);
  return value != nullptr && *value != '\0';
}

}  // namespace

Screen Screen::of_terminal() {
  Screen screen;
  screen.style_.hints = in_words;
  const bool terminal = screen.terminal_ = isatty(STDOUT_FILENO) == 1;
  const char* kind = std::getenv("TERM");
  screen.style_.colour =
      terminal && !set("NO_COLOR") && kind != nullptr && std::string_view(kind) != "dumb";
  winsize size{};
  if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40)
    screen.style_.width = std::min<int>(size.ws_col, widest);
  return screen;
}

std::string Screen::toned(Tone tone, std::string_view text) const {
  return report::toned(style_, tone, text);
}

std::string Screen::as_called_here(std::string_view text) const {
  return log_.empty() || json_ ? std::string(text) : with_log(text, log_);
}

void Screen::print(std::string_view text) const { put(as_called_here(text)); }

// As it is, but for what would command a terminal.
void Screen::put(std::string_view text) const {
  const std::string safe = json_ ? harmless_json(text) : harmless(text, style_.colour);
  std::fwrite(safe.data(), 1, safe.size(), stdout);
}

void Screen::pass_on(std::string_view bytes) const {
  if (terminal_)
    put(bytes);
  else
    std::fwrite(bytes.data(), 1, bytes.size(), stdout);
}

void Screen::line(std::string_view text) const {
  print(text);
  print("\n");
}

void Screen::paragraph(std::string_view text) const { print(in_lines(text, 0) + "\n"); }

std::string Screen::in_lines(std::string_view text, int indent) const {
  return wrapped(as_called_here(text), style_.width, indent);
}

void Screen::remark(std::string_view text) const {
  std::fflush(stdout);
  const std::string lines =
      wrapped(harmless(as_called_here(text), style_.colour), std::min(style_.width, usual_width)) +
      "\n";
  std::fwrite(lines.data(), 1, lines.size(), stderr);
}

std::string harmless(std::string_view text, bool colour) {
  constexpr std::string_view colours[] = {"\033[0m", "\033[1m", "\033[2m", "\033[32m", "\033[33m"};
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto byte = static_cast<unsigned char>(text.front());
    if ((byte >= 0x20 && byte < 0x7F) || byte == '\n' || byte == '\t') {
      out += text.front();
      text.remove_prefix(1);
      continue;
    }
    const auto* own = std::find_if(
        std::begin(colours), std::end(colours),
        [&](std::string_view sequence) { return colour && text.starts_with(sequence); });
    if (own != std::end(colours)) {
      out += *own;
      text.remove_prefix(own->size());
      continue;
    }
    const records::Letter letter = records::first_letter(text);
    const bool whole = letter.bytes > 1 || byte < 0x80;
    const std::string hidden = whole ? report::shown_hidden(letter.code) : std::string();
    if (whole && records::is_control(letter.code))
      out += '?';
    else
      out += hidden.empty() ? text.substr(0, letter.bytes) : hidden;
    text.remove_prefix(letter.bytes);
  }
  return out;
}

std::string harmless_json(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  while (!json.empty()) {
    const records::Letter letter = records::first_letter(json);
    const auto byte = static_cast<unsigned char>(json.front());
    const bool plain = byte >= 0x20 && byte < 0x7F;
    // Controls below U+0020 are escaped already within texts; between them they are line ends.
    const bool odd = !plain && (letter.bytes > 1 || byte == 0x7F) &&
                     (records::is_control(letter.code) || records::is_hidden(letter.code));
    if (!odd)
      out += json.substr(0, letter.bytes);
    else if (letter.code < 0x10000)
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(letter.code));
    else  // JSON writes letters beyond the first 65,536 in two halves (RFC 8259, section 7)
      out += fmt::format("\\u{:04x}\\u{:04x}",
                         0xD800U + ((static_cast<unsigned>(letter.code) - 0x10000U) >> 10U),
                         0xDC00U + ((static_cast<unsigned>(letter.code) - 0x10000U) & 0x3FFU));
    json.remove_prefix(letter.bytes);
  }
  return out;
}

std::string wrapped(std::string_view text, int width, int indent) {
  const std::string margin(static_cast<std::size_t>(indent), ' ');
  std::string out;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string lines = report::paragraph({false, width}, text.substr(0, end), indent);
    if (!lines.empty()) lines.pop_back();  // its new line
    out += lines.empty() ? margin : lines;
    if (end == text.size()) break;
    out += '\n';
    text.remove_prefix(end + 1);
  }
  return out.size() < margin.size() ? out : out.substr(margin.size());
}

}  // namespace plumule::cli
