// Any words at all typed after any command's name, a word a line: they are read, or the refusal is
// a sentence. Values that were read are what their kinds allow.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command.hpp"

using namespace plumule::cli;

namespace {

const plumule::records::Date today = *plumule::records::parse_date("2026-05-20");

void must(bool so) {
  if (!so) std::abort();
}

// Of each command what it takes, declared once.
const std::vector<Options>& declared() {
  static const std::vector<Options> all = [] {
    std::vector<Options> made;
    for (const Command* const command : commands()) command->declare(made.emplace_back());
    return made;
  }();
  return all;
}

void ask(const Arguments& arguments, const Option& option) {
  if (!arguments.has(option.name)) return;
  switch (option.takes) {
    case Takes::whole:
      if (const auto whole = arguments.whole(option.name))
        must(static_cast<double>(*whole) >= option.lowest &&
             static_cast<double>(*whole) <= option.highest);
      break;
    case Takes::number:
    case Takes::points:
    case Takes::share:
      if (const auto number = arguments.number(option.name)) must(std::isfinite(*number));
      break;
    case Takes::date:
      must(arguments.date(option.name).has_value());
      break;
    case Takes::moment:
      must(arguments.moment(option.name).has_value());
      break;
    case Takes::temperature:
    case Takes::text:
    case Takes::choice:
      must(arguments.text(option.name).has_value());
      break;
    case Takes::flag:
      break;
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const Options& options = declared()[data[0] % declared().size()];
  std::vector<std::string> words;
  std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);  // NOLINT
  while (!text.empty() && words.size() < 12) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    // What a shell passes on ends at a zero.
    words.emplace_back(text.substr(0, std::min(end, text.find('\0'))));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  try {
    const Arguments arguments = read_arguments(options, words, today);
    // Asked for its help, a command takes any words.
    if (arguments.flag("help") || arguments.flag("help-all")) return 0;
    must(arguments.words().size() <= options.words().most);
    for (const Option& option : options.all()) ask(arguments, option);
  } catch (const WrongUsage& wrong) {
    must(wrong.what()[0] != '\0');
  }
  return 0;
}
