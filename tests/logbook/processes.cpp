#include "logbook/processes.hpp"

#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <exception>

#include "logbook/counts.hpp"
#include "logbook/sowings.hpp"

namespace plumule::tests {

pid_t start(const std::function<int()>& work) {
  const pid_t process = ::fork();
  if (process != 0) return process;
  int ended = 99;
  try {
    ended = work();
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%d: %s\n", ::getpid(), error.what());
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
