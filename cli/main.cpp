// The command: what was typed goes to `run`, its status to the shell.
#include <string>
#include <vector>

#include "cli/command.hpp"

int main(int count, char** words) {
  return plumule::cli::run(std::vector<std::string>(words + (count > 0 ? 1 : 0), words + count));
}
