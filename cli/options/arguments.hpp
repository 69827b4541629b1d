// What was typed, read against what the command takes. A thin door to CLI11, which only the .cpp
// sees: it is the heaviest header of all.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "cli/options/options.hpp"
#include "records/date.hpp"

namespace plumule::cli {

// The command was typed wrongly: one sentence that says what and how to type it. Exit status 2.
class WrongUsage : public std::runtime_error {
 public:
  explicit WrongUsage(const std::string& sentence) : std::runtime_error(sentence) {}
};

// The values as typed, already checked against their kinds. Asking for a name that was not declared
// is a mistake in the command and throws std::logic_error.
class Arguments {
 public:
  const std::vector<std::string>& words() const { return words_; }
  bool has(std::string_view name) const;
  bool flag(std::string_view name) const { return has(name); }
  std::optional<std::string> text(std::string_view name) const;
  std::vector<std::string> texts(std::string_view name) const;
  std::optional<std::int64_t> whole(std::string_view name) const;
  std::optional<double> number(std::string_view name) const;  // of a share, the fraction
  std::optional<records::Date> date(std::string_view name) const;
  std::optional<records::Moment> moment(std::string_view name) const;

 private:
  friend Arguments read_arguments(const Options&, const std::vector<std::string>&, records::Date);
  const Option& declared(std::string_view name) const;

  const Options* options_ = nullptr;
  std::vector<std::string> words_;
  std::map<std::string, std::vector<std::string>, std::less<>> values_;
  records::Date today_{};
};

// Reads the words after the command's name. `A1=12-2`, `A2+3`, `-2.5` and a lone `-` are words;
// --log, --json, --today, --who and --help are taken with every command. `today` is what the words
// today and yesterday count from, unless --today says otherwise. `options` must outlive the result.
// Throws WrongUsage.
Arguments read_arguments(const Options& options, const std::vector<std::string>& typed,
                         records::Date today);

// One number as typed, or none: the whole text must be a finite number (no nan, no inf, no comma).
std::optional<double> read_number(std::string_view text);
std::optional<std::int64_t> read_whole(std::string_view text);
// "0.9" or "90%": a fraction 0 to 1.
std::optional<double> read_share(std::string_view text);
// A difference of percentages as a fraction: "10" and "10%" are 0.1.
std::optional<double> read_points(std::string_view text);

}  // namespace plumule::cli
