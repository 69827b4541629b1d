#include "logbook/processes.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <charconv>
#include <exception>
#include <iostream>

#include "logbook/record/counts.hpp"
#include "logbook/record/sowings.hpp"

namespace plumule::tests {

int number_typed(int arguments, char** typed, int which, int otherwise) {
  if (which >= arguments) return otherwise;
  const std::string text = typed[which];
  int number = 0;
  const auto [end, trouble] = std::from_chars(text.data(), text.data() + text.size(), number);
  return trouble == std::errc() && end == text.data() + text.size() && number > 0 ? number : 0;
}

int fail(const std::string& what) {
  std::cerr << what << '\n';
  return 1;
}

pid_t start(const std::function<int()>& work) {
  const pid_t process = ::fork();
  if (process != 0) return process;
  int ended = 99;
  try {
    ended = work();
  } catch (const std::exception& error) {
    fail(std::to_string(::getpid()) + ": " + error.what());
  }
  ::_exit(ended);
}

int outcome(pid_t process) {
  int status = 0;
  if (::waitpid(process, &status, 0) != process) return 98;
  return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

void log_count(const std::string& path, const std::string& label, std::int64_t minute,
               std::int64_t newly) {
  logbook::Logbook book = logbook::Logbook::open(path, logbook::Access::write);
  const records::Moment at = records::Moment::from_minutes(minute, true);
  logbook::Entry entry(book, "crowd", "count " + label, at.date);
  const records::Count count{at, {records::CountKind::newly, newly}, "", 0};
  if (record_count(entry, sowing_named(book, label), count) != logbook::Kept::saved)
    throw logbook::Unusable("a count was not saved");
  entry.say("counted");
  entry.commit();
}

}  // namespace plumule::tests
