// Keeps the tally of one journal line while its command writes: every row of it that comes or goes
// is seen as SQLite writes it, whoever in the library writes it.
#pragma once

#include <memory>

#include "logbook/journal/tally.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {

class TallyWatch {
 public:
  // One at a time of a store; `line` is set before the line's first row comes.
  explicit TallyWatch(Store& store);
  TallyWatch(const TallyWatch&) = delete;
  TallyWatch& operator=(const TallyWatch&) = delete;
  ~TallyWatch();

  void set_line(std::int64_t line);
  // While it looks away, whoever writes rows tells it what they are.
  void look_away();
  void look_again();
  void told(std::uint64_t row);
  const Tally& tally() const;
  // SQLite gave something up; the tally is not whole.
  bool failed() const;

 private:
  struct State;
  Store& store_;
  std::unique_ptr<State> state_;
};

}  // namespace plumule::logbook
