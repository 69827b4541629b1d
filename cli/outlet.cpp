#include "cli/outlet.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <csignal>
#include <cstdio>

namespace plumule::cli {
namespace {

bool outlives = false;

bool goes_to_a_reader() {
  struct stat seen = {};
  return ::fstat(STDOUT_FILENO, &seen) == 0 && (S_ISFIFO(seen.st_mode) || S_ISSOCK(seen.st_mode));
}

}  // namespace

void occupy_closed_files() {
  for (int number = STDIN_FILENO; number <= STDERR_FILENO; ++number)
    if (::fcntl(number, F_GETFD) < 0)  // the lowest that is free is the one that is opened
      (void)::open("/dev/null", number == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

void outlive_the_reader() {
  if (std::signal(SIGPIPE, SIG_IGN) == SIG_DFL) outlives = true;
}

std::optional<std::string> output_trouble(bool to_be_told) {
  const bool arrived = std::fflush(stdout) == 0 && std::ferror(stdout) == 0;
  if (arrived) return std::nullopt;
  if ((::fcntl(STDOUT_FILENO, F_GETFL) & O_ACCMODE) == O_RDONLY) return "standard output is closed";
  if (!goes_to_a_reader()) return "is the disk full?";
  if (outlives && !to_be_told) {
    std::signal(SIGPIPE, SIG_DFL);
    (void)std::raise(SIGPIPE);
  }
  return "nobody reads it any more";
}

}  // namespace plumule::cli
