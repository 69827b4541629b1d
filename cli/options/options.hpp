// What a command takes, declared once: parsing, help, man page and shell completion all read it.
#pragma once

#include <initializer_list>
#include <limits>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace plumule::cli {

enum class Takes { flag, text, whole, number, share, points, temperature, date, moment, choice };

struct Option {
  std::string_view name;   // without the dashes
  std::string_view value;  // how help calls the value: "DATE"; empty for a flag
  std::string_view help;
  Takes takes = Takes::text;
  bool repeats = false;
  double lowest = -std::numeric_limits<double>::infinity();
  double highest = std::numeric_limits<double>::infinity();
  std::vector<std::string_view> choices;
  std::string_view heading = {};  // the part of the help page it stands in; empty: the first
  bool may_be_empty = false;      // an empty text takes the field away
  bool usual = false;             // explained on the short help page, which only names the others
};

// The words of a command that are no options: names, pairs, files.
struct Words {
  std::string_view name;  // how help calls one: "PAIR"
  std::string_view help;
  std::size_t least = 0;
  std::size_t most = 0;
};

inline constexpr std::size_t any_number = std::numeric_limits<std::size_t>::max();

// Texts given here must outlive the program: literals.
class Options {
 public:
  void words(std::string_view name, std::string_view help, std::size_t least, std::size_t most);
  void flag(std::string_view name, std::string_view help);
  void text(std::string_view name, std::string_view value, std::string_view help);
  void texts(std::string_view name, std::string_view value, std::string_view help);  // repeatable
  void whole(std::string_view name, std::string_view value, std::string_view help,
             double lowest = -1e15, double highest = 1e15);
  void number(std::string_view name, std::string_view value, std::string_view help,
              double lowest = -1e15, double highest = 1e15);
  // Or that word instead, for which number() gives none.
  void number_or(std::string_view name, std::string_view value, std::string_view word,
                 std::string_view help, double lowest, double highest);
  // A fraction 0 to 1, or a percentage with its sign: 0.9 and 90% are the same.
  void share(std::string_view name, std::string_view value, std::string_view help);
  // A difference of percentages, 1 to 100 points: 10 and 10% are the same. Read as a fraction.
  void points(std::string_view name, std::string_view help);
  // 18.5, 18C or 64F; the value is read by DegreesTyped.
  void temperature(std::string_view name, std::string_view help);
  // YYYY-MM-DD, or a day as it is said: yesterday, Sat, 18 Apr; a moment may carry a time,
  // YYYY-MM-DDTHH:MM.
  void date(std::string_view name, std::string_view help);
  void moment(std::string_view name, std::string_view help);
  void choice(std::string_view name, std::string_view value, std::vector<std::string_view> choices,
              std::string_view help);

  // What is declared from here on stands under this heading of the help page.
  void heading(std::string_view text) { heading_ = text; }
  // Of a text declared before: an empty one takes the field away.
  void erasable(std::string_view name);
  // An option of another command that is easily typed here, and what to say then.
  void elsewhere(std::string_view name, std::string_view hint) {
    elsewhere_.push_back({name, hint});
  }
  // Of a command with many options: those declared before that most need. Without any the help page
  // explains all.
  void usual(std::initializer_list<std::string_view> names);

  const Words& words() const { return words_; }
  const std::vector<Option>& all() const { return options_; }
  const Option* find(std::string_view name) const;
  std::string_view hint_elsewhere(std::string_view name) const;  // empty: none

 private:
  void add(Option option);

  Words words_;
  std::vector<Option> options_;
  std::vector<std::pair<std::string_view, std::string_view>> elsewhere_;
  std::string_view heading_;
};

// Those that every command takes: --log, --json, --today, --who, --help, --help-all.
const Options& everywhere();

}  // namespace plumule::cli
