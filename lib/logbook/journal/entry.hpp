// One command's writes: a transaction and its line in the journal. What is not committed never was.
#pragma once

#include <memory>
#include <string>

#include "logbook/logbook.hpp"
#include "records/date.hpp"
#include "records/lot.hpp"

namespace plumule::logbook {

class Entry {
 public:
  // Begins an immediate transaction (waits up to 5 seconds for other writers, then Unusable).
  // `by`: who gives the command; `command`: as typed; `today`: nothing later is taken.
  Entry(Logbook& logbook, std::string by, std::string command, records::Date today);
  Entry(const Entry&) = delete;
  Entry& operator=(const Entry&) = delete;
  ~Entry();  // rolls back what was not committed

  records::Id id() const;
  records::Date today() const;
  const std::string& by() const;
  const std::string& command() const;  // as typed
  Logbook& logbook();

  // What the command did, in words: what `undo` will say it took back.
  void say(const std::string& summary);
  // Durable once this returns. An entry that wrote no row leaves no line in the journal.
  void commit();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace plumule::logbook
