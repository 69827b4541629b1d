// Plays a grower who types anything: commands that can be and commands that cannot, on a logbook
// whose contents a plain model (logbook/plain_model.hpp) knows as well.
#pragma once

#include <cstdint>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "faults/session.hpp"
#include "logbook/plain_model.hpp"

namespace plumule::tests {

class Player {
 public:
  // Makes a logbook in the folder, which must be empty.
  Player(const std::string& folder, unsigned seed);

  // Types one command and holds what comes of it against the model. Throws std::runtime_error, with
  // all that was typed, where they part.
  void step();
  // The export, taken into a new logbook, is exported as the same bytes.
  void round_trip();

  int typed() const { return static_cast<int>(lines_.size()); }
  int taken = 0, refused = 0, taken_back = 0, answers = 0;  // answers: JSON held to its schema

 private:
  using Trays = std::map<std::string, Notebook>;
  // What is expected of a command: it is taken and makes that of the model, it is refused, or it is
  // taken and changes nothing.
  enum class Fate { taken, refused, nothing_new };

  std::int64_t below(std::int64_t end);
  bool chance(std::int64_t in) { return below(in) == 0; }
  std::string label();
  static std::string date(std::int64_t day);

  void sow();
  void count();
  void amend();
  void remove();
  void change_seeds();
  void end_or_reopen();
  void assess();
  void observe();
  void ask();
  void take_back();
  void nonsense();

  Look a_look(const Notebook& tray, std::int64_t minute);
  static std::string written(const Look& look);
  static bool any_lost(const Notebook& tray);

  Answer type(const std::string& line);
  void expect(const std::string& line, Fate fate, Trays next);
  void compare();
  [[noreturn]] void fail(const std::string& why) const;

  std::string folder_;
  std::mt19937 random_;
  Trays trays_;
  std::string record_;                                 // as it stands, row for row
  std::vector<std::pair<std::string, Trays>> before_;  // what each command that stands changed
  std::vector<std::string> lines_;
};

}  // namespace plumule::tests
