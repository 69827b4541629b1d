// Processes that write to one logbook, for the programs that crowd and kill them.
#pragma once

#include <sys/types.h>

#include <cstdint>
#include <functional>
#include <string>

namespace plumule::tests {

// A whole number of 1 or more that was typed as an argument, or `otherwise` where none was; 0 for
// what is no such number.
int number_typed(int arguments, char** typed, int which, int otherwise);

// Says on stderr what went wrong; always 1.
int fail(const std::string& what);

// Runs `work` in a process of its own, which ends with what it returns. It prints what it throws.
pid_t start(const std::function<int()>& work);
// How it ended: 0 done, 1 to 127 what it returned, -9 killed.
int outcome(pid_t process);

// One count the way a command makes it: open, begin, save, commit. `minute` is minutes since 1970.
void log_count(const std::string& path, const std::string& label, std::int64_t minute,
               std::int64_t newly);

}  // namespace plumule::tests
